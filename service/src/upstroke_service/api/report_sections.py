"""The parts of a report that are text and tables, each from its part of the answer."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

import msgspec
from msgspec import UNSET

from upstroke_service.contract.answered import Series, Source
from upstroke_service.contract.answers import Candidate, DepthTable, FillColumns, Sizing
from upstroke_service.contract.hookup_ways import HookupStep
from upstroke_service.contract.household import DailyNeeds, Reserve
from upstroke_service.contract.quantities import Measured
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.reference.sources import source
from upstroke_service.report.content import Block, Item, Items, Record, Section, Table, Text

from .style import SMALL, Style

_NONE: Final = "–"
"""In place of a number that there is not."""

_UNSOURCED: Final = "common-practice"
"""Key of what has no source."""


class Teller:
    """How a report says numbers and sentences."""

    def __init__(self, style: Style) -> None:
        """Of an answer in a ``style``."""
        self.style = style
        self.say = style.words.say
        self.open_tank = style.words.open_tank

    def amount(self, quantity: Measured) -> str:
        """A quantity with its unit, as sentences have it."""
        out = self.style.outputs[type(quantity)]
        return self.style.text(type(quantity), quantity.value * out.scale + out.offset)

    def count(self, number: float) -> str:
        """A number without a unit."""
        return f"{number:,.0f}" if abs(number) >= SMALL else f"{number:,.2g}"

    def section(self, name: str, /, *blocks: Block, small: bool = False, **words: object) -> Section:
        """A section with its heading."""
        return Section(name, self.say("report_section", name, **words), list(blocks), small)

    def column(self, *codes: str) -> list[str]:
        """Titles of columns."""
        return [self.say("report_column", code) for code in codes]


class Cited:
    """The sources that a report names, numbered as they come."""

    def __init__(self) -> None:
        """None yet."""
        self.numbers: dict[str, int] = {}
        self.citations: list[str] = []

    def said(self, sources: Iterable[Source]) -> list[str]:
        """What names ``sources`` by number; none where there are none."""
        numbers = sorted({self._number(source) for source in sources if source.key != _UNSOURCED})
        named = ", ".join(map(str, numbers))
        return [f"[{named}]"] if named else []

    def _number(self, source: Source) -> int:
        if source.citation not in self.numbers:
            self.citations.append(source.citation)
            self.numbers[source.citation] = len(self.citations)
        return self.numbers[source.citation]


def listed(sentences: Sequence[str]) -> Items:
    """Sentences as a list."""
    return Items([Item(text) for text in sentences])


def fill_table(curve: FillColumns, rows: int, tell: Teller) -> Table:
    """Points along a fill, evenly from its start to its end."""
    columns: dict[str, Series] = {
        "pressure": curve.pressure,
        "stored": curve.water,
        "strokes": curve.strokes,
        "time": curve.time,
        "force": curve.hand_force,
    }
    if tell.open_tank:
        del columns["pressure"]
    last = len(curve.pressure.values) - 1
    places = sorted({round(step * last / (rows - 1)) for step in range(rows)})
    titles = [
        tell.say("report_fill", code) + ("" if column.unit == "1" else f", {column.unit}")
        for code, column in columns.items()
    ]
    cells = [[tell.count(column.values[place]) for column in columns.values()] for place in places]
    return Table(titles, [True] * len(titles), cells)


def supply(answer: Sizing, tell: Teller) -> list[Section]:
    """What one fill gives, and what every day needs."""
    found = []
    if answer.reserve is not UNSET:
        found.append(tell.section("gives", *_reserve(answer.reserve)))
    if answer.needs is not UNSET:
        found.append(tell.section("daily", *_needs(answer.needs, tell)))
    return found


def _reserve(reserve: Reserve) -> list[Block]:
    said = [finding.text for finding in reserve.findings]
    return [Text(reserve.summary), *([listed(said)] if said else [])]


def _needs(needs: DailyNeeds, tell: Teller) -> list[Block]:
    rows = [
        [line.text, tell.count(line.count), tell.amount(line.each), tell.amount(line.daily)]
        for line in needs.lines
    ]
    columns = tell.column("use", "number", "each", "daily")
    said = [finding.text for finding in needs.findings]
    return [
        Text(needs.summary),
        *([Table(columns, [False, True, True, True], rows)] if rows else []),
        *([listed(said)] if said else []),
    ]


def connection(answer: Sizing, tell: Teller, cited: Cited) -> list[Section]:
    """The best hookup: when it may be used, what to look at, what to have, and its steps by phase."""
    if answer.hookup is UNSET:
        return []
    way = answer.hookup
    blocks: list[Block] = [Text(way.text)]
    for code, tasks in (("conditions", way.conditions), ("checks", way.checks)):
        if tasks:
            items = [Item(task.text, details=[task.who, *cited.said(task.basis)]) for task in tasks]
            blocks.append(Items(items, tell.say("report_phase", code)))
    if way.parts:
        have = [Item(f"{part.quantity} × {part.text}") for part in way.parts]
        blocks.append(Items(have, tell.say("report_phase", "have")))
    if answer.procedure is not UNSET:
        blocks += _phases(answer.procedure, tell)
    return [tell.section("connect", *blocks, name=way.name, small=True)]


def _phases(steps: Sequence[HookupStep], tell: Teller) -> list[Block]:
    """The steps, each phase under its heading, numbered through."""
    phases: dict[str, list[HookupStep]] = {}
    for step in steps:
        phases.setdefault(step.phase, []).append(step)
    return [
        Items(
            [Item(step.text, details=[step.who]) for step in some],
            tell.say("report_phase", phase),
            some[0].number,
        )
        for phase, some in phases.items()
    ]


def parts(answer: Sizing, tell: Teller) -> list[Section]:
    """What to quote."""
    if answer.parts is UNSET or not answer.parts:
        return []
    rows = [
        [
            part.name,
            part.sku,
            str(part.quantity),
            ""
            if part.price is UNSET
            else f"{part.price:,.2f} {'' if part.currency is UNSET else part.currency}",
        ]
        for part in answer.parts
    ]
    columns = tell.column("part", "number", "quantity", "price")
    return [tell.section("parts", Table(columns, [False, False, True, True], rows))]


def cautions(answer: Sizing, tell: Teller, cited: Cited) -> list[Section]:
    """What could hurt someone or break something, worst first."""
    if not answer.cautions:
        return []
    items = [
        Item(
            one.text,
            tell.say("report_signal", one.signal),
            [f"{one.why} {one.who}", *cited.said(one.basis)],
        )
        for one in answer.cautions
    ]
    return [tell.section("cautions", Items(items), small=True)]


def comparison(answer: Sizing, names: Mapping[str, str], tell: Teller) -> list[Section]:
    """All candidates, best first; without the depth to the water, what would fit at which depth.

    ``names`` are those of the cylinders by their ids.
    """
    found = []
    if answer.candidates:
        codes = ("cylinder", "outcome", "head", "rated", "reaches", "strokes", "time", "force")
        rows = [_compared(one, tell) for one in answer.candidates]
        found.append(
            tell.section(
                "cylinders", Table(tell.column(*codes), [False, False, *[True] * (len(codes) - 2)], rows)
            )
        )
    if answer.depth_table is not UNSET:
        found.append(tell.section("depths", _depths(answer.depth_table, names, tell)))
    return found


def _compared(one: Candidate, tell: Teller) -> list[str]:
    fits = one.outcome != "does_not_fit"
    filled = [tell.amount(one.fill.end), tell.count(one.fill.strokes), tell.amount(one.fill.time)]
    return [
        one.cylinder.name,
        tell.say("report_outcome", one.outcome),
        tell.amount(one.lift_budget.total_head),
        tell.amount(one.lift_budget.rated_lift),
        *(filled if fits else [_NONE] * len(filled)),
        tell.amount(one.effort.hand_force),
    ]


def _depths(table: DepthTable, names: Mapping[str, str], tell: Teller) -> Table:
    rows = []
    for place, best in enumerate(table.best):
        numbers = [table.hand_force, table.time]
        rows.append(
            [
                f"{tell.count(table.static_water_level.values[place])} {table.static_water_level.unit}",
                tell.count(table.fitting.values[place]),
                names.get(best, tell.say("report", "none")),
                *(f"{tell.count(one.values[place])} {one.unit}" if best else _NONE for one in numbers),
            ]
        )
    return Table(
        tell.column("depth", "fitting", "best", "force", "time"), [True, True, False, True, True], rows
    )


def questions(answer: Sizing, tell: Teller) -> list[Section]:
    """What to find out."""
    if not answer.questions:
        return []
    asked = [
        Item(one.text, details=[one.why, *([] if one.consequence is UNSET else [one.consequence])])
        for one in answer.questions
    ]
    return [tell.section("questions", Items(asked, first=1), small=True)]


def basis(answer: Sizing, tell: Teller, cited: Cited) -> list[Section]:
    """What was assumed, and the sources by number."""
    found = []
    if answer.assumptions:
        unsourced = source(_UNSOURCED).citation
        items = [
            Item(one.text, details=[] if one.basis == unsourced else [f"({one.basis})"])
            for one in answer.assumptions
        ]
        found.append(
            tell.section("assumed", Text(tell.say("report_text", "unsourced")), Items(items), small=True)
        )
    if cited.citations:
        sources = Items([Item(citation) for citation in cited.citations], first=1)
        found.append(tell.section("sources", sources, small=True))
    return found


def record(request: SizingRequest, tell: Teller) -> Section:
    """The request itself."""
    text = msgspec.json.format(msgspec.json.encode(request), indent=0).decode()
    return tell.section("request", Record(text), small=True)
