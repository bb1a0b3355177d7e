"""The table command against what a user would do instead: a loop over quantities, and a workbook.

All of them size the same wells of a register for one and the same cylinder, in processes of their own, in turn.
They must find the same: head, force, water, strokes and time of each well, within TOLERANCE.
"""

import csv
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.benchmarks import workbook
from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, Skipped, figure
from tests.benchmarks.processes import Spent, python, spent
from tests.benchmarks.registers import ONE
from tests.benchmarks.tables import rates_of, sized, write_register

PART = "instead"
RATED_LIFT = 400.0
TOLERANCE = 2e-3
"""Relative. The loop and the workbook step through a fill in 20 steps, and go straight between friction at two
cadences, which is most of it; the service integrates, and goes through three."""

_COLUMNS = ("lift_margin [ft]", "hand_force [lbf]", "water [gal]", "strokes", "time [min]")
Run = Callable[[Path, int], Spent]


def measure(effort: Effort, folder: Path) -> Iterator[Figure | Skipped]:
    """Wells per second of a core of each way, and how many times as many the table command does."""
    ways: dict[str, tuple[Run, int]] = {
        "table": (_table, effort.rows[ONE]),
        "quantities": (_loop, effort.by_hand),
        "plain numbers": (_plain_loop, effort.plain),
    }
    if workbook.PROGRAM is None:
        yield Skipped(PART, "workbook", workbook.WHY_NOT)
    else:
        ways["workbook"] = (_workbook, effort.workbook)
    runs: dict[str, list[tuple[Spent, Spent]]] = {name: [] for name in ways}
    for _ in range(effort.runs):
        for name, (run, wells) in ways.items():
            runs[name].append((run(folder, 1), run(folder, wells + 1)))
    rates = {name: rates_of(found, ways[name][1]) for name, found in runs.items()}
    for name, found in rates.items():
        yield figure(PART, name, "wells/s of a core", found)
        yield figure(PART, f"{name}: memory", "MiB", [large.memory for _, large in runs[name]])
        if name != "table":
            times = [ours / other for ours, other in zip(rates["table"], found, strict=True)]
            yield figure(PART, f"table over {name}", "times", times)
            yield figure(PART, f"{name}: greatest difference", "relative", [_difference(name, folder)])


def _table(folder: Path, wells: int) -> Spent:
    return sized(write_register(folder, wells), ONE, folder / "table.csv")


def _loop(folder: Path, wells: int) -> Spent:
    return spent(python("-m", "tests.benchmarks.by_hand", str(wells)), folder / "quantities.txt")


def _plain_loop(folder: Path, wells: int) -> Spent:
    command = python("-m", "tests.benchmarks.by_hand", str(wells), "--plain")
    return spent(command, folder / "plain numbers.txt")


def _workbook(folder: Path, wells: int) -> Spent:
    """Without writing the workbook, which is done once."""
    file = folder / f"book-{wells}.xlsx"
    if not file.exists():
        spent(python("-m", "tests.benchmarks.formulas", str(wells), str(file)))
    for old in folder.glob("book-*.csv"):
        old.unlink()
    return spent(workbook.command(file, folder))


def _difference(name: str, folder: Path) -> float:
    """The greatest relative difference to the table's figures. Raises RuntimeError where it is too great."""
    if name == "workbook":
        theirs = workbook.figures(folder)
    else:
        text = (folder / f"{name}.txt").read_text(encoding="ascii")
        theirs = [tuple(map(float, line.split())) for line in text.splitlines()]
    with (folder / "table.csv").open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(lines)
        ours = [[float(row[column]) for column in _COLUMNS] for row, _ in zip(rows, theirs, strict=False)]
    found = max(
        abs(other / own - 1.0)
        for (margin, *others), figures in zip(ours, theirs, strict=True)
        for own, other in zip((RATED_LIFT - margin, *others), figures, strict=True)
    )
    if found > TOLERANCE:
        raise RuntimeError(f"{name} and table differ by {found:.1e}")
    return found
