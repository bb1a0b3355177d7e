"""A workbook to fill in: one sheet for the sites, with an invented example, and one that explains every column."""

from pathlib import Path
from typing import Any, Final

from ._columns import Column, columns, meanings
from ._findings import Value
from ._headers import match_header
from ._writing import Book, write_cell

EXAMPLE: Final[dict[str, str | float]] = {
    "Client reference": "EXAMPLE, invented",
    "Static water level [ft]": 85,
    "Well drawdown [ft]": 6,
    "Well depth [ft]": 180,
    "Casing inside diameter [in]": 6,
    "Site elevation [ft]": 650,
    "Run 1 inside diameter [in]": 0.75,
    "Run 1 length [ft]": 60,
    "Conduit rise [ft]": 3,
    "Hose pressure rating [psi]": 125,
    "Check valve": "yes",
    "Tank kind": "bladder",
    "Total volume [gal]": 32,
    "Tank precharge [psi]": 28,
    "Tank condition": "sound",
    "Maximum working pressure [psi]": 100,
    "Start pressure [psi]": 28,
    "Target pressure [psi]": 45,
    "Operator profile": "ordinary adult",
    "Site freezes": "yes",
    "Well pit": "no",
    "Overhead lines": "no",
    "Water heater": "electric",
    "Electric pump present": "yes",
    "Connection 1 kind": "tank drain",
    "Connection 1 vacuum breaker": "no",
    "Public water connection": "no",
    "Supply kind": "pressure switch",
    "Supply cut in [psi]": 30,
    "Supply cut out [psi]": 50,
    "Relief valve fitted": "yes",
    "Relief valve set pressure [psi]": 75,
}
"""Headers of the template, and the facts of an invented site."""

_NOTES: Final = (
    "Fill in one row for each site on the sheet 'Sites', in place of the invented example. Leave unknown cells blank.",
    "A column may be left out, moved or added: each header below is understood, in upper or lower case.",
    "Put the unit of a column in brackets: [ft], [m], [psi], [bar], [gal], [L]. A cell may have its own: 26 m.",
    "Where a header has a number (Run 1, Connection 1) go on with 2, 3 and so on. Other columns go along unchanged.",
    "Leave personal data out of 'Client reference': it is sent to the service.",
)
_TITLES: Final = ("Header", "Units or words", "Meaning")


def write_template(file: Path) -> None:
    """Write the template."""
    with Book(file, "Sites for hand pumps") as book:
        sites, notes = book.sheet("Sites"), book.sheet("Columns")
        sites.freeze_panes(1, 1)
        for place, header in enumerate(EXAMPLE):
            sites.set_column(place, place, max(12, len(header) * 0.7))
            write_cell(sites, 0, place, header, book.formats.header)
        for place, (header, value) in enumerate(EXAMPLE.items()):
            match = match_header(header)
            if match and match.column.words:
                sites.data_validation(1, place, 10_000, place, _choice(match.column))
            write_cell(sites, 1, place, value)
        _write_notes(book, notes)


def _choice(column: Column) -> dict[str, Any]:
    return {
        "validate": "list",
        "source": [word.replace("_", " ") for word in column.words],
        "error_type": "warning",
    }


def _write_notes(book: Book, sheet: Any) -> None:
    sheet.set_column(0, 0, 44)
    sheet.set_column(1, 1, 50)
    sheet.set_column(2, 2, 100)
    for row, note in enumerate(_NOTES):
        write_cell(sheet, row, 0, note)
    start = len(_NOTES) + 1
    for place, title in enumerate(_TITLES):
        write_cell(sheet, start, place, title, book.formats.header)
    for row, column in enumerate(columns(), start=start + 1):
        for place, text in enumerate(_note(column)):
            write_cell(sheet, row, place, text)


def _note(column: Column) -> list[Value]:
    accepted = column.units or tuple(word.replace("_", " ") for word in column.words)
    plain = {
        "flag": "yes, no",
        "integer": "a whole number",
        "number": "a number",
        "texts": "words with commas between",
    }
    return [
        column.header(unit=column.units[0] if column.units else ""),
        ", ".join(accepted) or plain.get(column.kind, "text"),
        meanings().get(column.path, ""),
    ]
