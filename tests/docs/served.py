"""The service as the documents say to start it, in a process of its own."""

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

DOCUMENTED = "http://127.0.0.1:8080"
SECONDS_TO_START = 30.0


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@contextlib.contextmanager
def running(command: str, url: str, folder: Path, **environment: str) -> Iterator[None]:
    """Run a shell ``command`` that serves at ``url`` until the block ends."""
    surroundings = {**os.environ, "no_proxy": "127.0.0.1", **environment}
    with subprocess.Popen(  # noqa: S603 - the documents' own commands
        ["bash", "-c", command],  # noqa: S607 - found as a reader's shell finds it
        cwd=folder,
        env=surroundings,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    ) as process:
        try:
            _wait_until_ready(process, url)
            yield
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(process.pid, signal.SIGTERM)
            process.wait(timeout=10)


def _wait_until_ready(process: subprocess.Popen[bytes], url: str) -> None:
    deadline = time.monotonic() + SECONDS_TO_START
    # One client: to make one reads all certificates, which costs more than the service's answer.
    with httpx.Client(timeout=2.0, trust_env=False) as client:
        while time.monotonic() < deadline:
            if process.poll() is not None:
                raise RuntimeError(f"the service ended with status {process.returncode}")
            with contextlib.suppress(httpx.TransportError):
                client.get(f"{url}/readyz").raise_for_status()
                return
            time.sleep(0.1)
    raise TimeoutError(f"nothing was ready at {url} within {SECONDS_TO_START:g} seconds")


def printed(command: list[str], folder: Path) -> str:
    """What a command prints; it has to succeed."""
    done = subprocess.run(  # noqa: S603 - the documents' own commands
        command,
        cwd=folder,
        env={**os.environ, "no_proxy": "127.0.0.1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def python(*arguments: str) -> list[str]:
    """A command of the Python that runs the tests."""
    return [sys.executable, *arguments]
