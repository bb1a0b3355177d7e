"""Recalculating a workbook in LibreOffice, where it is installed, and reading what it found."""

import csv
import shutil
from pathlib import Path

PROGRAM = shutil.which("soffice") or shutil.which("libreoffice")
WHY_NOT = "LibreOffice is not installed"
FIGURES = 5
"""The last columns of a row: head, force, water, strokes, minutes."""

_ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
"""Setting of a user's profile: recalculate what is loaded, always."""


def command(file: Path, folder: Path) -> list[str]:
    """What recalculates a workbook and writes its second sheet as CSV into a ``folder``."""
    if PROGRAM is None:
        raise FileNotFoundError(WHY_NOT)
    user = folder / "profile" / "user"
    user.mkdir(parents=True, exist_ok=True)
    (user / "registrymodifications.xcu").write_text(_ALWAYS, encoding="utf-8")
    sheet = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,2"
    return [
        PROGRAM, f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
        "--convert-to", sheet, "--outdir", str(folder), str(file),
    ]  # fmt: skip


def figures(folder: Path) -> list[tuple[float, ...]]:
    """The figures of each well that was recalculated into a ``folder``."""
    (file,) = folder.glob("book-*.csv")
    with file.open(encoding="utf-8", newline="") as lines:
        return [tuple(float(cell) for cell in row[-FIGURES:]) for row in csv.reader(lines)]
