"""What a whole process takes, from its start to its end."""

import os
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]


class Spent(NamedTuple):
    """Seconds that passed, seconds of a core, and the most memory that was held, in MiB.

    The machine may have other work: what a program costs is what its cores did.
    """

    seconds: float
    core_seconds: float
    memory: float


def spent(command: Sequence[str], output: Path | None = None) -> Spent:
    """Run a command, with those that it starts, until it ends well. Raises RuntimeError where it does not."""
    started = time.perf_counter()
    with (output or Path(os.devnull)).open("wb") as file:
        process = subprocess.Popen(command, cwd=ROOT, stdout=file, stderr=subprocess.DEVNULL)
        _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise RuntimeError(f"{' '.join(command)} ended with {process.returncode}")
    return Spent(time.perf_counter() - started, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0)


def python(*arguments: str) -> list[str]:
    """A command of this Python."""
    return [sys.executable, *arguments]


def family(process: int) -> list[int]:
    """A process and all that it started and that still run."""
    children = Path(f"/proc/{process}/task/{process}/children").read_text(encoding="ascii").split()
    return [process, *(one for child in children for one in family(int(child)))]


def highest_memory(process: int) -> float:
    """The most memory in MiB that a process and those that it started have held, each at its own time."""
    status = "".join(Path(f"/proc/{one}/status").read_text(encoding="ascii") for one in family(process))
    return sum(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM:")) / 1024.0


def core_seconds(process: int) -> float:
    """Seconds of a core that a process and those that it started have taken so far."""
    ticks = 0
    for one in family(process):
        after_name = Path(f"/proc/{one}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
        ticks += int(after_name[11]) + int(after_name[12])
    return ticks / os.sysconf("SC_CLK_TCK")
