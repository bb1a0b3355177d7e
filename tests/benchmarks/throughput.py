"""How much of a request's time is physics: sizings per second as a share of a no-physics endpoint's.

    .venv/bin/python -m tests.benchmarks.throughput

Both endpoints run in the same server (one worker) and are loaded in turn, over 16 connections kept
open; the ratio is taken round by round, so that it holds while the machine's speed drifts.
"""

import asyncio
import contextlib
import platform
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import msgspec
from tests.benchmarks import served

HOST, PORT = "127.0.0.1", 8497
CONNECTIONS = 16
SECONDS = 2.0
ROUNDS = 5
QUOTES = ("fits-easily", "pressure-head-decides", "suction-at-altitude")
ROOT = Path(__file__).parents[2]


def message(path: str, body: bytes) -> bytes:
    """An HTTP/1.1 request."""
    head = (
        f"POST {path} HTTP/1.1\r\nHost: {HOST}:{PORT}\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body)}\r\n\r\n"
    )
    return head.encode() + body


async def worker(sent: bytes, until: float) -> int:
    """Send one request after another over one connection until a time; how many were answered."""
    reader, writer = await asyncio.open_connection(HOST, PORT)
    answered = 0
    while time.perf_counter() < until:
        writer.write(sent)
        head = await reader.readuntil(b"\r\n\r\n")
        if not head.startswith(b"HTTP/1.1 200"):
            raise RuntimeError(head.decode())
        length = next(line for line in head.lower().split(b"\r\n") if line.startswith(b"content-length:"))
        await reader.readexactly(int(length.split(b":")[1]))
        answered += 1
    writer.close()
    return answered


async def load(sent: bytes) -> float:
    """Requests per second."""
    started = time.perf_counter()
    counts = await asyncio.gather(*(worker(sent, started + SECONDS) for _ in range(CONNECTIONS)))
    return sum(counts) / (time.perf_counter() - started)


@contextlib.contextmanager
def server() -> Iterator[None]:
    """The served benchmark application, ready."""
    command = [
        sys.executable, "-m", "granian", "--interface", "asgi", "--factory", "--host", HOST, "--port", str(PORT),
        "--workers", "1", "--no-access-log", "--log-level", "warning", "tests.benchmarks.served:application",
    ]  # fmt: skip
    process = subprocess.Popen(command, cwd=ROOT)
    try:
        asyncio.run(ready())
        yield
    finally:
        process.terminate()
        process.wait(timeout=10)


async def ready() -> None:
    """Wait until the port answers."""
    for _ in range(200):
        with contextlib.suppress(OSError):
            _, writer = await asyncio.open_connection(HOST, PORT)
            writer.close()
            return
        await asyncio.sleep(0.1)
    raise TimeoutError("the server did not start")


def main() -> None:
    """Measure and print."""
    print(f"{platform.platform()}, Python {platform.python_version()}, {CONNECTIONS} connections, one worker")
    print(
        f"{'quote':24}{'answer kB':>10}{'sizings/s':>11}{'no physics/s':>14}{'share: median (min-max)':>26}"
    )
    with server():
        for name in QUOTES:
            body = msgspec.json.encode(served.quote(name))
            size = len(msgspec.json.encode(served.answer(name))) / 1000.0
            real, bare = message("/v1/sizings", body), message(f"/no-physics/{name}", body)
            asyncio.run(load(real))
            rates = [(asyncio.run(load(real)), asyncio.run(load(bare))) for _ in range(ROUNDS)]
            shares = sorted(one / other for one, other in rates)
            middle = statistics.median(shares)
            print(
                f"{name:24}{size:>10.1f}{statistics.median(r for r, _ in rates):>11.0f}"
                f"{statistics.median(b for _, b in rates):>14.0f}{middle:>13.3f} ({shares[0]:.3f}-{shares[-1]:.3f})"
            )


if __name__ == "__main__":
    main()
