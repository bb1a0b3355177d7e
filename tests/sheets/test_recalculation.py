"""The workbook opens in a spreadsheet program, which counts as we did."""

from pathlib import Path

import pytest
from tests.sheets.canned import Canned, run
from tests.sheets.recalculated import PROGRAM, errors, recalculate
from tests.sheets.tables import read_sheets, write_table
from tests.sheets.test_command import GOOD


@pytest.mark.skipif(PROGRAM is None, reason="LibreOffice is not installed")
def test_a_spreadsheet_program_opens_it_and_counts_the_same(tmp_path: Path, canned: Canned) -> None:
    output = tmp_path / "out.xlsx"
    run(write_table(tmp_path / "a.csv", [*GOOD, [None, "deep"]]), output, canned)
    (tmp_path / "again").mkdir()
    opened = recalculate(output, tmp_path / "again")

    assert errors(opened) == []
    ours, theirs = read_sheets(output, results=True), read_sheets(opened, results=True)
    counts = {row[0]: row[1] for row in ours["Overview"] if row[1:] and row[1] is not None}
    assert counts["sized"] == len(GOOD) - 1
    assert counts.items() <= {row[0]: row[1] for row in theirs["Overview"]}.items()
    assert list(theirs) == list(ours)
