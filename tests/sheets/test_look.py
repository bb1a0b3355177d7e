"""What a workbook looks like: rows as tall as their text, and digits that matter."""

from pathlib import Path

import openpyxl
import pytest
from tests.sheets.canned import Canned, run
from tests.sheets.tables import Cell, write_table
from tests.sheets.test_command import GOOD, HEADERS

from upstroke._quantity import Quantity
from upstroke.sheets._writing import Book, Listing

EXCEL_TALLEST = 409.5
"""Points; Microsoft, Excel specifications and limits, row height (from memory)."""
USUAL = 15.0
"""Height of a row that states none, points."""


def test_rows_of_sentences_are_as_tall_as_their_text_and_never_taller_than_a_row_may_be(
    tmp_path: Path,
) -> None:
    file = tmp_path / "a.xlsx"
    with Book(file, "A") as book:
        listing = Listing(book, "Notes", ["Code or field", "Text"], wrapped=True)
        for length in (0, 60, 61, 30_000):
            listing.write(["x", "y" * length])
        listing.close()

    rows = openpyxl.load_workbook(file)["Notes"].row_dimensions
    heights = [rows[row].height or USUAL for row in (2, 3, 4, 5)]
    assert heights[0] == heights[1]
    assert heights[2] == 2 * heights[1]
    assert 300.0 < heights[3] <= EXCEL_TALLEST


@pytest.mark.parametrize(
    ("title", "value", "digits"),
    [
        ("Hand force [lbf]", Quantity(20.3308, "lbf"), "#,##0.0"),
        ("Bore [in]", Quantity(1.25, "in"), "0.00"),
        ("Strokes", 931.297, "#,##0"),
        ("Rank", 1.0, "General"),
    ],
)
def test_a_result_shows_the_digits_that_matter_and_holds_all(
    tmp_path: Path, title: str, value: Quantity | float, digits: str
) -> None:
    file = tmp_path / "a.xlsx"
    with Book(file, "A") as book:
        listing = Listing(book, "Results", [title])
        listing.write([value])
        listing.close()

    cell = openpyxl.load_workbook(file)["Results"]["A2"]
    assert cell.number_format == digits
    assert cell.value == (value.value if isinstance(value, Quantity) else value)


def test_what_came_with_the_table_is_shown_as_it_came(tmp_path: Path, canned: Canned) -> None:
    headers: list[Cell] = [*HEADERS, "Strokes"]
    rows: list[list[Cell]] = [headers, [*GOOD[1], 12.5]]
    output = tmp_path / "out.xlsx"
    run(write_table(tmp_path / "sites.xlsx", rows), output, canned)

    sheet = openpyxl.load_workbook(output)["Results"]
    titles = [cell.value for cell in sheet[1]]
    given, found = (column for column, title in enumerate(titles) if title == "Strokes")
    assert sheet[2][given].value == 12.5
    assert sheet[2][given].number_format == "General"
    assert sheet[2][found].number_format == "#,##0"
