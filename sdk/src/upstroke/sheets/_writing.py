"""Sheets that are written row by row, so that a workbook of any length takes little memory."""

import math
from collections.abc import Container, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from upstroke._quantity import Quantity

from ._findings import Value
from ._headers import TableError

LAST_ROW: Final = 1_048_575
"""The last row of a sheet, counted from 0."""
_LONGEST_TEXT: Final = 32_767
_WIDEST: Final = 60
_WIDTHS: Final = {
    "Site": 24,
    "Code or field": 28,
    "Cylinder": 16,
    "Outcome": 17,
    "Verdict": 17,
    "Status": 28,
    "Cylinder's name": 40,
    "Summary": 60,
    "Ask first": 60,
    "Reasons": 80,
    "Text": 60,
    "Why": 60,
    "Who may do the work": 40,
    "What is wrong": 60,
}
"""Characters that a column of ours gets, by its title, where what stands below is wider than the title."""
_LINE: Final = 15
"""Points that a line takes. Programs don't fit the height of a row to wrapped text that they didn't write."""
_TALLEST: Final = 409
"""Points that a row may be high; with more, programs take the file for a damaged one."""
_ACTIVE: Final = ("=", "+", "-", "@", "\t", "\r", "\n")


def harmless(text: str) -> str:
    """Text that no program takes for a formula, also after the sheet was saved as another format.

    ``harmless("=1+1")`` is ``"'=1+1"``. Longer text than a cell can hold ends in an ellipsis.
    """
    text = f"'{text}" if text.startswith(_ACTIVE) else text
    return text if len(text) <= _LONGEST_TEXT else f"{text[: _LONGEST_TEXT - 1]}…"


@dataclass(frozen=True)
class Formats:
    """How cells look."""

    header: Any
    title: Any
    marked: Any
    wrapped: Any
    whole: Any
    tenths: Any
    hundredths: Any

    def of_result(self, value: Value, title: str) -> Any:
        """How many digits of a result are shown; the cell holds all of them."""
        if isinstance(value, Quantity):
            return self.hundredths if value.unit == "in" else self.tenths
        return self.whole if title == "Strokes" and isinstance(value, float) else None


class Book:
    """A workbook that is being written; a context manager that completes it at the end."""

    def __init__(self, file: Path, title: str) -> None:
        """Begin a workbook.

        Raises:
            TableError: where the package that writes it is missing.
        """
        try:
            import xlsxwriter  # noqa: PLC0415 # pyright: ignore[reportMissingTypeStubs] - part of an extra
        except ImportError as error:
            raise TableError("needs the package xlsxwriter: pip install 'upstroke[sheets]'") from error
        # Text stays text: it is written as text alone, and these options keep links out as well.
        options = {
            "constant_memory": True,
            "strings_to_urls": False,
            "strings_to_formulas": False,
            "tmpdir": str(file.parent),
        }
        self.workbook: Any = xlsxwriter.Workbook(str(file), options)
        self.workbook.set_properties({"title": title})
        self.formats = Formats(
            self.workbook.add_format(
                {"bold": True, "text_wrap": True, "valign": "top", "bg_color": "#DDE7EE", "border": 1}
            ),
            self.workbook.add_format({"bold": True, "font_size": 14}),
            self.workbook.add_format({"bg_color": "#F6C8C8", "font_color": "#7A0000", "bold": True}),
            self.workbook.add_format({"text_wrap": True, "valign": "top"}),
            *(self.workbook.add_format({"num_format": digits}) for digits in ("#,##0", "#,##0.0", "0.00")),
        )

    def __enter__(self) -> Self:
        """The book itself."""
        return self

    def __exit__(
        self,
        error_type: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        """Complete the file.

        Raises:
            TableError: where it can't be written.
        """
        from xlsxwriter.exceptions import XlsxWriterException  # noqa: PLC0415 # pyright: ignore[reportMissingTypeStubs]

        try:
            self.workbook.close()
        except XlsxWriterException as failure:
            raise TableError(f"the workbook can't be written: {failure}") from failure

    def sheet(self, name: str) -> Any:
        """A new sheet."""
        return self.workbook.add_worksheet(name)


class Listing:
    """A sheet with a row of titles and rows below; where one is full, another goes on."""

    def __init__(
        self,
        book: Book,
        name: str,
        titles: Sequence[str],
        last_row: int = LAST_ROW,
        *,
        given: Container[int] = (),
        wrapped: bool = False,
    ) -> None:
        """Begin the sheet.

        Args:
            book: the workbook that it is part of.
            name: its name.
            titles: of its columns.
            last_row: the last row that it may have.
            given: places of columns that came with the table and are shown as they came.
            wrapped: whether rows grow with their text.
        """
        self.titles = list(titles)
        self._widths = [_WIDTHS.get(title) or min(max(len(title), 9) + 2, _WIDEST) for title in titles]
        self._given = given
        self._wrapped = wrapped
        self.count = 0
        self._book, self._name, self._last_row = book, name, last_row
        self._sheets = 0
        self._begin()

    def write(self, values: Sequence[Value], marked: Container[int] = ()) -> None:
        """Add a row; the cells whose places are in ``marked`` stand out."""
        if self._row > self._last_row:
            self._end()
            self._begin()
        formats = self._book.formats
        if self._wrapped:
            self._sheet.set_row(self._row, min(_LINE * self._lines(values), _TALLEST), formats.wrapped)
        for column, (title, value) in enumerate(zip(self.titles, values, strict=True)):
            look = None if column in self._given else formats.of_result(value, title)
            look = formats.marked if column in marked else look
            write_cell(self._sheet, self._row, column, value, look)
        self._row += 1
        self.count += 1

    def close(self) -> None:
        """Complete the sheet."""
        self._end()

    def _lines(self, values: Sequence[Value]) -> int:
        cells = zip(values, self._widths, strict=True)
        return max(math.ceil(len(value) / width) if isinstance(value, str) else 1 for value, width in cells)

    def _begin(self) -> None:
        self._sheets += 1
        name = self._name if self._sheets == 1 else f"{self._name} {self._sheets}"
        self._sheet = self._book.sheet(name)
        self._sheet.freeze_panes(1, 2)
        for column, title in enumerate(self.titles):
            write_cell(self._sheet, 0, column, title, self._book.formats.header)
            self._sheet.set_column(column, column, self._widths[column])
        self._row = 1

    def _end(self) -> None:
        self._sheet.autofilter(0, 0, max(self._row - 1, 1), len(self.titles) - 1)


def write_cell(sheet: Any, row: int, column: int, value: Value, look: Any = None) -> None:
    """Write one cell: numbers as numbers, text as text that is never a formula."""
    match value:
        case None | "":
            if look:
                sheet.write_blank(row, column, None, look)
        case bool():
            sheet.write_string(row, column, "yes" if value else "no", look)
        case Quantity():
            sheet.write_number(row, column, value.value, look)
        case int() | float():
            sheet.write_number(row, column, value, look)
        case str():
            sheet.write_string(row, column, harmless(value), look)
