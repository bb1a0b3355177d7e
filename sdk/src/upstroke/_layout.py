"""Plain text in a fixed width: headings, paragraphs, lists, tables and bars."""

import textwrap
from collections.abc import Sequence
from typing import Final

from ._columns import Series
from ._quantity import Quantity

WIDTH: Final = 80
"""Columns of a page."""

# Numbers of steps down a long table, the most welcome first.
_STEPS: Final = (9, 10, 8, 11, 7, 12, 6)
_UNIT_WORDS: Final = {"1": "", "1/min": "per min", "fl_oz": "fl oz"}


def heading(text: str) -> list[str]:
    """A heading after an empty line, underlined."""
    return ["", text, "-" * len(text)]


def paragraph(text: str, first: str = "", rest: str | None = None) -> list[str]:
    """Wrapped text; its first line begins with ``first``, the others are indented as far or with ``rest``."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * len(first) if rest is None else rest,
        break_long_words=False,
        break_on_hyphens=False,
    )


def table(headings: Sequence[str], columns: Sequence[Sequence[str]]) -> list[str]:
    """Columns below their headings, aligned at their right edges and as wide as what they hold."""
    wide = [
        [cell.rjust(max(map(len, (label, *cells)))) for cell in (label, *cells)]
        for label, cells in zip(headings, columns, strict=True)
    ]
    return ["  " + "  ".join(line) for line in zip(*wide, strict=True)]


def thinned(columns: Sequence[tuple[str, Series]]) -> list[str]:
    """A table of labelled columns of the same length, with about ten of its rows."""
    rows = _spread(len(columns[0][1].values))
    return table([label for label, _ in columns], [column(series, rows) for _, series in columns])


def column(series: Series, rows: Sequence[int]) -> list[str]:
    """The unit, then the values of some rows; what is counted has no decimals."""
    values = [series.values[row] for row in rows]
    if series.unit == "1":
        return ["", *(f"{value:,.0f}" for value in values)]
    return [f"[{unit_word(series.unit)}]", *figures(values)]


def _spread(count: int) -> list[int]:
    """About ten positions out of ``count``, evenly spaced where that can be, first and last included."""
    steps = next((steps for steps in _STEPS if (count - 1) % steps == 0), _STEPS[0])
    if count <= steps:
        return list(range(count))
    return [round(step * (count - 1) / steps) for step in range(steps + 1)]


def bar(share: float, full: int) -> str:
    """A bar of ``full`` signs for a share of 1; nothing for a negative share."""
    return "#" * round(min(max(share, 0.0), 1.0) * full)


def figure(value: float) -> str:
    """A number as a person would say it: three digits, or all those before the point."""
    text = f"{value:,.{_decimals(value)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def figures(values: Sequence[float]) -> list[str]:
    """A column of numbers, all with as many decimals as the largest needs."""
    decimals = _decimals(max(values, key=abs, default=0.0))
    return [f"{value:,.{decimals}f}" for value in values]


def _decimals(value: float) -> int:
    size = abs(value)
    return 0 if size >= 99.95 else 1 if size >= 9.995 else 2  # noqa: PLR2004 - where rounding adds a digit


def said(quantity: Quantity) -> str:
    """A quantity as a person would say it."""
    return f"{figure(quantity.value)} {unit_word(quantity.unit)}".rstrip()


def unit_word(unit: str) -> str:
    """The contract's name of a unit, as it reads in a sentence."""
    return _UNIT_WORDS.get(unit, unit)


def words(code: str) -> str:
    """A code of the contract as words."""
    return code.replace("_", " ").replace("-", " ")
