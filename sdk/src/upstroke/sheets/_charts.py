"""The sheet that comes first: what the others hold, counted, and charts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from ._rows import letters
from ._writing import LAST_ROW, Book, write_cell

RESULTS: Final = "Results"
MOST_BARS: Final = 60
"""Sites that a chart with one bar for each can show and stay readable."""

_BLUE, _ORANGE = "#1F4E79", "#E07B00"
_SIZE: Final = {"width": 980, "height": 380}


@dataclass(frozen=True)
class Overview:
    """What the first sheet says.

    Attributes:
        source: the table that was read.
        lines: what a reader must know, sentence by sentence.
        statuses: how many rows came to what.
        verdicts: how many sites got which verdict.
    """

    source: str
    lines: Sequence[str]
    statuses: Mapping[str, int]
    verdicts: Mapping[str, int]


def write_overview(book: Book, sheet: Any, overview: Overview, titles: Sequence[str], rows: int) -> None:
    """Write the first sheet.

    Args:
        book: what it is in.
        sheet: empty.
        overview: what to say.
        titles: of the columns of the results.
        rows: how many results there are.
    """
    sheet.set_column(0, 0, 44)
    write_cell(sheet, 0, 0, f"Hand pumps for the sites of {overview.source}", book.formats.title)
    row = 1
    for line in overview.lines:
        write_cell(sheet, row, 0, line)
        row += 1
    for heading, column, counts in (
        ("Rows", "Status", overview.statuses),
        ("Verdicts", "Verdict", overview.verdicts),
    ):
        row += 1
        write_cell(sheet, row, 0, heading, book.formats.header)
        write_cell(sheet, row, 1, "Sites", book.formats.header)
        for text, count in counts.items():
            row += 1
            write_cell(sheet, row, 0, text)
            sheet.write_formula(row, 1, f"=COUNTIF({_range(titles, column, rows)},A{row + 1})", None, count)
        row += 1
    for chart in _charts(book, titles, rows):
        sheet.insert_chart(row + 1, 0, chart)
        row += 20


def _charts(book: Book, titles: Sequence[str], rows: int) -> list[Any]:
    force, margin, head = (_titled(titles, name) for name in ("Hand force", "Margin", "Total head"))
    if not (force and margin and head):  # nothing was sized
        return []
    shown = min(rows, MOST_BARS)
    part = f" (the first {shown} of {rows} rows)" if shown < rows else ""

    effort = book.workbook.add_chart({"type": "column"})
    effort.add_series(_series(titles, force, shown, fill={"color": _BLUE}))
    line = book.workbook.add_chart({"type": "line"})
    dots = {"type": "diamond", "size": 7, "fill": {"color": _ORANGE}}
    line.add_series(_series(titles, "Strokes", shown, y2_axis=True, line={"color": _ORANGE}, marker=dots))
    effort.combine(line)
    line.set_y2_axis({"name": "Strokes of one fill", "min": 0})
    _name(effort, f"Hand force and strokes by site{part}", "Site", force)

    room = book.workbook.add_chart({"type": "column"})
    room.add_series(_series(titles, margin, shown, fill={"color": _BLUE}, invert_if_negative=True))
    _name(room, f"Margin of the rated lift over the total head by site{part}", "Site", margin)

    spread = book.workbook.add_chart({"type": "scatter"})
    spread.add_series(
        {
            "name": force,
            "categories": f"={_range(titles, head, rows)}",
            "values": f"={_range(titles, force, rows)}",
            "marker": {"type": "circle", "size": 5, "fill": {"color": _BLUE}},
        }
    )
    _name(spread, "Hand force by total head, all sites", head, force)
    return [effort, room, spread]


def _series(titles: Sequence[str], title: str, rows: int, **look: object) -> dict[str, object]:
    return {
        "name": title,
        "categories": f"='{RESULTS}'!$B$2:$B${rows + 1}",
        "values": f"={_range(titles, title, rows)}",
        **look,
    }


def _name(chart: Any, title: str, across: str, up: str) -> None:
    chart.set_title({"name": title, "name_font": {"size": 12}})
    chart.set_x_axis({"name": across, "label_position": "low"})
    chart.set_y_axis({"name": up})
    chart.set_legend({"position": "bottom"})
    chart.set_size(_SIZE)


def _titled(titles: Sequence[str], start: str) -> str:
    """The title that names a quantity with its unit, or nothing; the last one, for inputs stand before results."""
    return next((title for title in reversed(titles) if title.startswith(f"{start} [")), "")


def _range(titles: Sequence[str], title: str, rows: int) -> str:
    # An input may have the same title; the results stand behind the inputs.
    column = letters(len(titles) - 1 - list(reversed(titles)).index(title))
    return f"'{RESULTS}'!${column}$2:${column}${min(max(rows, 1), LAST_ROW) + 1}"
