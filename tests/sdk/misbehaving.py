"""A real server on this machine that does on purpose what servers and networks do by accident."""

import socket
import struct
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread

Act = Callable[[socket.socket], None]
"""What it does with a connection once a whole request has arrived on it."""

NOBODY_WAITS_LONGER = 10.0


class Misbehaving:
    """Does one act for each connection in turn, and remembers the requests."""

    def __init__(self, listener: socket.socket, acts: list[Act]) -> None:
        self.url = f"http://127.0.0.1:{listener.getsockname()[1]}"
        self.requests: list[str] = []
        self._listener = listener
        self._acts = acts

    def serve(self) -> None:
        for act in self._acts:
            try:
                connection, _ = self._listener.accept()
            except OSError:
                return  # the test is over
            with connection:
                self.requests.append(_request(connection))
                act(connection)


def _request(connection: socket.socket) -> str:
    arrived = b""
    while b"\r\n\r\n" not in arrived and (piece := connection.recv(65_536)):
        arrived += piece
    return arrived.decode("latin-1")


@contextmanager
def misbehaving(*acts: Act) -> Iterator[Misbehaving]:
    listener = socket.create_server(("127.0.0.1", 0))
    server = Misbehaving(listener, list(acts))
    thread = Thread(target=server.serve, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        listener.shutdown(socket.SHUT_RDWR)
        listener.close()
        thread.join(NOBODY_WAITS_LONGER)


def says(status: int, body: bytes = b"", *fields: str) -> Act:
    """Answers."""
    head = [f"HTTP/1.1 {status} Invented", f"Content-Length: {len(body)}", "Connection: close", *fields]
    return sends("\r\n".join([*head, "", ""]).encode() + body)


def sends(raw: bytes) -> Act:
    """Sends these bytes, which need not be HTTP, and hangs up."""

    def act(connection: socket.socket) -> None:
        connection.sendall(raw)

    return act


def hangs_up(_: socket.socket) -> None:
    """Closes the connection without a word."""


def resets(connection: socket.socket) -> None:
    """Cuts the connection, as a process that is killed does."""
    connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))


def keeps_silent(until: Event) -> Act:
    """Says nothing for as long as the test takes."""

    def act(_: socket.socket) -> None:
        until.wait(NOBODY_WAITS_LONGER)

    return act


def stalls(until: Event) -> Act:
    """Begins an answer and does not go on."""

    def act(connection: socket.socket) -> None:
        connection.sendall(b"HTTP/1.1 200 OK\r\nContent-Length: 1000\r\n\r\n{")
        until.wait(NOBODY_WAITS_LONGER)

    return act
