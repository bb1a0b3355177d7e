"""Sending a mixture of requests to a real worker, and keeping count."""

import asyncio
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tests.endurance.inputs import inputs
from tests.service.running import HOST, LONGEST_ANSWER, running

CONNECTIONS = 4
STAGES = 10
MIB = 1_048_576


@dataclass
class Report:
    """What came of the requests."""

    tried: int = 0
    statuses: Counter[int] = field(default_factory=Counter)
    unanswered: list[bytes] = field(default_factory=list)
    memory: list[float] = field(default_factory=list)
    seconds: float = 0.0

    @property
    def server_errors(self) -> int:
        """Answers that blame the service."""
        return sum(count for status, count in self.statuses.items() if status >= 500)


def endure(count: int, seed: int, show: Callable[[str], object]) -> Report:
    """Send ``count`` requests to a worker of its own, and tell after each tenth how it stands."""
    report = Report()
    requests = inputs(seed)
    began = time.monotonic()
    with running() as server:
        for stage in range(1, STAGES + 1):
            upto = count * stage // STAGES
            asyncio.run(_send(server.port, requests, upto, report))
            report.memory.append(_memory(server.process.pid))
            report.seconds = time.monotonic() - began
            show(f"{report.tried} inputs, {report.seconds:.0f} s, {report.memory[-1]:.1f} MiB")
    return report


async def _send(port: int, requests: Iterator[bytes], upto: int, report: Report) -> None:
    await asyncio.gather(*(_converse(port, requests, upto, report) for _ in range(CONNECTIONS)))


async def _converse(port: int, requests: Iterator[bytes], upto: int, report: Report) -> None:
    """Send one request after another, over a new connection whenever the last one was closed."""
    streams: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None
    while report.tried < upto:
        report.tried += 1
        sent = next(requests)
        reader, writer = streams = streams or await asyncio.open_connection(HOST, port)
        try:
            async with asyncio.timeout(LONGEST_ANSWER):
                status, stays = await _answer(reader, writer, sent)
            report.statuses[status] += 1
        except (TimeoutError, ConnectionError, asyncio.IncompleteReadError):
            report.unanswered.append(sent[:200])
            stays = False
        if not stays:
            writer.close()
            streams = None
    if streams is not None:
        streams[1].close()


async def _answer(
    reader: asyncio.StreamReader, writer: asyncio.StreamWriter, sent: bytes
) -> tuple[int, bool]:
    """Status of the answer, and whether the connection stays open."""
    writer.write(sent)
    top = (await reader.readuntil(b"\r\n\r\n")).lower()
    fields = dict(line.split(b": ", 1) for line in top.split(b"\r\n")[1:] if b": " in line)
    await reader.readexactly(int(fields.get(b"content-length", b"0")))
    return int(top.split(b" ", 2)[1]), fields.get(b"connection") != b"close"


def _memory(pid: int) -> float:
    """MiB that a process and its children hold."""
    held = int(Path(f"/proc/{pid}/statm").read_text("ascii").split()[1]) * 4096 / MIB
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text("ascii").split()
    return held + sum(_memory(int(child)) for child in children)
