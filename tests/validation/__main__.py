"""Compares the physics with every check value and every independent library, and prints the record.

    .venv/bin/python -m tests.validation
    .venv/bin/python -m tests.validation --output FILE

The record is Markdown. The exit status is 1 where anything lies outside its tolerance.
"""

import argparse
import sys
from pathlib import Path

from tests.physics.published_values import all_values
from tests.physics.sweeps import SWEEPS, run
from tests.validation.check import check
from tests.validation.report import Report


def main(arguments: list[str] | None = None) -> int:
    """Compare, print or write the record, and return the exit status."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.validation", description=(__doc__ or "").split("\n")[0]
    )
    parser.add_argument("--output", type=Path, metavar="FILE", help="write the record there")
    output = parser.parse_args(arguments).output
    report = Report([check(value) for value in all_values()], [(sweep, run(sweep)) for sweep in SWEEPS])
    text = "\n".join(report.lines())
    if output is None:
        print(text)
    else:
        try:
            output.write_text(f"{text}\n", encoding="utf-8")
        except OSError as error:
            parser.error(f"cannot write {output}: {error.strerror}")
        print(report.closing())
    return 1 if report.disagreements else 0


if __name__ == "__main__":
    sys.exit(main())
