"""The tank and its pressures: what the caller gave, and what follows from it for the rest."""

import functools
from typing import NamedTuple

from msgspec import UNSET, UnsetType

from upstroke_service.contract.facts import Well
from upstroke_service.contract.premises import (
    ConstantPressure,
    Premises,
    Pressures,
    PressureSwitch,
    ReliefValve,
    Tank,
)
from upstroke_service.contract.requests import SiteRequest, TankCurveRequest
from upstroke_service.physics import atmosphere
from upstroke_service.sizing import defaults
from upstroke_service.sizing.facts import OPEN_SPAN, UNLIMITED
from upstroke_service.units import UNITS

from .assumed import Reading, block
from .cushions import Cushion, kind_of, read_cushion, read_total_volume

_PSI = UNITS["pressure"]["psi"].scale

PRECHARGE_BELOW_CUT_IN = 2.0 * _PSI
PRECHARGE_OF_SET_PRESSURE = 0.7
SWITCH_RANGE = 20.0 * _PSI
HIGHEST_UNKNOWN = 50.0 * _PSI
"""Pa to stop at where nobody knows the supply's pressure: the usual cut-out of a household's pressure switch.

Common practice, no source; the tank's own rating has to be read before pumping.
"""


class Premise(NamedTuple):
    """The pressures and the tank of a site, Pa and m³.

    The ``tank_volume`` is that of all tanks, the ``atmospheric_pressure`` absolute; the ``precharge`` is
    what the ``cushion`` of air is worth now. An ``open`` tank has a start of 0, a target of OPEN_SPAN and
    no limits.
    """

    tank_volume: float
    atmospheric_pressure: float
    precharge: float
    gas_exponent: float
    start: float
    target: float
    tank_rating: float
    acceptance: float
    relief_valve: float
    highest_known_safe: float
    open: bool
    cushion: Cushion


class Supply(NamedTuple):
    """Where the supply starts and stops, Pa, and the highest of it that the caller vouched for."""

    precharge: float
    stop: float
    vouched: float


def read_premise(request: SiteRequest | TankCurveRequest, reading: Reading) -> Premise:
    """The tank and its pressures."""
    tank = block(request.tank, Tank)
    if tank.kind == "open":
        return _open_tank(request, tank, reading)
    pressures = block(request.pressures, Pressures)
    premises = block(request.site, Premises)
    target = reading.given(pressures.target)
    supply = _supply(premises.supply, reading.given(tank.precharge), target, reading)
    each = read_total_volume(tank, reading)
    cushion = read_cushion(tank, each, supply.precharge, reading)
    gas_exponent = reading.number(tank.gas_exponent, "/tank/gas_exponent")
    around = _atmosphere(request, reading)
    precharge = cushion.precharge(around, gas_exponent)
    start, target = _span(pressures, precharge, supply, reading)
    rating = reading.given(tank.maximum_working_pressure)
    relief = _relief(premises.relief_valve, reading)
    _require_consistent_pressures(tank, pressures, reading)
    _assume_unknown_strength(tank, rating, relief, supply, reading)
    return Premise(
        tank_volume=each * _count(tank, reading),
        atmospheric_pressure=around,
        precharge=precharge,
        gas_exponent=gas_exponent,
        start=start,
        target=target,
        tank_rating=UNLIMITED if rating is None else rating,
        acceptance=1.0 if tank.maximum_acceptance is UNSET else tank.maximum_acceptance,
        relief_valve=UNLIMITED if relief is None else relief,
        highest_known_safe=supply.vouched if rating is None or relief is None else UNLIMITED,
        open=False,
        cushion=cushion,
    )


def _open_tank(request: SiteRequest | TankCurveRequest, tank: Tank, reading: Reading) -> Premise:
    """A tank without pressure: nothing about pressures matters to it, and some facts can't be true of it."""
    pressures = block(request.pressures, Pressures)
    premises = block(request.site, Premises)
    impossible = {
        "/tank/precharge": tank.precharge,
        "/tank/precharge_temperature": tank.precharge_temperature,
        "/tank/air_temperature": tank.air_temperature,
        "/tank/air_volume": tank.air_volume,
        "/tank/air_pressure": tank.air_pressure,
        "/tank/maximum_working_pressure": tank.maximum_working_pressure,
        "/tank/maximum_acceptance": tank.maximum_acceptance,
        "/tank/gas_exponent": tank.gas_exponent,
        "/pressures/start": pressures.start,
        "/pressures/target": pressures.target,
    }
    stated = [pointer for pointer, fact in impossible.items() if fact is not UNSET]
    if stated:
        reading.contradict("open_tank", "/tank/kind", *stated)
    # What the supply does is nothing to an open tank, but must not contradict itself.
    beside = Reading()
    _supply(premises.supply, None, None, beside)
    reading.contradictions += beside.contradictions
    _relief(premises.relief_valve, reading)
    return Premise(
        tank_volume=read_total_volume(tank, reading) * _count(tank, reading),
        atmospheric_pressure=_atmosphere(request, reading),
        precharge=0.0,
        gas_exponent=1.0,
        start=0.0,
        target=OPEN_SPAN,
        tank_rating=UNLIMITED,
        acceptance=1.0,
        relief_valve=UNLIMITED,
        highest_known_safe=UNLIMITED,
        open=True,
        cushion=Cushion(0.0),
    )


def _atmosphere(request: SiteRequest | TankCurveRequest, reading: Reading) -> float:
    elevation = reading.number(block(request.well, Well).site_elevation, "/well/site_elevation")
    return _pressure_at(elevation)


@functools.lru_cache(maxsize=256)
def _pressure_at(elevation: float) -> float:
    """Cached: a request is read once for each answer that its questions try."""
    return float(atmosphere.pressure(elevation))


def _span(pressures: Pressures, precharge: float, supply: Supply, reading: Reading) -> tuple[float, float]:
    """Where the fill starts and where it should end, Pa. Below no pressure nothing leaves by itself."""
    start, target = reading.given(pressures.start), reading.given(pressures.target)
    if start is None:
        start = max(precharge, 0.0)
        reading.assume("/pressures/start", start)
    if target is None:
        target = supply.stop if start < supply.stop else start + SWITCH_RANGE
        reading.assume("/pressures/target", target)
    return start, target


def _assume_unknown_strength(
    tank: Tank, rating: float | None, relief: float | None, supply: Supply, reading: Reading
) -> None:
    """Note what is not known of the tank's kind and of what it stands."""
    if rating is None:
        reading.assume("/tank/maximum_working_pressure", supply.vouched)
    if relief is None:
        reading.assume("/site/relief_valve", supply.vouched)
    if tank.kind is UNSET and kind_of(tank) == "bladder":
        reading.assume("/tank/kind")


def _count(tank: Tank, reading: Reading) -> int:
    if tank.count is UNSET:
        reading.assume("/tank/count", 1.0)
        return 1
    return tank.count


def _supply(
    supply: PressureSwitch | ConstantPressure | UnsetType,
    precharge: float | None,
    target: float | None,
    reading: Reading,
) -> Supply:
    """What the supply says of the pressures; what it does not say follows from the tank or the target."""
    if isinstance(supply, ConstantPressure):
        held = reading.given(supply.set_pressure)
        vouched = HIGHEST_UNKNOWN if held is None else held
        if held is None:
            if precharge is not None:
                held = precharge / PRECHARGE_OF_SET_PRESSURE
            else:
                held = defaults.number("/site/supply/set_pressure") if target is None else target
            reading.assume("/site/supply/set_pressure", held)
        return Supply(PRECHARGE_OF_SET_PRESSURE * held, held, vouched)
    if supply is UNSET:
        reading.assume("/site/supply")
        supply = PressureSwitch()
    return _switch(supply, precharge, target, reading)


def _switch(
    switch: PressureSwitch, precharge: float | None, target: float | None, reading: Reading
) -> Supply:
    cut_in, cut_out = reading.given(switch.cut_in), reading.given(switch.cut_out)
    known_stop = cut_out if cut_out is not None or cut_in is None else cut_in + SWITCH_RANGE
    vouched = HIGHEST_UNKNOWN if known_stop is None else known_stop
    if cut_in is not None and cut_out is not None and cut_in >= cut_out:
        reading.contradict(
            "cut_in",
            "/site/supply/cut_in",
            "/site/supply/cut_out",
        )
    if cut_in is None:
        if cut_out is not None:
            cut_in = max(cut_out - SWITCH_RANGE, 0.0)
        elif precharge is not None:
            cut_in = precharge + PRECHARGE_BELOW_CUT_IN
        elif target is not None:
            cut_in = max(target - SWITCH_RANGE, 0.0)
        else:
            cut_in = defaults.number("/site/supply/cut_in")
        reading.assume("/site/supply/cut_in", cut_in)
    if cut_out is None:
        cut_out = cut_in + SWITCH_RANGE
        reading.assume("/site/supply/cut_out", cut_out)
    return Supply(max(cut_in - PRECHARGE_BELOW_CUT_IN, 0.0), cut_out, vouched)


def _relief(valve: ReliefValve | UnsetType, reading: Reading) -> float | None:
    """Set pressure of the relief valve where it is known to be fitted."""
    if valve is UNSET:
        return None
    opens = reading.given(valve.set_pressure)
    if opens is not None and valve.fitted == "no":
        reading.contradict(
            "relief_valve",
            "/site/relief_valve/fitted",
            "/site/relief_valve/set_pressure",
        )
    return opens if valve.fitted == "yes" else None


def _require_consistent_pressures(tank: Tank, pressures: Pressures, reading: Reading) -> None:
    precharge, rating = reading.given(tank.precharge), reading.given(tank.maximum_working_pressure)
    start, target = reading.given(pressures.start), reading.given(pressures.target)
    if precharge is not None and target is not None and precharge >= target:
        reading.contradict(
            "precharge_and_target",
            "/tank/precharge",
            "/pressures/target",
        )
    if start is not None and target is not None and start >= target:
        reading.contradict("start_and_target", "/pressures/start", "/pressures/target")
    if precharge is not None and rating is not None and precharge >= rating:
        reading.contradict(
            "precharge_and_rating",
            "/tank/precharge",
            "/tank/maximum_working_pressure",
        )
