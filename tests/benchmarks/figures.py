"""What is measured, and on what."""

import datetime as dt
import importlib.metadata
import os
import platform
import statistics
from collections.abc import Sequence
from pathlib import Path

import msgspec


class Figure(msgspec.Struct, frozen=True):
    """A measured number: the median of some runs, and the least and greatest of them."""

    part: str
    name: str
    unit: str
    median: float
    lowest: float
    highest: float
    runs: int


class Skipped(msgspec.Struct, frozen=True):
    """What was not measured, and why."""

    part: str
    name: str
    reason: str


class Machine(msgspec.Struct, frozen=True):
    """What it was measured on, without its name."""

    processor: str
    cores: int
    memory_gib: float
    platform: str
    python: str
    packages: dict[str, str]


class Report(msgspec.Struct):
    """All of it."""

    date: str
    machine: Machine
    quick: bool
    load_before: float
    load_after: float
    figures: list[Figure]
    skipped: list[Skipped]


def figure(part: str, name: str, unit: str, values: Sequence[float]) -> Figure:
    """The figure of some runs."""
    return Figure(part, name, unit, statistics.median(values), min(values), max(values), len(values))


def today() -> str:
    """The date, in UTC."""
    return dt.datetime.now(dt.UTC).date().isoformat()


def machine() -> Machine:
    """This machine."""
    models = [
        line.partition(":")[2].strip()
        for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
        if line.startswith("model name")
    ]
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return Machine(
        processor=models[0] if models else platform.machine(),
        cores=os.cpu_count() or 1,
        memory_gib=round(memory, 1),
        platform=f"{platform.system()} {platform.machine()}, {' '.join(platform.libc_ver())}",
        python=platform.python_version(),
        packages={name: importlib.metadata.version(name) for name in ("numpy", "pyarrow", "granian", "pint")},
    )
