"""The benchmark measures what it says; how fast anything is, is not asked here."""

import contextlib
import importlib
import io
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import msgspec
import pytest
from tests.benchmarks import by_hand, instead, registers, starting, tables
from tests.benchmarks.__main__ import line, measured
from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, Report, Skipped
from tests.benchmarks.processes import Spent, python, spent
from tests.service.consistency import CONTEXT

from upstroke_service.tables.sizing import TableSizer

LEAST = Effort(
    runs=1,
    seconds=0.1,
    rows={registers.ONE: 20},
    growth=(20,),
    longest=60.0,
    lines=(1, 1),
    by_hand=1,
    plain=2,
    workbook=1,
)


def test_loops_over_quantities_and_numbers_find_what_the_table_finds() -> None:
    (batch,) = registers.register(40).to_batches()
    rows = TableSizer(registers.template(1), CONTEXT).size(batch).to_pylist()
    ours = [
        (registers.RATED / registers.BORE - row["lift_margin"], *(row[name] for name in by_hand.COMPARED))
        for row in rows
    ]

    assert {row["verdict"] for row in rows} == {"fits"}
    assert list(by_hand.wells(40, plain=True)) == [pytest.approx(row, rel=instead.TOLERANCE) for row in ours]
    assert list(by_hand.wells(2, plain=False)) == [
        pytest.approx(row, rel=1e-9) for row in by_hand.wells(2, plain=True)
    ]


def in_this_process(command: Sequence[str], output: Path | None = None) -> Spent:
    """Does what a command does, without the seconds that a process of its own takes to start."""
    started, printed = time.perf_counter(), io.StringIO()
    with pytest.MonkeyPatch.context() as patched, contextlib.redirect_stdout(printed):
        patched.setattr(sys, "argv", list(command[2:]))
        if command[1] == "-c":
            compile(command[2], "command", "exec")
        else:
            module = command[2] + (".__main__" if command[2] == "upstroke_service.tables" else "")
            assert not importlib.import_module(module).main()
    if output:
        output.write_text(printed.getvalue(), encoding="utf-8")
    seconds = time.perf_counter() - started
    return Spent(seconds, seconds, 1.0)


def test_parts_without_a_server_are_measured(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.benchmarks.workbook.PROGRAM", None)
    for part in (starting, tables, instead):
        monkeypatch.setattr(part, "spent", in_this_process)

    report = measured(LEAST, ["start", "tables", "instead"], quick=True)

    assert msgspec.json.decode(msgspec.json.encode(report), type=Report) == report
    assert [one.name for one in report.skipped] == ["workbook"]
    assert {"1 candidate", "20 rows: memory", "table over quantities", "client imported"} <= {
        one.name for one in report.figures
    }
    assert all(one.lowest <= one.median <= one.highest for one in report.figures)
    assert line(report.figures[0]) in capsys.readouterr().out


def test_what_a_process_takes_is_its_own() -> None:
    idle = spent(python("-c", "import time; time.sleep(0.3)"))

    assert idle.seconds > 0.3 > idle.core_seconds
    with pytest.raises(RuntimeError, match="ended with 3"):
        spent(python("-c", "raise SystemExit(3)"))


def test_a_line_says_what_was_left_out() -> None:
    assert line(Skipped("instead", "workbook", "not installed")).split() == [
        "workbook", "left", "out:", "not", "installed",
    ]  # fmt: skip
    assert line(Figure("tables", "8 candidates", "rows/s", 1234.5, 0.001234, 2e6, 3)).split() == [
        "8", "candidates", "1,234", "0.00123", "2,000,000", "rows/s",
    ]  # fmt: skip
