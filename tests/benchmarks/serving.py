"""The service under load: how much of a request's time is physics, how long requests wait, workers, batches.

The ceiling is an endpoint without physics in the same server: it decodes the same requests and encodes equal
answers. Both are loaded in turn; ratios are taken round by round, so that they hold while the machine's speed
drifts.
"""

import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks import load
from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, Skipped, figure
from tests.benchmarks.processes import ROOT, core_seconds, highest_memory, python, spent
from tests.benchmarks.registers import DEMANDING, EIGHT

PART = "requests"
BATCHES = "batches"
QUOTES = ("fits-easily", "pressure-head-decides", "suction-at-altitude")
_BATCHES_OF_WORKER = 2
_FOLDER = ROOT / "service/src/upstroke_service/demo/quotes"


def service(workers: int) -> list[str]:
    """The command that starts the service."""
    return python("-m", "upstroke_service", "--host", load.HOST, "--workers", str(workers))


def beside_ceiling() -> list[str]:
    """The command that starts it with one worker and the endpoint without physics beside it."""
    return python(
        "-m", "granian", "--interface", "asgi", "--factory", "--host", load.HOST, "--workers", "1", "--http", "1",
        "--no-ws", "--no-access-log", "--log-level", "warning", "tests.benchmarks.served:application",
    )  # fmt: skip


class _Rate(NamedTuple):
    """Requests per second, and milliseconds of a core that the server takes for each."""

    per_second: float
    core_milliseconds: float


def _saturated(server: load.Server, sent: bytes, seconds: float) -> _Rate:
    before, started = core_seconds(server.process), time.perf_counter()
    rate = load.saturated(server.port, sent, seconds)
    answered = rate * (time.perf_counter() - started)
    return _Rate(rate, 1e3 * (core_seconds(server.process) - before) / answered)


def measure(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """Share of the ceiling, waits, workers, and what the service holds and takes to start."""
    del folder
    bodies = {name: (_FOLDER / f"{name}.json").read_bytes() for name in QUOTES}
    with load.serving(beside_ceiling()) as server:
        for name, body in bodies.items():
            yield from _shares(server, name, body, effort)
        yield from _waits(server.port, bodies[QUOTES[0]], effort)
    yield from _workers(bodies[QUOTES[0]], effort)


def _shares(server: load.Server, name: str, body: bytes, effort: Effort) -> Iterator[Figure]:
    real, bare = load.message("/v1/sizings", body), load.message(f"/no-physics/{name}", body)
    if load.answer(server.port, real) != load.answer(server.port, bare):
        raise RuntimeError(f"{name}: the two answers differ")
    load.saturated(server.port, real, 0.3 * effort.seconds)
    runs = [
        (_saturated(server, real, effort.seconds), _saturated(server, bare, effort.seconds))
        for _ in range(effort.runs)
    ]
    yield figure(PART, name, "sizings/s", [one.per_second for one, _ in runs])
    yield figure(PART, f"{name}: ceiling", "answers/s", [other.per_second for _, other in runs])
    shares = [one.per_second / other.per_second for one, other in runs]
    yield figure(PART, f"{name}: share of the ceiling", "", shares)
    yield figure(PART, f"{name}: a sizing", "ms of a core", [one.core_milliseconds for one, _ in runs])
    yield figure(PART, f"{name}: ceiling", "ms of a core", [other.core_milliseconds for _, other in runs])
    shares = [other.core_milliseconds / one.core_milliseconds for one, other in runs]
    yield figure(PART, f"{name}: share by core time", "", shares)


def _waits(port: int, body: bytes, effort: Effort) -> Iterator[Figure]:
    """At half of the rate at which each is saturated."""
    sent = {
        "sizing": load.message("/v1/sizings", body),
        "ceiling": load.message(f"/no-physics/{QUOTES[0]}", body),
    }
    waits: dict[str, list[list[float]]] = {name: [] for name in sent}
    for _ in range(effort.runs):
        for name, request in sent.items():
            rate = 0.5 * load.saturated(port, request, 0.5 * effort.seconds)
            waits[name].append(load.paced(port, request, rate, 2.0 * effort.seconds))
    for place, percent in ((49, 50), (98, 99)):
        found = {
            name: [1e3 * statistics.quantiles(run, n=100)[place] for run in runs]
            for name, runs in waits.items()
        }
        for name, values in found.items():
            yield figure(PART, f"{name}: p{percent} at half of saturation", "ms", values)
        ratios = [one / other for one, other in zip(found["sizing"], found["ceiling"], strict=True)]
        yield figure(PART, f"p{percent} over the ceiling's", "times", ratios)


def _workers(body: bytes, effort: Effort) -> Iterator[Figure]:
    """One worker and two, each in a server of its own, in turn."""
    sent = load.message("/v1/sizings", body)
    with load.serving(service(1)) as one, load.serving(service(2)) as two:
        for server in (one, two):
            load.saturated(server.port, sent, 0.3 * effort.seconds)
        rates = [
            tuple(load.saturated(server.port, sent, effort.seconds) for server in (one, two))
            for _ in range(effort.runs)
        ]
        yield figure(PART, "1 worker", "sizings/s", [alone for alone, _ in rates])
        yield figure(PART, "2 workers", "sizings/s", [both for _, both in rates])
        yield figure(PART, "2 workers over 1", "times", [both / alone for alone, both in rates])
        yield figure(PART, "1 worker: memory", "MiB", [highest_memory(one.process)])
        yield figure(PART, "2 workers: memory", "MiB", [highest_memory(two.process)])
        yield figure(PART, "1 worker: ready after", "s", [one.ready_after])
        yield figure(PART, "2 workers: ready after", "s", [two.ready_after])


def measure_batches(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """Lines per second, for 8 candidates: one batch to 1 worker, as many as they take to 2 workers."""
    short, full = effort.lines
    batches = {
        "compact": (short, EIGHT, "compact"),
        "full": (full, EIGHT, "full"),
        "full, weep holes, people tire": (full, DEMANDING, "full"),
    }
    for name, (lines, template, _) in batches.items():
        spent(python("-m", "tests.benchmarks.registers", str(lines), str(folder / f"{name}.jsonl"), template))
    for workers, at_once in ((1, 1), (2, 2 * _BATCHES_OF_WORKER)):
        served = f"{workers} worker{'s' if workers > 1 else ''}"
        with load.serving(service(workers)) as server:
            for name, (lines, _, detail) in batches.items():
                path = f"/v1/sizing-batches?detail={detail}"
                body = (folder / f"{name}.jsonl").read_bytes()
                load.batches(server.port, body, path, at_once)
                before, sent = core_seconds(server.process), at_once * lines
                rates = [sent / load.batches(server.port, body, path, at_once) for _ in range(effort.runs)]
                spent_of_core = core_seconds(server.process) - before
                yield figure(BATCHES, f"{served}, {name}", "lines/s", rates)
                yield figure(
                    BATCHES, f"{served}, {name}", "lines/s of a core", [effort.runs * sent / spent_of_core]
                )
            yield figure(BATCHES, f"{served}: memory", "MiB", [highest_memory(server.process)])
