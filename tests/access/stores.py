"""A real store that speaks the Redis protocol, for the length of a test."""

import shutil
import signal
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager

from tests.docs.served import free_port

PROGRAM = shutil.which("valkey-server") or shutil.which("redis-server")
NEEDED = "needs valkey-server or redis-server, as from: apt-get install redis-server"


class Store:
    """A store on a port of its own, which can be stopped, halted and started again."""

    def __init__(self) -> None:
        self.port = free_port()
        self.url = f"redis://127.0.0.1:{self.port}/0"
        self._process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start it, empty, and wait until it takes connections."""
        assert PROGRAM
        options = ["--port", str(self.port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no"]
        self._process = subprocess.Popen([PROGRAM, *options], stdout=subprocess.DEVNULL)  # noqa: S603 - found above
        for _ in range(100):
            try:
                socket.create_connection(("127.0.0.1", self.port), 1.0).close()
            except OSError:
                time.sleep(0.05)
            else:
                return
        raise TimeoutError("the store did not start")

    def stop(self) -> None:
        """Kill it; what it held is lost."""
        if self._process:
            self._process.kill()
            self._process.wait()
            self._process = None

    @contextmanager
    def halted(self) -> Iterator[None]:
        """It keeps its connections and answers nothing."""
        assert self._process
        self._process.send_signal(signal.SIGSTOP)
        try:
            yield
        finally:
            self._process.send_signal(signal.SIGCONT)
