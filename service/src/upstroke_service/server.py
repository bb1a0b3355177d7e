"""The ASGI server, which announces its end before it stops."""

import multiprocessing
import os
import signal
import threading
from typing import Any

from granian.server import MPServer

ANNOUNCED = signal.SIGUSR1
"""Tells a worker process that the end is near."""


class AnnouncingServer(MPServer):
    """On SIGTERM it tells its workers, goes on for a while, and then stops; a second signal stops it at once."""

    def __init__(self, *arguments: Any, drain_seconds: float, **options: Any) -> None:
        """``drain_seconds`` are for proxies to notice that the service is not ready any more."""
        super().__init__(*arguments, **options)
        self._drain_seconds = drain_seconds
        self._announced = False
        # A worker that is still starting must survive what it can't yet understand.
        signal.signal(ANNOUNCED, signal.SIG_IGN)

    def signal_handler_interrupt(self, *arguments: Any, **options: Any) -> None:
        """What the server does on SIGTERM and SIGINT."""
        if self._announced or arguments[0] != signal.SIGTERM:
            super().signal_handler_interrupt(*arguments, **options)  # type: ignore[no-untyped-call]
            return
        self._announced = True
        for worker in multiprocessing.active_children():
            if worker.pid is not None:
                os.kill(worker.pid, ANNOUNCED)
        stopping = threading.Timer(self._drain_seconds, super().signal_handler_interrupt)
        stopping.daemon = True
        stopping.start()
