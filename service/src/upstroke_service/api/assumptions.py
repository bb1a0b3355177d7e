"""Presenting what was assumed."""

import functools
from collections.abc import Iterable

from msgspec import UNSET, UnsetType

from upstroke_service.contract import answered
from upstroke_service.contract.quantities import (
    Exertion,
    FlowRate,
    HandForce,
    Head,
    Minutes,
    Pressure,
    Size,
    StrokeRate,
    Temperature,
    WaterVolume,
    WellCapacity,
)
from upstroke_service.reference.sources import source
from upstroke_service.sizing import defaults

from .assumed import Assumed
from .style import Kind, Style

KINDS: dict[str, Kind] = {
    "/well/static_water_level": Head,
    "/well/sustained_yield": FlowRate,
    "/well/specific_capacity": WellCapacity,
    "/well/casing_inside_diameter": Size,
    "/well/water_temperature": Temperature,
    "/well/site_elevation": Head,
    "/pump/outlet_height": Head,
    "/pump/cylinder_depth": Head,
    "/pump/weep_hole/diameter": Size,
    "/pump/weep_hole/depth_below_outlet": Head,
    "/conduit/runs": Head,
    "/conduit/rise": Head,
    "/conduit/cracking_pressure": Pressure,
    "/tank/total_volume": WaterVolume,
    "/tank/precharge": Pressure,
    "/tank/precharge_temperature": Temperature,
    "/tank/air_temperature": Temperature,
    "/tank/air_volume": WaterVolume,
    "/tank/air_pressure": Pressure,
    "/tank/maximum_working_pressure": Pressure,
    "/site/relief_valve": Pressure,
    "/site/supply/cut_in": Pressure,
    "/site/supply/cut_out": Pressure,
    "/site/supply/set_pressure": Pressure,
    "/pressures/start": Pressure,
    "/pressures/target": Pressure,
    "/operator/sustained_power": Exertion,
    "/operator/hand_force_limit": HandForce,
    "/operator/cadence": StrokeRate,
    "/operator/session": Minutes,
    "/needs/floor_rise": Head,
    "/selection/cylinders/seal_drag": HandForce,
    "/selection/cylinders/outside_diameter": Size,
}
"""Kind of output of each assumed quantity; what is not here is a plain number or a word."""


def describe(assumed: Assumed, how: Style) -> str:
    """An assumption as a sentence."""
    kind = KINDS.get(assumed.field)
    words: dict[str, str] = {}
    if assumed.value is not None:
        words["value"] = how.text(kind, assumed.value) if kind else f"{assumed.value:g}"
        if assumed.field == "/operator/cadence":
            words["value"] = f"{60.0 * assumed.value:.0f}"
    if assumed.field == "/conduit/runs" and assumed.other is not None:
        words["bore"] = how.text(Size, assumed.other)
    return how.words.say("assumption", assumed.field, **words)


@functools.lru_cache(maxsize=4096)
def _assumption(assumed: Assumed, how: Style) -> answered.Assumption:
    """One assumption; cached, since most requests share most of them."""
    kind = KINDS.get(assumed.field)
    row = defaults.table()[assumed.field]
    number: float | UnsetType = UNSET
    if assumed.value is not None:
        number = how.number(kind, assumed.value) if kind else assumed.value
    return answered.Assumption(
        pointer=assumed.pointer,
        text=describe(assumed, how),
        basis=source(row.source).citation,
        value=number,
        unit=how.unit(kind) if kind and assumed.value is not None else UNSET,
    )


def assumptions(assumed: Iterable[Assumed], how: Style) -> list[answered.Assumption]:
    """Every assumption as part of an answer, in the order of the request's facts."""
    return [_assumption(one, how) for one in sorted(assumed, key=lambda one: one.pointer)]
