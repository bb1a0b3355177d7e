"""Markdown that also reads well in a terminal of 120 columns."""

import re
import textwrap
from collections.abc import Sequence

COLUMNS = 120


def paragraph(text: str) -> list[str]:
    """Wrap a paragraph."""
    return _wrapped(text, "", "")


def item(text: str) -> list[str]:
    """Wrap an item of a list."""
    return _wrapped(text, "- ", "  ")


def _wrapped(text: str, first: str, other: str) -> list[str]:
    # Neither a plus nor the end of a number of five digits may begin a line: Markdown would see a list there.
    glued = re.sub(r" (?=\+ )|(?<=\d) (?=\d{3}\b)", "\N{NO-BREAK SPACE}", text)
    return textwrap.wrap(
        glued,
        COLUMNS,
        initial_indent=first,
        subsequent_indent=other,
        break_long_words=False,
        break_on_hyphens=False,
    )


def table(headings: Sequence[str], rows: Sequence[Sequence[str]], numbers: Sequence[int] = ()) -> list[str]:
    """Lay out a table whose columns line up; those listed in ``numbers`` stand to the right."""
    lines = [headings, *rows]
    widths = [max(3, *(len(line[column]) for line in lines)) for column in range(len(headings))]

    def laid_out(line: Sequence[str]) -> str:
        cells = [
            cell.rjust(width) if column in numbers else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(line, widths, strict=True))
        ]
        return f"| {' | '.join(cells)} |"

    rule = ["-" * (width - 1) + (":" if column in numbers else "-") for column, width in enumerate(widths)]
    return [laid_out(headings), laid_out(rule), *(laid_out(row) for row in rows)]
