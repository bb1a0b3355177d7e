"""How long a workbook of many sites takes, and how much memory.

    .venv/bin/python -m tests.benchmarks.sheets                  5000 rows, each answered from memory
    .venv/bin/python -m tests.benchmarks.sheets --embedded       the same, each calculated
    .venv/bin/python -m tests.benchmarks.sheets --rows 20000     to see how memory grows

The table is a workbook of the template's columns, in which the depth differs from row to row.
"""

import argparse
import platform
import resource
import sys
import tempfile
import time
from pathlib import Path

import msgspec
import xlsxwriter
from tests.sheets.canned import Canned

import upstroke
from upstroke.sheets.__main__ import main as size
from upstroke.sheets._headers import match_headers
from upstroke.sheets._rows import Table
from upstroke.sheets._template import EXAMPLE

LEVEL = "Static water level [ft]"


def write_table(file: Path, rows: int) -> None:
    """The sites."""
    with xlsxwriter.Workbook(str(file), {"constant_memory": True}) as book:
        sheet = book.add_worksheet("Sites")
        sheet.write_row(0, 0, list(EXAMPLE))
        for number in range(1, rows + 1):
            own = {"Client reference": f"site {number}", LEVEL: 20.0 + 180.0 * number / rows}
            sheet.write_row(number, 0, list((EXAMPLE | own).values()))


def example() -> bytes:
    """The whole answer for the template's site."""
    row = Table(list(EXAMPLE), match_headers(list(EXAMPLE), {}), "point", "us").row(2, list(EXAMPLE.values()))
    with upstroke.Client.embedded() as client:
        return msgspec.json.encode(client.size(row.request))


def memory() -> float:
    """The most that this process has held so far, MiB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rows", type=int, default=5000)
    parser.add_argument("--embedded", action="store_true", help="calculate each row")
    options = parser.parse_args()
    answer = example()

    def connect(_: argparse.Namespace) -> upstroke.Client:
        return upstroke.Client.embedded() if options.embedded else upstroke.Client(transport=Canned(answer))

    with tempfile.TemporaryDirectory() as folder:
        table, output = Path(folder) / "sites.xlsx", Path(folder) / "results.xlsx"
        write_table(table, options.rows)
        before, started = memory(), time.perf_counter()
        status = size([str(table), "--output", str(output), "--jobs", "1"], connect)
        seconds, peak = time.perf_counter() - started, memory()
        megabytes = output.stat().st_size / 1e6
    print(f"{platform.platform()}, Python {platform.python_version()}")
    how = "calculated in this process" if options.embedded else "answered from memory"
    print(f"{options.rows} rows, {how}: {seconds:.0f} s, {1000.0 * seconds / options.rows:.1f} ms a row")
    print(f"peak memory {peak:.0f} MiB, {before:.0f} MiB of it before the first row")
    print(f"workbook {megabytes:.1f} MB, exit code {status}")
    sys.exit(status)


if __name__ == "__main__":
    main()
