"""Writes the same table as .csv, .xlsx and .ods, and reads workbooks back."""

import csv
import datetime as dt
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import openpyxl

Cell = str | float | bool | dt.date | None
ENDINGS = (".csv", ".xlsx", ".ods")

_MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.3">
<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>
<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>"""
_CONTENT = """<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.3"><office:body><office:spreadsheet>
<table:table table:name="Sites">{rows}</table:table></office:spreadsheet></office:body></office:document-content>"""


def write_table(file: Path, rows: Sequence[Sequence[Cell]], delimiter: str = ",") -> Path:
    """A table in the format that its ending names."""
    match file.suffix:
        case ".csv":
            with file.open("w", encoding="utf-8", newline="") as opened:
                writer = csv.writer(opened, delimiter=delimiter)
                writer.writerows([["" if cell is None else cell for cell in row] for row in rows])
        case ".xlsx":
            book = openpyxl.Workbook()
            book.active.title = "Sites"
            for row in rows:
                book.active.append(list(row))
            for cell in [cell for row in book.active.iter_rows() for cell in row if cell.data_type == "f"]:
                cell.data_type = "s"  # text that begins like a formula
            book.save(file)
        case _:
            lines = "".join(
                f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows
            )
            with zipfile.ZipFile(file, "w") as archive:
                archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
                archive.writestr("META-INF/manifest.xml", _MANIFEST)
                archive.writestr("content.xml", _CONTENT.format(rows=lines))
    return file


def _ods_cell(cell: Cell) -> str:
    match cell:
        case None:
            return "<table:table-cell/>"
        case bool():
            kind = f'office:value-type="boolean" office:boolean-value="{str(cell).lower()}"'
        case int() | float():
            kind = f'office:value-type="float" office:value="{cell}"'
        case dt.date():
            kind = f'office:value-type="date" office:date-value="{cell.isoformat()}"'
        case _:
            kind = f'office:value-type="string" office:string-value={quoteattr(cell)}'
    return f"<table:table-cell {kind}><text:p>{escape(str(cell))}</text:p></table:table-cell>"


def read_sheets(file: Path, *, results: bool = False) -> dict[str, list[tuple[Any, ...]]]:
    """Every sheet of a workbook as rows of values; of formulas their results, if wanted."""
    book = openpyxl.load_workbook(file, data_only=results)
    return {sheet.title: [tuple(row) for row in sheet.iter_rows(values_only=True)] for sheet in book}


def records(file: Path, sheet: str) -> list[dict[str, Any]]:
    """The rows of a sheet by its titles."""
    titles, *rows = read_sheets(file)[sheet]
    return [dict(zip(titles, row, strict=True)) for row in rows]
