"""The service under load: how much of a request's time is physics, how long requests wait, workers, batches.

The ceiling is an endpoint without physics in the same server: it decodes the same requests and encodes equal
answers. Both are loaded in turn; ratios are taken round by round, so that they hold while the machine's speed
drifts.
"""

import statistics
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks import load
from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, Skipped, figure
from tests.benchmarks.processes import ROOT, highest_memory, python, spent

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


def measure(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """Share of the ceiling, waits, workers, and what the service holds and takes to start."""
    del folder
    bodies = {name: (_FOLDER / f"{name}.json").read_bytes() for name in QUOTES}
    with load.serving(beside_ceiling()) as server:
        for name, body in bodies.items():
            yield from _shares(server.port, name, body, effort)
        yield from _waits(server.port, bodies[QUOTES[0]], effort)
    yield from _workers(bodies[QUOTES[0]], effort)


def _shares(port: int, name: str, body: bytes, effort: Effort) -> Iterator[Figure]:
    real, bare = load.message("/v1/sizings", body), load.message(f"/no-physics/{name}", body)
    if load.answer(port, real) != load.answer(port, bare):
        raise RuntimeError(f"{name}: the two answers differ")
    load.saturated(port, real, 0.3 * effort.seconds)
    rates = [
        (load.saturated(port, real, effort.seconds), load.saturated(port, bare, effort.seconds))
        for _ in range(effort.runs)
    ]
    yield figure(PART, name, "sizings/s", [one for one, _ in rates])
    yield figure(PART, f"{name}: ceiling", "answers/s", [other for _, other in rates])
    yield figure(PART, f"{name}: share of the ceiling", "", [one / other for one, other in rates])


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
    sent = load.message("/v1/sizings", body)
    rates: dict[int, list[float]] = {1: [], 2: []}
    ready, memory = [], []
    for _ in range(effort.runs):
        for workers, found in rates.items():
            with load.serving(service(workers)) as server:
                load.saturated(server.port, sent, 0.3 * effort.seconds)
                found.append(load.saturated(server.port, sent, effort.seconds))
                if workers == 1:
                    ready.append(server.ready_after)
                    memory.append(highest_memory(server.process))
    for workers, found in rates.items():
        yield figure(PART, f"{workers} worker{'s' if workers > 1 else ''}", "sizings/s", found)
    gains = [two / one for one, two in zip(rates[1], rates[2], strict=True)]
    yield figure(PART, "2 workers over 1", "times", gains)
    yield figure(PART, "service ready after", "s", ready)
    yield figure(PART, "service with 1 worker: memory", "MiB", memory)


def measure_batches(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """Lines per second, for 8 candidates: one batch to 1 worker, as many as they take to 2 workers."""
    files = {detail: folder / f"{detail}.jsonl" for detail in ("compact", "full")}
    for lines, file in zip(effort.lines, files.values(), strict=True):
        spent(python("-m", "tests.benchmarks.registers", str(lines), str(file)))
    for workers, at_once in ((1, 1), (2, 2 * _BATCHES_OF_WORKER)):
        with load.serving(service(workers)) as server:
            for lines, (detail, file) in zip(effort.lines, files.items(), strict=True):
                path, body = f"/v1/sizing-batches?detail={detail}", file.read_bytes()
                load.batches(server.port, body, path, at_once)
                rates = [
                    at_once * lines / load.batches(server.port, body, path, at_once)
                    for _ in range(effort.runs)
                ]
                yield figure(BATCHES, f"{workers} worker(s), {detail}", "lines/s", rates)
            memory = highest_memory(server.process)
        yield figure(BATCHES, f"{workers} worker(s): memory", "MiB", [memory])
