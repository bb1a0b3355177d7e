"""A sizing as a compact piece of HTML, as notebooks show it."""

from collections.abc import Iterable, Sequence
from html import escape
from typing import Final

from ._layout import said, words
from ._models import Candidate, Sizing

# Borders and weights instead of colours: it reads in grey, on dark pages and by a screen reader.
_RULE: Final = "border-bottom:1px solid currentColor"
_LEFT: Final = "text-align:left;padding:.15em .8em .15em 0;vertical-align:top"
_RIGHT: Final = "text-align:right;padding:.15em .8em .15em 0;vertical-align:top"
_MOST_URGENT: Final = frozenset({"danger", "warning"})


def page(sizing: Sizing) -> str:
    """Summary, candidates, cautions, questions and assumptions; whatever is text of others is escaped."""
    parts = [f"<p><strong>{escape(words(sizing.verdict))}</strong>: {escape(sizing.summary)}</p>"]
    if sizing.catalogue.invented:
        parts.append(f"<p><em>{escape(sizing.catalogue.notice)}</em></p>")
    if sizing.candidates:
        parts.append(_candidates(sizing))
    parts += _cautions(sizing)
    parts += _folded(
        "Questions whose answers could change this", [(one.pointer, one.text) for one in sizing.questions]
    )
    parts += _folded("Assumptions", [(one.pointer, one.text) for one in sizing.assumptions])
    parts.append(f"<p><small>{escape(sizing.scope)}</small></p>")
    return f'<div style="max-width:60em">{"".join(parts)}</div>'


def _candidates(sizing: Sizing) -> str:
    rows = [_row(candidate, candidate.cylinder.id == sizing.recommended) for candidate in sizing.candidates]
    headings = (
        "Cylinder",
        "Outcome",
        "Total head",
        "Rated lift",
        "Fill ends at",
        "Strokes",
        "Time",
        "Hand force",
    )
    head = "".join(
        f'<th scope="col" style="{_LEFT if place < _WORDY else _RIGHT};{_RULE}">{heading}</th>'
        for place, heading in enumerate(headings)
    )
    return (
        f'<table style="border-collapse:collapse"><thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )


_WORDY: Final = 2
"""Columns of the table that hold words."""


def _row(candidate: Candidate, recommended: bool) -> str:  # noqa: FBT001 - one row's own fact
    name = escape(candidate.cylinder.name)
    cells = [
        escape(words(candidate.outcome)),
        said(candidate.lift_budget.total_head),
        said(candidate.lift_budget.rated_lift),
        said(candidate.fill.end),
        f"{candidate.fill.strokes:,.0f}",
        said(candidate.fill.time),
        said(candidate.effort.hand_force),
    ]
    first = f"<strong>{name}</strong> (recommended)" if recommended else name
    data = "".join(
        f'<td style="{_LEFT if place == 0 else _RIGHT}">{escape(cell)}</td>'
        for place, cell in enumerate(cells)
    )
    return f'<tr><th scope="row" style="{_LEFT};font-weight:normal">{first}</th>{data}</tr>'


def _cautions(sizing: Sizing) -> list[str]:
    """Those of the two gravest signal words in full, the others folded."""
    urgent = [one for one in sizing.cautions if one.signal in _MOST_URGENT]
    others = [(one.signal, one.text) for one in sizing.cautions if one.signal not in _MOST_URGENT]
    items = "".join(f"<li><strong>{escape(one.signal)}</strong>: {escape(one.text)}</li>" for one in urgent)
    return ([f"<ul>{items}</ul>"] if items else []) + _folded("Further cautions", others)


def _folded(heading: str, lines: Sequence[tuple[str, str]] | Iterable[tuple[str, str]]) -> list[str]:
    items = [f"<li><code>{escape(name)}</code> {escape(text)}</li>" for name, text in lines]
    if not items:
        return []
    return [f"<details><summary>{heading} ({len(items)})</summary><ul>{''.join(items)}</ul></details>"]
