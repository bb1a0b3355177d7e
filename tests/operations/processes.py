"""The service as processes of its own, with what they write."""

import contextlib
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx

SECONDS_TO_START = 60.0
SECONDS_TO_END = 60.0


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class Process:
    """A running service."""

    def __init__(self, log: Path, port: int, *arguments: str, **environment: str) -> None:
        """It writes to ``log`` and listens on ``port``."""
        self.url = f"http://127.0.0.1:{port}"
        self.log = log
        with log.open("wb") as output:
            self.inner = subprocess.Popen(  # noqa: S603 - the service under test
                [sys.executable, "-m", "upstroke_service", "--port", str(port), *arguments],
                env={**os.environ, **environment},
                stdout=output,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )

    def wait_until_ready(self) -> None:
        """Return once it is ready. Raises TimeoutError, or RuntimeError where it has ended."""
        deadline = time.monotonic() + SECONDS_TO_START
        # One client: to make one reads all certificates, which costs more than the service's answer.
        with httpx.Client(timeout=2.0, trust_env=False) as client:
            while time.monotonic() < deadline:
                if self.inner.poll() is not None:
                    raise RuntimeError(self.log.read_text("utf-8"))
                with contextlib.suppress(httpx.HTTPError):
                    client.get(f"{self.url}/readyz").raise_for_status()
                    return
                time.sleep(0.05)
        raise TimeoutError(self.log.read_text("utf-8"))

    def tell_to_end(self) -> None:
        """Send SIGTERM to the process that was started, as a supervisor does."""
        self.inner.send_signal(signal.SIGTERM)

    def end(self) -> int:
        """Its status, once it has ended."""
        return self.inner.wait(SECONDS_TO_END)

    def kill(self) -> None:
        """End it and its workers at once."""
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.inner.pid, signal.SIGKILL)
        self.inner.wait(SECONDS_TO_END)


@contextlib.contextmanager
def serving(folder: Path, *arguments: str, **environment: str) -> Iterator[Process]:
    """A service that is ready, until the block ends."""
    process = Process(folder / "service.log", free_port(), *arguments, **environment)
    try:
        process.wait_until_ready()
        yield process
    finally:
        process.kill()
