"""The service as a command of its own, asked over raw sockets."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

LONGEST_START = 30.0
LONGEST_ANSWER = 15.0
HOST = "127.0.0.1"


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as found:
        found.bind((HOST, 0))
        port: int = found.getsockname()[1]
        return port


class Server:
    """A running server."""

    def __init__(self, port: int, process: "subprocess.Popen[bytes]") -> None:
        self.port = port
        self.process = process

    def connect(self) -> socket.socket:
        """A connection to it."""
        return socket.create_connection((HOST, self.port), timeout=LONGEST_ANSWER)

    def send(self, *pieces: bytes, pause: float = 0.0) -> bytes:
        """All that it answers to ``pieces`` of bytes until it closes the connection. Raises TimeoutError."""
        with self.connect() as connection:
            for piece in pieces:
                try:
                    connection.sendall(piece)
                except ConnectionError:
                    break  # it has heard enough
                time.sleep(pause)
            return b"".join(_received(connection))


def _received(connection: socket.socket) -> Iterator[bytes]:
    try:
        while piece := connection.recv(65_536):
            yield piece
    except ConnectionResetError:
        return  # it closed without reading all that came


def head(method: str, path: str, fields: Iterable[str] = ()) -> bytes:
    """The head of a request of HTTP/1.1."""
    lines = [f"{method} {path} HTTP/1.1", "Host: service.test", *fields]
    return "".join(f"{line}\r\n" for line in [*lines, ""]).encode("latin-1")


@contextmanager
def running(**settings: object) -> Iterator[Server]:
    """A server with these settings, ready."""
    port = free_port()
    environment = {f"UPSTROKE_{name.upper()}": str(value) for name, value in settings.items()}
    process = subprocess.Popen(  # noqa: S603 - the service under test
        [sys.executable, "-m", "upstroke_service", "--port", str(port)],
        env={**os.environ, "UPSTROKE_LOG_LEVEL": "error", **environment},
        stdout=subprocess.DEVNULL,
        start_new_session=True,
    )
    server = Server(port, process)
    try:
        deadline = time.monotonic() + LONGEST_START
        while not _ready(server):
            assert process.poll() is None, "the server ended before it answered"
            assert time.monotonic() < deadline, "the server did not become ready"
            time.sleep(0.1)
        yield server
    finally:
        # Its workers with it: they outlive a parent that is killed alone.
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def _ready(server: Server) -> bool:
    try:
        return server.send(head("GET", "/readyz", ["Connection: close"])).startswith(b"HTTP/1.1 200 ")
    except OSError:
        return False
