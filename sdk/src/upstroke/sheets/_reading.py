"""Reads the rows of a table: .csv, .xlsx or .ods. Spreadsheet packages are imported where they are needed."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import Any, Final

from ._cells import UNCALCULATED, Cell, is_blank
from ._headers import TableError

_LONGEST_CELL: Final = 2**24
_DELIMITERS: Final = ",;\t"

NumberedRow = tuple[int, list[Cell]]
"""The number of a row as a spreadsheet shows it, and its cells from column A on."""


def read_rows(file: Path, sheet: str | None, encoding: str) -> tuple[str, Iterator[NumberedRow]]:
    """The name of the sheet, and its rows that are not blank, without the blank cells at their ends.

    Args:
        file: its ending says what it is.
        sheet: of a workbook; its first one where None.
        encoding: of a .csv file. Bytes that it can't read become U+FFFD, so that no row is lost.

    Raises:
        TableError: where the file can't be read, now or while its rows are.
    """
    ending = file.suffix.casefold()
    if ending not in _READERS:
        raise TableError(f"{file}: ends in none of {', '.join(_READERS)}")
    try:
        name, rows = _READERS[ending](file, sheet, encoding)
        return name, _filled(file, rows)
    except ImportError as error:
        raise TableError(f"needs the package {error.name}: pip install 'upstroke[sheets]'") from error
    except TableError:
        raise
    except Exception as error:  # whatever a package raises on a file that is not what its ending says
        raise TableError(f"{file}: can't be read: {error}") from error


def _filled(file: Path, rows: Iterable[Sequence[Cell]]) -> Iterator[NumberedRow]:
    try:
        for number, cells in enumerate(rows, start=1):
            filled = [place for place, cell in enumerate(cells, start=1) if not is_blank(cell)]
            if filled:
                yield number, list(cells[: filled[-1]])
    except Exception as error:  # as above
        raise TableError(f"{file}: can't be read: {error}") from error


def _read_csv(file: Path, sheet: str | None, encoding: str) -> tuple[str, Iterator[Sequence[Cell]]]:
    if sheet is not None:
        raise TableError(f"{file}: has no sheets")
    opened = file.open(encoding=encoding, errors="replace", newline="")
    head = opened.readline()
    opened.seek(0)
    return file.name, _csv_rows(opened, max(_DELIMITERS, key=head.count))


def _csv_rows(opened: io.TextIOWrapper, delimiter: str) -> Iterator[Sequence[Cell]]:
    csv.field_size_limit(_LONGEST_CELL)
    with opened:
        yield from csv.reader(opened, delimiter=delimiter)


def _read_xlsx(file: Path, sheet: str | None, _: str) -> tuple[str, Iterator[Sequence[Cell]]]:
    import openpyxl  # noqa: PLC0415 - part of an extra

    # Results and formulas can't be had together; a formula without a result would pass for a blank cell.
    results = openpyxl.load_workbook(file, read_only=True, data_only=True)
    formulas = openpyxl.load_workbook(file, read_only=True)
    name = _chosen(file, sheet, [str(one.title) for one in results.worksheets])
    return name, _xlsx_rows(results, formulas, name)


def _xlsx_rows(results: Any, formulas: Any, name: str) -> Iterator[Sequence[Cell]]:
    with closing(results), closing(formulas):
        for book in (results, formulas):
            book[name].reset_dimensions()  # what a file states as its size may be wrong
        pairs = zip(results[name].iter_rows(values_only=True), formulas[name].iter_rows(), strict=True)
        for values, cells in pairs:
            yield [
                UNCALCULATED if value is None and cell.data_type == "f" else value
                for value, cell in zip(values, cells, strict=True)
            ]


def _read_ods(file: Path, sheet: str | None, _: str) -> tuple[str, Iterator[Sequence[Cell]]]:
    import python_calamine  # noqa: PLC0415 - part of an extra

    book = python_calamine.CalamineWorkbook.from_path(file)
    name = _chosen(file, sheet, book.sheet_names)
    table = book.get_sheet_by_name(name)
    row, column = table.start or (0, 0)
    offset: list[Cell] = [None] * column

    def rows() -> Iterator[Sequence[Cell]]:
        yield from ([] for _ in range(row))
        for cells in table.to_python(skip_empty_area=True):
            yield [*offset, *cells]

    return name, rows()


def _chosen(file: Path, sheet: str | None, names: Sequence[str]) -> str:
    wanted = sheet or next(iter(names), "")
    if wanted not in names:
        raise TableError(f"{file}: has no sheet {wanted!r}; it has: {', '.join(names)}")
    return wanted


_READERS: Final = {".csv": _read_csv, ".xlsx": _read_xlsx, ".ods": _read_ods}
