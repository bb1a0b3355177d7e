"""The command that sizes tables: rows per second of a core by candidates, and how time and memory grow with rows."""

import statistics
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, Skipped, figure
from tests.benchmarks.processes import Spent, python, spent
from tests.benchmarks.registers import EIGHT, template_file

PART = "tables"


def write_register(folder: Path, rows: int) -> Path:
    """A register of so many wells, with the templates beside it."""
    file = folder / f"wells-{rows}.parquet"
    if not file.exists():
        spent(python("-m", "tests.benchmarks.registers", str(rows), str(file)))
    return file


def sized(register: Path, template: str, output: Path) -> Spent:
    """What the command takes for a register with the template of this name, from its start to its end."""
    shared = template_file(register, template)
    return spent(
        python("-m", "upstroke_service.tables", str(register), str(output), "--template", str(shared))
    )


def rates_of(runs: Sequence[tuple[Spent, Spent]], rows: int) -> list[float]:
    """Rows per second of a core of each run, beyond what it takes to start, which one row was measured for."""
    start = statistics.median(small.core_seconds for small, _ in runs)
    return [rows / max(large.core_seconds - start, 1e-3) for _, large in runs]


def measure(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """By candidates, and by rows."""
    one, output = write_register(folder, 1), folder / "sized.parquet"
    runs: dict[str, list[tuple[Spent, Spent]]] = {name: [] for name in effort.rows}
    for _ in range(effort.runs):
        for name, rows in effort.rows.items():
            table = write_register(folder, rows + 1)
            runs[name].append((sized(one, name, output), sized(table, name, output)))
    for name, found in runs.items():
        yield figure(PART, name, "rows/s of a core", rates_of(found, effort.rows[name]))
    starts = [small for found in runs.values() for small, _ in found]
    yield figure(PART, "one row: the whole process", "s of a core", [one.core_seconds for one in starts])
    start = statistics.median(small.core_seconds for small in starts)
    yield from _growth(effort, folder, start)


def _growth(effort: Effort, folder: Path, start: float) -> Iterator[Figure | Skipped]:
    """Whole processes for 8 candidates; of the largest size that fits into the time, where not all do."""
    output, per_row = folder / "sized.parquet", 0.0
    for rows in effort.growth:
        fitting = rows
        if rows * per_row > effort.longest:
            fitting = int(effort.longest / per_row) // 10_000 * 10_000
            reason = f"would take {rows * per_row:,.0f} s and so longer than {effort.longest:.0f} s"
            yield Skipped(PART, f"{rows:,} rows", f"{reason}; {fitting:,} rows in its place")
        if fitting <= effort.growth[0] and fitting < rows:
            continue
        register = write_register(folder, fitting)
        repeated = effort.runs if fitting * per_row * effort.runs <= effort.longest else 1
        runs = [sized(register, EIGHT, output) for _ in range(repeated)]
        per_row = min(one.seconds for one in runs) / fitting
        name = f"{fitting:,} rows"
        yield figure(PART, f"{name}: the whole process", "s", [one.seconds for one in runs])
        whole = statistics.median(one.core_seconds for one in runs)
        if whole > 2.0 * start:  # else the start, which varies, hides what a row takes
            beyond = [1e6 * (one.core_seconds - start) / fitting for one in runs]
            yield figure(PART, f"{name}: a row, beyond the start", "µs of a core", beyond)
        yield figure(PART, f"{name}: memory", "MiB", [one.memory for one in runs])
        register.unlink()
