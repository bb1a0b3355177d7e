"""Presenting what one fill gives: usable water, what it covers, and what falls short."""

import math
from typing import Final

import msgspec
from msgspec import UNSET

from upstroke_service.contract.answered import Finding, Source
from upstroke_service.contract.household import Reserve, Use
from upstroke_service.contract.quantities import FlowRate, Pressure, WaterVolume
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import person
from upstroke_service.reference.sources import source
from upstroke_service.sizing import reserve as reserves
from upstroke_service.sizing import storage
from upstroke_service.sizing.facts import UNLIMITED, Site

from .reasons import finding
from .style import Style

FLUSH: Final = "toilet_flush"
ENOUGH: Final = 1.0 - 1e-5
"""Share of a volume that counts as the whole of it: what a tank named in an answer, rounded, falls short by."""

PERSON_DAY: Final = "basic"
"""Level of the day of one person that a reserve is compared with."""


def least_pressure(site: Site, floor_rise: float) -> float:
    """Gauge pressure in Pa down to which a fill of a single ``site`` is of use to anyone."""
    return min(float(reserves.lowest_pressure(site, use, floor_rise)) for use in fixtures.USES)


def reserve(site: Site, end: float, floor_rise: float, style: Style) -> Reserve:
    """What a fill of a single ``site`` up to a gauge pressure ``end`` in Pa is good for.

    ``floor_rise`` is the height in m of the floor with the fixtures above the tank's gauge.
    """
    lowest = least_pressure(site, floor_rise)
    water = float(reserves.usable_volume(site, end, lowest))
    found, serving = _falling_short(site, end, floor_rise, water, style)
    covers = [
        *(_use(site, use, end, floor_rise, style) for use in fixtures.USES),
        _person_day(water, style),
    ]
    return Reserve(
        summary=_summary(water, covers, style),
        water=style.measured(WaterVolume, water),
        from_pressure=style.measured(Pressure, float(storage.shown(site, end))),
        to_pressure=style.measured(Pressure, lowest),
        covers=covers,
        serving_tank=style.measured(WaterVolume, serving) if serving < UNLIMITED else UNSET,
        findings=found,
    )


def _summary(water: float, covers: list[Use], style: Style) -> str:
    """What a fill covers, each use in whole numbers, without what it does not cover once."""
    if water <= 0.0:
        return style.words.say("reserve", "nothing")
    whole = [(use.code, math.floor(use.count)) for use in covers]
    uses = [
        style.words.say("covered_one" if count == 1 else "covered_many", code, count=f"{count:,}")
        for code, count in whole
        if count
    ]
    amount = style.text(WaterVolume, water)
    if not uses:
        return style.words.say("reserve", "little", water=amount)
    if len(uses) == 1:
        return style.words.say("reserve", "covers_one", water=amount, uses=uses[0])
    either = style.words.say("covered", "or", first=", ".join(uses[:-1]), last=uses[-1])
    return style.words.say("reserve", "covers", water=amount, uses=either)


def _times(water: float, volume: float) -> float:
    """How often ``water`` m³ is enough for ``volume`` m³, to one decimal, never more than it is."""
    return math.floor(10.0 * water / (volume * ENOUGH)) / 10.0


def _use(site: Site, use: str, end: float, floor_rise: float, style: Style) -> Use:
    row = fixtures.USES[use]
    lowest = float(reserves.lowest_pressure(site, use, floor_rise))
    water = float(reserves.usable_volume(site, end, lowest))
    if site.open:
        return _covered(use, water, row.volume, row.source, style)
    flow, last = (
        float(reserves.flow_at_fixture(site, use, pressure, floor_rise))
        for pressure in (end, min(lowest, end))
    )
    return msgspec.structs.replace(
        _covered(use, water, row.volume, row.source, style),
        to_pressure=style.measured(Pressure, lowest),
        flow=style.measured(FlowRate, flow),
        last_flow=style.measured(FlowRate, last),
    )


def _person_day(water: float, style: Style) -> Use:
    need = person(PERSON_DAY).usual
    return _covered("person_day", water, need.volume, need.source, style)


def _covered(code: str, water: float, volume: float, key: str, style: Style) -> Use:
    """How often ``water`` m³ is enough for ``volume`` m³, as the source ``key`` has it."""
    count = _times(water, volume)
    words = "use_one" if math.floor(count) == 1 else "use"
    return Use(
        code=code,
        text=style.words.say(words, code, volume=style.text(WaterVolume, volume)),
        count=count,
        basis=Source(key=key, citation=source(key).citation),
    )


def _falling_short(
    site: Site, end: float, floor_rise: float, water: float, style: Style
) -> tuple[list[Finding], float]:
    """What keeps a fill from serving one toilet flush, with the total volume of the tank that would serve.

    UNLIMITED where this tank serves, or where none would.
    """
    flush = fixtures.USES[FLUSH].volume
    lowest = float(reserves.lowest_pressure(site, FLUSH, floor_rise))
    usable = float(reserves.usable_volume(site, end, lowest))
    if usable >= ENOUGH * flush:
        return [], UNLIMITED
    serving = float(reserves.serving_tank_volume(site, end, lowest, flush))
    texts = {
        "end": style.text(Pressure, end),
        "lowest": style.text(Pressure, lowest),
        "flush": style.text(WaterVolume, flush),
        "usable": style.text(WaterVolume, usable),
    }
    if water <= 0.0:
        least = least_pressure(site, floor_rise)
        least_text = style.text(Pressure, least)
        return [finding(style, "nothing_usable", Pressure, end, least, **texts, least=least_text)], UNLIMITED
    if serving >= UNLIMITED:
        code = "flush_needs_more_pressure" if end > lowest else "flush_needs_pressure"
        return [finding(style, code, Pressure, end, lowest, **texts)], UNLIMITED
    tank = style.text(WaterVolume, serving)
    return [finding(style, "tank_too_small", WaterVolume, usable, flush, **texts, tank=tank)], serving
