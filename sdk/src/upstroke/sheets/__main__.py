"""The command: ``python -m upstroke.sheets sites.xlsx --output results.xlsx``.

Exit codes:
    0: every row was sized.
    1: the workbook is written, but some rows were not sized; it says which, and why.
    2: the options, the table or its headers can't be used; nothing was asked and nothing is written.
    3: the service can't be had; the journal keeps what was found, and the same command goes on from there.
    130: stopped by hand; the same command goes on.
"""

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from typing import Final

from upstroke import Client, UpstrokeError
from upstroke._exchange import Units

from ._headers import TableError, match_headers, read_mapping
from ._journal import Journal
from ._reading import read_rows
from ._rows import Table, spool, spooled
from ._sizing import StoppedError, context_of, size_rows
from ._template import write_template
from ._workbook import SIZED, write_workbook

ALL_SIZED: Final = 0
SOME_NOT_SIZED: Final = 1
UNUSABLE: Final = 2
STOPPED: Final = 3
INTERRUPTED: Final = 130

_JOBS: Final = 4


def main(
    arguments: Sequence[str] | None = None, connect: Callable[[argparse.Namespace], Client] | None = None
) -> int:
    """Run the command.

    Args:
        arguments: of the command line.
        connect: makes the client from the options, in place of ``--url`` and ``--embedded``.

    Returns:
        One of the exit codes above.
    """
    parser = _parser()
    options = parser.parse_args(arguments)
    if options.template is None and (options.table is None or options.output is None):
        parser.error("needs a table and --output, or --template")
    try:
        if options.template is not None:
            _complete(options.template, write_template)
            print(f"Template: {options.template}")
            return ALL_SIZED
        return _size(options, connect or _connect)
    except (TableError, OSError) as error:
        print(f"upstroke: {error}", file=sys.stderr)
        return UNUSABLE
    except (StoppedError, UpstrokeError) as error:
        print(f"upstroke: {error}\nThe same command goes on from where it stopped.", file=sys.stderr)
        return STOPPED
    except KeyboardInterrupt:
        print("\nStopped; the same command goes on from where it stopped.", file=sys.stderr)
        return INTERRUPTED


def _size(options: argparse.Namespace, connect: Callable[[argparse.Namespace], Client]) -> int:
    table_file, output = Path(options.table), Path(options.output)
    if output.suffix.casefold() != ".xlsx":
        raise TableError(f"{output}: the output is a workbook and ends in .xlsx")
    if output.exists() and output.samefile(table_file):
        raise TableError(f"{output}: would overwrite the table")
    mapping = read_mapping(options.mapping) if options.mapping else {}
    sheet, rows = read_rows(table_file, options.sheet, options.encoding)
    headers = ["" if cell is None else str(cell) for cell in next(rows, (0, []))[1]]
    matches = match_headers(headers, mapping)
    if others := [header for header, match in zip(headers, matches, strict=True) if header and not match]:
        print(f"Columns that only go along: {', '.join(others)}", file=sys.stderr)
    table = Table(headers, matches, options.decimal, options.units)
    journal_file = output.with_name(f"{output.name}.journal")
    with tempfile.TemporaryFile(dir=output.parent) as spooled_rows:
        count, unreadable = spool(table, rows, spooled_rows)
        print(f"{count} rows, {unreadable} of them with facts that can't be read", file=sys.stderr)
        with (
            closing(connect(options)) as client,
            Journal(journal_file, context_of(client, options.units)) as journal,
        ):
            progress = Progress(count)
            unanswered = size_rows(client, spooled(spooled_rows), journal, _jobs(options), progress.step)
            progress.close()
            statuses: Counter[str] = Counter()

            def write(file: Path) -> None:
                source = (table_file.name, sheet)
                statuses.update(
                    write_workbook(file, source, table, spooled(spooled_rows), journal, unanswered)
                )

            _complete(output, write)
    if not unanswered:
        journal_file.unlink()
    for status, number in statuses.items():
        print(f"{number} {status}")
    print(f"Workbook: {output}")
    return ALL_SIZED if set(statuses) <= {SIZED} else SOME_NOT_SIZED


class Progress:
    """A line on standard error that says how far it is; on a terminal it stays one line."""

    def __init__(self, total: int) -> None:
        """Begin to count."""
        self._total = total
        self._done = 0
        self._started = self._shown = time.monotonic()
        self._terminal = sys.stderr.isatty()

    def step(self) -> None:
        """One more row is done."""
        self._done += 1
        now = time.monotonic()
        if now - self._shown >= (0.2 if self._terminal else 10.0):
            self._shown = now
            self._show(now)

    def close(self) -> None:
        """All are done."""
        self._show(time.monotonic())
        if self._terminal:
            print(file=sys.stderr)

    def _show(self, now: float) -> None:
        rate = self._done / max(now - self._started, 1e-3)
        left = (self._total - self._done) / max(rate, 1e-3)
        text = f"{self._done} of {self._total} rows, {rate:.0f} a second, {left:.0f} s left"
        if self._terminal:
            print(f"\r{text:<70}", end="", file=sys.stderr, flush=True)
        else:
            print(text, file=sys.stderr, flush=True)


def _complete(file: Path, write: Callable[[Path], None]) -> None:
    """Put a file in place only once it is complete."""
    part = file.with_name(f"{file.name}.part")
    try:
        write(part)
        part.replace(file)
    finally:
        part.unlink(missing_ok=True)


def _connect(options: argparse.Namespace) -> Client:
    units: Units = options.units
    return (
        Client.embedded(units=units) if options.embedded else Client(options.url, units=units, timeout=30.0)
    )


def _jobs(options: argparse.Namespace) -> int:
    jobs: int = options.jobs or (1 if options.embedded else _JOBS)
    return jobs


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m upstroke.sheets",
        description="Sizes the sites of a table and writes a workbook.",
        epilog="Exit codes: 0 every row was sized; 1 some were not, the workbook says which and why; 2 options, "
        "table or headers can't be used; 3 the service can't be had, the same command goes on later; 130 stopped "
        "by hand. A key is taken from the variable UPSTROKE_API_KEY.",
    )
    parser.add_argument("table", nargs="?", type=Path, help="sites: .xlsx, .ods or .csv")
    parser.add_argument("--output", type=Path, help="workbook to write, .xlsx")
    parser.add_argument(
        "--template", type=Path, metavar="FILE", help="write a workbook to fill in, and nothing else"
    )
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--url", default="http://127.0.0.1:8080", help="address of the service")
    where.add_argument("--embedded", action="store_true", help="calculate here, without a service")
    parser.add_argument("--units", choices=("us", "si"), default="us", help="unit system of the results")
    parser.add_argument("--sheet", help="sheet of the workbook; its first one where left out")
    parser.add_argument("--mapping", type=Path, metavar="FILE", help="TOML file that says what headers mean")
    parser.add_argument("--decimal", choices=("point", "comma"), default="point", help="decimal sign in text")
    parser.add_argument("--encoding", default="utf-8-sig", help="of a .csv file")
    parser.add_argument("--jobs", type=_positive, help="rows that are asked at a time")
    return parser


def _positive(text: str) -> int:
    number = int(text)
    if not 1 <= number <= 64:  # noqa: PLR2004
        raise argparse.ArgumentTypeError("from 1 to 64")
    return number


if __name__ == "__main__":
    sys.exit(main())
