"""The tank and its pressures: what the caller gave, and what follows from it for the rest."""

from typing import NamedTuple

from msgspec import UNSET, UnsetType

from upstroke_service.contract.premises import (
    ConstantPressure,
    Premises,
    Pressures,
    PressureSwitch,
    ReliefValve,
    Tank,
)
from upstroke_service.contract.requests import SiteRequest, TankCurveRequest
from upstroke_service.sizing import defaults
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.units import UNITS

from .assumed import Reading, block

_PSI = UNITS["pressure"]["psi"].scale

PRECHARGE_BELOW_CUT_IN = 2.0 * _PSI
PRECHARGE_OF_SET_PRESSURE = 0.7
SWITCH_RANGE = 20.0 * _PSI
HIGHEST_UNKNOWN = 50.0 * _PSI
"""Pa to stop at where nobody knows the supply's pressure: the usual cut-out of a household's pressure switch.

Common practice, no source; the tank's own rating has to be read before pumping.
"""


class Premise(NamedTuple):
    """The pressures and the tank of a site, Pa and m³."""

    tank_volume: float
    precharge: float
    gas_exponent: float
    start: float
    target: float
    tank_rating: float
    acceptance: float
    relief_valve: float
    highest_known_safe: float
    open: bool


class Supply(NamedTuple):
    """Where the supply starts and stops, Pa, and the highest of it that the caller vouched for."""

    precharge: float
    stop: float
    vouched: float


def read_premise(request: SiteRequest | TankCurveRequest, reading: Reading) -> Premise:
    """The tank and its pressures."""
    tank = block(request.tank, Tank)
    pressures = block(request.pressures, Pressures)
    premises = block(request.site, Premises)
    given_precharge = reading.given(tank.precharge)
    given_target = reading.given(pressures.target)
    supply = _supply(premises.supply, given_precharge, given_target, reading)

    if given_precharge is not None:
        precharge = given_precharge
    elif tank.kind == "air_over_water":
        precharge = 0.0
    else:
        precharge = supply.precharge
        reading.assume("/tank/precharge", precharge)
    start = reading.given(pressures.start)
    if start is None:
        start = precharge
        reading.assume("/pressures/start", precharge)
    target = given_target
    if target is None:
        target = supply.stop if start < supply.stop else start + SWITCH_RANGE
        reading.assume("/pressures/target", target)
    rating = reading.given(tank.maximum_working_pressure)
    relief = _relief(premises.relief_valve, reading)
    _require_consistent_pressures(
        given_precharge, reading.given(pressures.start), given_target, rating, reading
    )

    vouched = UNLIMITED if rating is not None and relief is not None else supply.vouched
    if rating is None:
        reading.assume("/tank/maximum_working_pressure", supply.vouched)
    if relief is None:
        reading.assume("/site/relief_valve", supply.vouched)
    if tank.kind is UNSET:
        reading.assume("/tank/kind")
    return Premise(
        tank_volume=reading.number(tank.total_volume, "/tank/total_volume") * _count(tank, reading),
        precharge=precharge,
        gas_exponent=reading.number(tank.gas_exponent, "/tank/gas_exponent"),
        start=start,
        target=target,
        tank_rating=UNLIMITED if rating is None else rating,
        acceptance=1.0 if tank.maximum_acceptance is UNSET else tank.maximum_acceptance,
        relief_valve=UNLIMITED if relief is None else relief,
        highest_known_safe=vouched,
        open=tank.kind == "open",
    )


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
            "The cut-in pressure must be below the cut-out pressure.",
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
            "A relief valve that is not fitted has no set pressure.",
            "/site/relief_valve/fitted",
            "/site/relief_valve/set_pressure",
        )
    return opens if valve.fitted == "yes" else None


def _require_consistent_pressures(
    precharge: float | None, start: float | None, target: float | None, rating: float | None, reading: Reading
) -> None:
    if precharge is not None and target is not None and precharge >= target:
        reading.contradict(
            "The tank stores nothing below its precharge, so the target must be above it.",
            "/tank/precharge",
            "/pressures/target",
        )
    if start is not None and target is not None and start >= target:
        reading.contradict("The start must be below the target.", "/pressures/start", "/pressures/target")
    if precharge is not None and rating is not None and precharge >= rating:
        reading.contradict(
            "The precharge must be below the tank's maximum working pressure.",
            "/tank/precharge",
            "/tank/maximum_working_pressure",
        )
