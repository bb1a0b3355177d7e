"""Measure all of it: ``python -m tests.benchmarks [--quick] [--json FILE] [--part PART]``."""

import argparse
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import msgspec
from tests.benchmarks import instead, serving, starting, tables
from tests.benchmarks.effort import FULL, QUICK, Effort
from tests.benchmarks.figures import Figure, Machine, Report, Skipped, machine, today

Measure = Callable[[Effort, Path], Iterator[Figure | Skipped]]

PARTS: dict[str, Measure] = {
    starting.PART: lambda effort, _: starting.measure(effort),
    serving.PART: serving.measure,
    serving.BATCHES: serving.measure_batches,
    tables.PART: tables.measure,
    instead.PART: instead.measure,
}


def main() -> None:
    """Measure, print, write."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks",
        description="How fast it is, part by part; the machine should have nothing else to do.",
    )
    parser.add_argument("--quick", action="store_true", help="smaller and fewer runs: a few minutes")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures there too")
    parser.add_argument(
        "--part", action="append", choices=sorted(PARTS), help="this part alone; may be repeated"
    )
    options = parser.parse_args()
    report = measured(QUICK if options.quick else FULL, options.part or list(PARTS), quick=options.quick)
    if options.json:
        text = msgspec.json.format(msgspec.json.encode(report), indent=1)
        options.json.write_bytes(text + b"\n")


def measured(effort: Effort, parts: list[str], *, quick: bool) -> Report:
    """Measure some parts, and print each figure as it comes."""
    here = machine()
    report = Report(today(), here, quick, os.getloadavg()[0], 0.0, [], [])
    print(_heading(here))
    for part in parts:
        print(f"\n{part:44}{'median':>12}{'lowest':>12}{'highest':>12}")
        with tempfile.TemporaryDirectory(prefix="upstroke-benchmark-") as folder:
            for found in PARTS[part](effort, Path(folder)):
                print(line(found), flush=True)
                (report.figures if isinstance(found, Figure) else report.skipped).append(found)  # type: ignore[arg-type]
    report.load_after = os.getloadavg()[0]
    print(f"\nload of the machine: {report.load_before:.1f} before, {report.load_after:.1f} after")
    return report


def _heading(here: Machine) -> str:
    packages = ", ".join(f"{name} {version}" for name, version in here.packages.items())
    return (
        f"{here.processor}, {here.cores} cores, {here.memory_gib} GiB, {here.platform}\n"
        f"Python {here.python}, {packages}"
    )


def line(found: Figure | Skipped) -> str:
    """A line of the printed table."""
    if isinstance(found, Skipped):
        return f"  {found.name:42} left out: {found.reason}"
    numbers = "".join(f"{_shown(value):>12}" for value in (found.median, found.lowest, found.highest))
    return f"  {found.name:42}{numbers}  {found.unit}"


def _shown(value: float) -> str:
    return f"{value:,.0f}" if abs(value) >= 1000.0 else f"{value:.3g}"


if __name__ == "__main__":
    main()
