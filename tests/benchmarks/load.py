"""Load on a server, over connections that are kept open."""

import asyncio
import contextlib
import os
import random
import signal
import socket
import subprocess
import time
from collections.abc import Generator, Sequence
from typing import NamedTuple

from tests.benchmarks.processes import ROOT

HOST = "127.0.0.1"
CONNECTIONS = 16
_PATIENT = {"UPSTROKE_MOST_WAITING": "10000", "UPSTROKE_LONGEST_WAIT": "60"}
"""Settings of a service that turns no request away, however slow the machine is."""


class Server(NamedTuple):
    """A server that answers: its port, its process, and after how many seconds it was ready."""

    port: int
    process: int
    ready_after: float


@contextlib.contextmanager
def serving(command: Sequence[str]) -> Generator[Server]:
    """The server that a command starts, ready, as long as this lasts; ``--port`` is added to the command."""
    with socket.socket() as free:
        free.bind((HOST, 0))
        port: int = free.getsockname()[1]
    started = time.perf_counter()
    process = subprocess.Popen(
        [*command, "--port", str(port)], cwd=ROOT, env=os.environ | _PATIENT, stdout=subprocess.DEVNULL
    )
    try:
        asyncio.run(_ready(port))
        yield Server(port, process.pid, time.perf_counter() - started)
    finally:
        for _ in range(2):  # the second one skips the wait for proxies to notice
            os.kill(process.pid, signal.SIGTERM)
            time.sleep(0.2)
        process.wait(timeout=30)


async def _ready(port: int) -> None:
    for _ in range(3000):
        with contextlib.suppress(OSError, asyncio.IncompleteReadError):
            reader, writer = await asyncio.open_connection(HOST, port)
            writer.write(f"GET /readyz HTTP/1.1\r\nHost: {HOST}\r\nConnection: close\r\n\r\n".encode())
            answered = (await reader.readuntil(b"\r\n")).startswith(b"HTTP/1.1 200")
            writer.close()
            if answered:
                return
        await asyncio.sleep(0.01)
    raise TimeoutError("the server did not start")


def message(path: str, body: bytes, media_type: str = "application/json") -> bytes:
    """An HTTP/1.1 request."""
    head = f"POST {path} HTTP/1.1\r\nHost: {HOST}\r\nContent-Type: {media_type}\r\nContent-Length: {len(body)}\r\n\r\n"
    return head.encode() + body


class _Connection(NamedTuple):
    reader: asyncio.StreamReader
    writer: asyncio.StreamWriter

    async def ask(self, sent: bytes) -> bytes:
        """Send, and wait for the whole answer. Raises RuntimeError where it is not a 200."""
        self.writer.write(sent)
        head = await self.reader.readuntil(b"\r\n\r\n")
        if not head.startswith(b"HTTP/1.1 200"):
            raise RuntimeError(head.decode())
        length = next(line for line in head.lower().split(b"\r\n") if line.startswith(b"content-length:"))
        return await self.reader.readexactly(int(length.split(b":")[1]))


async def _connect(port: int) -> _Connection:
    return _Connection(*await asyncio.open_connection(HOST, port))


def answer(port: int, sent: bytes) -> bytes:
    """The body of the answer to one request."""

    async def ask() -> bytes:
        connection = await _connect(port)
        body = await connection.ask(sent)
        connection.writer.close()
        return body

    return asyncio.run(ask())


def saturated(port: int, sent: bytes, seconds: float) -> float:
    """Requests per second over CONNECTIONS, on each of which one follows the other."""

    async def worker(until: float) -> int:
        connection, answered = await _connect(port), 0
        while time.perf_counter() < until:
            await connection.ask(sent)
            answered += 1
        connection.writer.close()
        return answered

    async def load() -> float:
        started = time.perf_counter()
        counts = await asyncio.gather(*(worker(started + seconds) for _ in range(CONNECTIONS)))
        return sum(counts) / (time.perf_counter() - started)

    return asyncio.run(load())


def paced(port: int, sent: bytes, rate: float, seconds: float) -> list[float]:
    """Seconds until each request was answered, where so many a second come at random, one not waiting for another.

    Counted from when the request should have been sent, so that no wait is hidden.
    """
    chance = random.Random(7)  # noqa: S311 - the same arrivals each time

    async def ask(idle: list[_Connection], due: float) -> float:
        connection = idle.pop() if idle else await _connect(port)
        await connection.ask(sent)
        idle.append(connection)
        return time.perf_counter() - due

    async def load() -> list[float]:
        idle = [await _connect(port) for _ in range(CONNECTIONS)]
        asked: list[asyncio.Task[float]] = []
        due = started = time.perf_counter()
        while due < started + seconds:
            due += chance.expovariate(rate)
            await asyncio.sleep(max(due - time.perf_counter(), 0.0))
            asked.append(asyncio.create_task(ask(idle, due)))
        answered = await asyncio.gather(*asked)
        for connection in idle:
            connection.writer.close()
        return answered

    return asyncio.run(load())


def batches(port: int, body: bytes, path: str, at_once: int) -> float:
    """Seconds until so many batches, sent at the same time, are answered; one that is refused is sent again."""
    sent = message(path, body, "application/x-ndjson").replace(
        b"\r\n\r\n", b"\r\nConnection: close\r\n\r\n", 1
    )

    async def send(writer: asyncio.StreamWriter) -> None:
        with contextlib.suppress(ConnectionError):  # a refusal comes before all is sent
            writer.write(sent)
            await writer.drain()

    async def one() -> None:
        while True:
            reader, writer = await asyncio.open_connection(HOST, port)
            sending = asyncio.create_task(send(writer))
            status, last = await reader.readline(), b""
            while piece := await reader.read(1 << 20):
                last = (last + piece)[-4096:]
            await sending
            writer.close()
            if status.startswith(b"HTTP/1.1 200"):
                if b'"refused":0' not in last:
                    raise RuntimeError(last.decode(errors="replace"))
                return
            await asyncio.sleep(0.02)

    async def load() -> float:
        started = time.perf_counter()
        await asyncio.gather(*(one() for _ in range(at_once)))
        return time.perf_counter() - started

    return asyncio.run(load())
