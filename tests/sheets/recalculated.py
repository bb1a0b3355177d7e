"""Recalculates a workbook in LibreOffice, where it is installed, and says which cells came out as errors.

.venv/bin/python -m tests.sheets.recalculated results.xlsx
"""

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.sheets.tables import read_sheets

PROGRAM = shutil.which("soffice") or shutil.which("libreoffice")


def recalculate(workbook: Path, folder: Path) -> Path:
    """The workbook as LibreOffice saves it, every formula calculated anew, in another folder."""
    if PROGRAM is None:
        raise FileNotFoundError("LibreOffice is not installed")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = [PROGRAM, profile, "--headless", "--convert-to", "ods", "--outdir", str(folder), str(workbook)]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    command[-4:] = [
        "xlsx:Calc MS Excel 2007 XML",
        "--outdir",
        str(folder),
        str(folder / f"{workbook.stem}.ods"),
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    return folder / f"{workbook.stem}.xlsx"


def errors(workbook: Path) -> list[str]:
    """Where a value of a workbook is an error."""
    return [
        f"{sheet} row {number}: {value}"
        for sheet, rows in read_sheets(workbook, results=True).items()
        for number, row in enumerate(rows, start=1)
        for value in row
        if isinstance(value, str) and value.startswith(("#", "Err:"))
    ]


def main() -> int:
    """Recalculate what is named; 1 where a cell is an error."""
    with tempfile.TemporaryDirectory() as folder:
        found = errors(recalculate(Path(sys.argv[1]).resolve(), Path(folder)))
    print("\n".join(found) or "recalculated; no cell is an error")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
