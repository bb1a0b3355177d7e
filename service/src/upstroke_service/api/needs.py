"""What people, uses and animals need every day, and how much pumping that is."""

import math
from typing import NamedTuple

import msgspec
from msgspec import UNSET, UnsetType

from upstroke_service.contract import answered
from upstroke_service.contract.household import DailyNeeds, NeedLine
from upstroke_service.contract.premises import Needs
from upstroke_service.contract.quantities import DailyVolume, Minutes, WaterVolume
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE
from upstroke_service.reference.sources import source
from upstroke_service.sizing import assessment, defaults, needs, storage
from upstroke_service.sizing import reserve as reserves
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.facts import Site
from upstroke_service.sizing.needs import DAY, Line, Volumes
from upstroke_service.sizing.remedies import only
from upstroke_service.units import significant_number

from .assumed import Reading, block
from .reasons import finding
from .reserve import least_pressure
from .style import Style

DEFAULT_LEVEL = str(defaults.table()["/needs/level"].value)
"""The level that counts where none is stated."""

NOTHING = 1e-6
"""Water of a fill in m³ below which it is no water: a millilitre."""


class NeedFacts(NamedTuple):
    """Who and what needs water: lines of people, uses and animals, and where the water is used."""

    lines: list[Line]
    floor_rise: float


class Refill(NamedTuple):
    """One fill from the least pressure that is of use: ``water`` m³; strokes and seconds where a pump is known."""

    water: float
    strokes: float | None = None
    seconds: float | None = None


def read_needs(stated: Needs | UnsetType, site: Site, reading: Reading) -> NeedFacts:
    """Who and what needs water; what was left out is noted as assumed.

    Where no people, uses or animals are stated at all, some people are assumed.
    """
    given = block(stated, Needs)
    uses = [] if given.uses is UNSET else [(use.kind, use.count) for use in given.uses]
    herds = [] if given.herds is UNSET else [(herd.kind, float(herd.count)) for herd in given.herds]
    if given.people is not UNSET:
        people = given.people
    else:
        people = 0 if uses or herds else int(defaults.number("/needs/people"))
        reading.assume("/needs/people", float(people))
    level = DEFAULT_LEVEL if given.level is UNSET else given.level
    if given.level is UNSET and people:
        reading.assume("/needs/level")
    return NeedFacts(needs.lines(people, level, uses, herds), read_floor_rise(stated, site, reading))


def read_floor_rise(stated: Needs | UnsetType, site: Site, reading: Reading) -> float:
    """Height in m of the floor with the fixtures above the tank's gauge; noted as assumed where left out."""
    given = block(stated, Needs).floor_rise
    if site.open and given is UNSET:
        return 0.0
    return reading.number(given, "/needs/floor_rise")


def refill(found: Assessment, site: Site, place: int, floor_rise: float) -> Refill:
    """A fill of a single ``site`` with the candidate at ``place``, from the least pressure that is of use.

    That is where the next fill begins, wherever the first one did; it ends where that one ended.
    """
    lowest = least_pressure(site, floor_rise)
    fill = found.fill.of(slice(place, place + 1))
    if not site.open and lowest != float(storage.start_of_storage(site)):
        changed = msgspec.structs.replace(site, start=lowest, target=max(float(fill.end.item()), lowest))
        fill = assessment.work(changed, only(found.op.lineup, place), stop_at_ceiling=False).fill
    return Refill(*(float(value.item()) for value in (fill.volume, fill.strokes, fill.seconds)))


def refill_without_pump(site: Site, floor_rise: float) -> Refill:
    """The water of such a fill where no pump is known that does it."""
    lowest = least_pressure(site, floor_rise)
    return Refill(float(reserves.usable_volume(site, reserves.end_without_pump(site), lowest)))


def daily(facts: NeedFacts, site: Site, one: Refill, style: Style) -> DailyNeeds:
    """Every day's needs, with the pumping they take by fills as the ``one``."""
    total = needs.total(facts.lines)
    pumped = needs.day(total.usual, one.water, one.strokes or 0.0, one.seconds or 0.0)
    fills, strokes, seconds = (float(value) for value in pumped)
    low, usual, high = (style.measured(DailyVolume, volume / DAY) for volume in total)
    by_hand = one.water > NOTHING and one.strokes is not None
    return DailyNeeds(
        summary=_summary(
            total,
            one,
            fills,
            strokes,
            seconds,
            style,
            animals=any(line.kind in LIVESTOCK for line in facts.lines),
        ),
        lines=[_line(line, style) for line in facts.lines],
        total=usual,
        low=low,
        high=high,
        fills_a_day=significant_number(fills) if one.water > NOTHING else UNSET,
        strokes_a_day=significant_number(strokes) if by_hand else UNSET,
        minutes_a_day=style.measured(Minutes, seconds) if by_hand else UNSET,
        findings=_day_findings(facts, site, total, seconds if by_hand else 0.0, style),
    )


def _summary(
    total: Volumes,
    one: Refill,
    fills: float,
    strokes: float,
    seconds: float,
    style: Style,
    *,
    animals: bool,
) -> str:
    if total.high <= 0.0:
        return style.words.say("daily", "nothing")
    numbers = {
        "total": style.text(DailyVolume, total.usual / DAY),
        "low": style.text(DailyVolume, total.low / DAY),
        "high": style.text(DailyVolume, total.high / DAY),
        "water": style.text(WaterVolume, one.water),
        "fills": _spoken(fills),
        "days": _spoken(1.0 / fills) if fills > 0.0 else "",
        "strokes": f"{float(f'{strokes:.2g}'):,.0f}",
        "minutes": style.duration(seconds),
    }
    varies = "needed_with_animals" if animals else "needed"
    needed = style.words.say("daily", varies if total.high > total.low else "needed_exactly", **numbers)
    if one.water <= NOTHING:
        return needed
    lasting = "lasts" if fills < 1.0 else "fills"
    code = lasting if one.strokes is None else f"{lasting}_by_hand"
    return f"{needed} {style.words.say('daily', code, **numbers)}"


def _spoken(number: float) -> str:
    """A number of fills or days as people say it: one digit behind the point below ten, and none if it is 0."""
    return f"{number:,.1f}".removesuffix(".0") if number < 9.95 else f"{number:,.0f}"  # noqa: PLR2004 - rounds to 10


def _line(line: Line, style: Style) -> NeedLine:
    volumes = line.daily
    low, usual, high = (style.measured(DailyVolume, volume / DAY) for volume in volumes)
    one = math.isclose(line.number, 1.0)
    text = style.words.say(
        "need_one" if one else "need_many",
        line.kind,
        count=f"{line.number:,.10g}",
        daily=style.text(DailyVolume, volumes.usual / DAY),
        volume=style.text(WaterVolume, line.each.usual),
    )
    return NeedLine(
        code=line.kind,
        text=text,
        varies=_varies(line, style),
        count=line.number,
        each=style.measured(DailyVolume, line.each.usual / DAY),
        daily=usual,
        low=low,
        high=high,
        basis=[answered.Source(key=key, citation=source(key).citation) for key in _basis(line.kind)],
    )


def _varies(line: Line, style: Style) -> str | UnsetType:
    """What makes the low and the high figure differ; nothing is said of uses, which take what they take."""
    if line.kind in fixtures.USES:
        return UNSET
    low, _, high = (style.text(DailyVolume, volume / DAY) for volume in line.daily)
    return style.words.say("need_range", line.kind, low=low, high=high)


def _basis(kind: str) -> list[str]:
    """Keys of the sources of a line, low to high, each once."""
    if kind in fixtures.USES:
        return [fixtures.USES[kind].source]
    need = PEOPLE[kind] if kind in PEOPLE else LIVESTOCK[kind]
    return list(dict.fromkeys(figure.source for _, figure in need.figures()))


def _day_findings(
    facts: NeedFacts, site: Site, total: Volumes, seconds: float, style: Style
) -> list[answered.Finding]:
    """What a day of pumping asks for: sessions, too many of them, less through the tank, more than the well gives."""
    found: list[answered.Finding] = []
    animals = needs.total(line for line in facts.lines if line.kind in LIVESTOCK)
    if animals.usual > 0.0 and not site.open:
        drunk = style.text(DailyVolume, animals.usual / DAY)
        code = "animals_without_pressure"
        found.append(finding(style, code, DailyVolume, animals.usual / DAY, None, animals=drunk))
    session, given = float(site.session), float(site.sustained_yield)
    if seconds > session:
        too_long = seconds > needs.MOST_SESSIONS * session
        code = "day_too_long" if too_long else "sessions_a_day"
        texts = {
            "time": style.duration(seconds),
            "count": f"{math.ceil(seconds / session - 1e-9):,}",
            "longest": style.duration(session),
            "most": str(needs.MOST_SESSIONS),
        }
        limit = needs.MOST_SESSIONS * session if too_long else session
        found.append(finding(style, code, Minutes, seconds, limit, **texts))
    if total.usual / DAY > given:
        code = "well_gives_less"
        amounts = {
            "given": style.text(DailyVolume, given),
            "total": style.text(DailyVolume, total.usual / DAY),
        }
        found.append(finding(style, code, DailyVolume, total.usual / DAY, given, **amounts))
    return found
