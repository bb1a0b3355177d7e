"""Size a table of sites: ``python -m upstroke_service.tables wells.csv sized.parquet``."""

import argparse
import os
import signal
import sys
import time
from collections.abc import Generator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import pyarrow as pa

from upstroke_service.api import bodies
from upstroke_service.api.lineups import load_catalogues
from upstroke_service.api.problems import RequestProblem
from upstroke_service.catalogue.faults import CatalogueError
from upstroke_service.settings import Settings, SettingsError

from .cells import UnusableColumn
from .columns import described
from .files import (
    ROWS_OF_PART,
    SUFFIXES,
    Part,
    UnusableTable,
    files_of,
    kind_of,
    parts_of,
    read,
    require_room,
    schema_of,
    writing,
)
from .memory import keep_freed_memory
from .parts import Job, Outcome, Tally, joined, path_of, prepared, remove_begun, remove_others, size_part

ALL_SIZED, SOME_REFUSED, NOT_RUN, INTERRUPTED, TERMINATED = 0, 1, 2, 130, 143


def main(arguments: list[str] | None = None) -> int:
    """Size a table; 0: every row, 1: all but those that are told, 2: nothing, 130 and 143: until stopped."""
    options = _options(arguments)
    try:
        job = Job(
            _template(options.template),
            load_catalogues(Settings(catalogues=tuple(options.catalogue))),
            options.units,
            options.detail,
        )
        job.sizer()
        outcome = _sized(job, options)
    except (CatalogueError, OSError, SettingsError, UnusableColumn, UnusableTable) as error:
        return _stopped(str(error))
    except RequestProblem as problem:
        faults = "".join(f"\n  {one.pointer or 'the whole'}: {one.detail}" for one in problem.errors or ())
        return _stopped(f"the template {options.template}:{faults or f' {problem.detail}'}")
    except (KeyboardInterrupt, Terminated) as stop:
        kept = (
            "finished parts are kept, and the same command goes on"
            if _in_parts(options)
            else "nothing was written"
        )
        _stopped(f"stopped; {kept}")
        return TERMINATED if isinstance(stop, Terminated) else INTERRUPTED
    _tell(outcome)
    return SOME_REFUSED if outcome.refused else ALL_SIZED


def _options(arguments: list[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m upstroke_service.tables",
        description="Size pumps for a table of sites, a site a row. A folder as IN is one table in several "
        "files; a folder as OUT gets one file for each part, and parts that are finished are not done again.",
        epilog="Exit codes: 0 every row was sized, 1 some rows have problems, 2 nothing was done, "
        "130 stopped by hand, 143 told to end.",
    )
    parser.add_argument(
        "input", type=Path, metavar="IN", nargs="?", help=f"{', '.join(SUFFIXES)} or a folder"
    )
    parser.add_argument("output", type=Path, metavar="OUT", nargs="?", help="the same")
    parser.add_argument("--columns", action="store_true", help="tell which columns there are, and exit")
    parser.add_argument("--template", type=Path, help="request with the facts that all rows share (JSON)")
    parser.add_argument(
        "--units", choices=("us", "si"), default="us", help="of results (default: %(default)s)"
    )
    parser.add_argument(
        "--detail",
        choices=("compact", "candidates", "full"),
        default="compact",
        help="'candidates': lists of all candidates too; 'full': each whole answer as well, which takes "
        "some two hundred times as long (default: %(default)s)",
    )
    parser.add_argument("--catalogue", type=Path, action="append", default=[], help="catalogue file")
    parser.add_argument(
        "--rows", type=_count, default=ROWS_OF_PART, help="rows of a part, about (default: %(default)s)"
    )
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--workers", type=_count, help="processes on this machine (default: this one alone)")
    where.add_argument("--scheduler", metavar="ADDRESS", help="of a Dask scheduler, such as tcp://host:8786")
    options = parser.parse_args(arguments)
    if options.columns:
        _print(described())
        parser.exit()
    if options.output is None:
        parser.error("needs IN and OUT")
    return options


def _print(text: str) -> None:
    try:
        print(text, flush=True)
    except BrokenPipeError:
        # Whoever reads has enough, such as `head`: what is left is not to fail once more at the exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"must be a whole number from 1 up, not {text}")
    return int(text)


def _template(path: Path | None) -> dict[str, Any]:
    if path is None:
        return {}
    document: dict[str, Any] = bodies.parse(path.read_bytes())
    return document


def _sized(job: Job, options: argparse.Namespace) -> Outcome:
    parts = parts_of(options.input, options.rows)
    columns = schema_of(files_of(options.input)[0])
    _tell_columns(columns.names)
    into_folder = kind_of(options.output) not in SUFFIXES
    _require_place(options.input, options.output, into_folder=into_folder)
    # No row tells sooner which columns can't be read.
    job.sizer().size(pa.RecordBatch.from_pylist([], schema=columns))
    results = job.sizer().schema(columns)
    if not _in_parts(options):
        return _into_file(job, parts, results, options.output)
    if options.workers and options.workers > len(parts):
        print(
            "fewer parts than workers: see --rows; row groups of Parquet and batches of Arrow are not divided",
            file=sys.stderr,
        )
    folder: Path = options.output
    if not into_folder:
        require_room(folder, results)
        folder = folder.with_name(f"{folder.name}.parts")
    folder = prepared(folder)
    placed = [part._replace(path=part.path.resolve()) for part in parts]
    outcomes: dict[int, Outcome] = {}
    try:
        with _progress(len(parts)) as progress, closing(_each_part(job, placed, folder, options)) as sized:
            for part, outcome in sized:
                outcomes[part.number] = outcome
                progress(0 if outcome.kept else outcome.rows)
    finally:
        # A scheduler's workers may still be at it, our own are gone.
        if options.scheduler is None:
            remove_begun(folder)
    remove_others(folder, placed)
    if kept := sum(one.kept for one in outcomes.values()):
        print(f"parts finished before: {kept:,}", file=sys.stderr)
    if not into_folder:
        _assemble(placed, folder, results, options.output)
    return joined(outcomes[number] for number in sorted(outcomes))


def _in_parts(options: argparse.Namespace) -> bool:
    spread = options.workers is not None or options.scheduler is not None
    return spread or kind_of(options.output) not in SUFFIXES


def _require_place(given: Path, output: Path, *, into_folder: bool) -> None:
    """Refuse an output that is read, seems to be meant as something else, or has no place. Raises UnusableTable."""
    if given.resolve() in {output.resolve(), output.resolve().parent}:
        raise UnusableTable(f"{output}: can't be read and written at the same time")
    if into_folder and output.suffix and not output.is_dir():
        raise UnusableTable(
            f"{output}: a file ends in {', '.join(SUFFIXES)}; the name of a folder has no dot"
        )
    if into_folder and output.exists() and not output.is_dir():
        raise UnusableTable(f"{output}: is a file, where a folder is to be written")
    if not into_folder and output.is_dir():
        raise UnusableTable(f"{output}: is a folder, where a file is to be written")
    if not into_folder and not output.parent.is_dir():
        raise UnusableTable(f"{output.parent}: is no folder")


def _each_part(
    job: Job, parts: list[Part], folder: Path, options: argparse.Namespace
) -> Generator[tuple[Part, Outcome]]:
    if options.workers is None and options.scheduler is None:
        for part in parts:
            yield part, size_part(job, part, folder)
        return
    try:
        from . import engine  # noqa: PLC0415 - an extra that a single process does without
    except ImportError:
        raise UnusableTable("to spread the work, install the extra upstroke-service[cluster]") from None
    cluster = engine.local(options.workers) if options.workers else engine.remote(options.scheduler)
    with cluster as client:
        if not client.nthreads():
            print("the scheduler has no workers yet: waiting for one", file=sys.stderr)
        yield from engine.size_parts(client, job, parts, folder)


def _into_file(job: Job, parts: list[Part], schema: pa.Schema, output: Path) -> Outcome:
    keep_freed_memory()
    sizer, tally = job.sizer(), Tally()
    with writing(output, schema) as writer, _progress(len(parts)) as progress:
        for part in parts:
            for batch in read(part):
                results = sizer.size(batch)
                tally.add(results)
                writer.write(results)
                progress(batch.num_rows)
    return tally.outcome()


def _assemble(parts: list[Part], folder: Path, schema: pa.Schema, output: Path) -> None:
    """The parts as one file, in their order; then they are no longer needed."""
    with writing(output, schema) as writer:
        for part in parts:
            for whole in parts_of(path_of(folder, part)):
                for batch in read(whole):
                    writer.write(batch)
    for part in parts:
        path_of(folder, part).unlink()
    folder.rmdir()


@contextmanager
def _progress(parts: int) -> Generator[Any]:
    """Tell now and then how many rows are done."""
    began = told = time.monotonic()
    done = 0

    def progress(rows: int) -> None:
        nonlocal done, told
        done += rows
        now = time.monotonic()
        if now - told >= 1.0:
            told = now
            print(f"{done:,} rows, {done / (now - began):,.0f} a second", file=sys.stderr)

    print(f"parts: {parts:,}", file=sys.stderr)
    yield progress
    seconds = max(time.monotonic() - began, 1e-9)
    print(f"{done:,} rows in {seconds:,.1f} s, {done / seconds:,.0f} a second", file=sys.stderr)


def _tell_columns(names: list[str]) -> None:
    """Tell which columns are carried over. Raises UnusableTable where none is read."""
    carried = [name for name in names if not name.startswith("/")]
    if len(carried) == len(names):
        raise UnusableTable(
            "no column holds a fact; those that do are named like '/well/static_water_level [ft]', see --columns"
        )
    if carried:
        print(f"carried over: {', '.join(carried)}", file=sys.stderr)


def _tell(outcome: Outcome) -> None:
    for verdict, count in sorted(outcome.verdicts.items()):
        print(f"{verdict}: {count:,}", file=sys.stderr)
    if not outcome.refused:
        return
    print(f"problems: {outcome.refused:,}, in rows counted below the header", file=sys.stderr)
    for row, code, pointers in outcome.told:
        print(f"  row {row + 1}: {code} {', '.join(pointers)}", file=sys.stderr)
    if outcome.refused > len(outcome.told):
        print("  … and more; see the columns problem and pointers", file=sys.stderr)
    print("what a fact may be: --columns", file=sys.stderr)


def _stopped(reason: str) -> int:
    print(f"tables: {reason}", file=sys.stderr)
    return NOT_RUN


class Terminated(SystemExit):
    """The process was told to end."""


def _terminate(*_: object) -> None:
    """End as after an error, so that no half of a file is left; told once more, go on ending."""
    signal.signal(signal.SIGTERM, signal.SIG_IGN)
    raise Terminated(TERMINATED)


if __name__ == "__main__":
    signal.signal(signal.SIGTERM, _terminate)
    sys.exit(main())
