"""The tank and its pressures, of many sites: the rules of ``api/pressures.py`` and ``api/cushions.py`` for rows."""

from typing import NamedTuple

import numpy as np

from upstroke_service.api.pressures import (
    HIGHEST_UNKNOWN,
    PRECHARGE_BELOW_CUT_IN,
    PRECHARGE_OF_SET_PRESSURE,
    SWITCH_RANGE,
)
from upstroke_service.physics import tank
from upstroke_service.physics.real import Real
from upstroke_service.sizing import defaults
from upstroke_service.sizing.facts import OPEN_SPAN, UNLIMITED, Flags

from .facts import SUPPLY, either
from .gaps import Gaps

_CUT_IN, _CUT_OUT, _SET = f"{SUPPLY}/cut_in", f"{SUPPLY}/cut_out", f"{SUPPLY}/set_pressure"
_AIR = ("/tank/air_volume", "/tank/air_pressure")
_OF_PRESSURE = (
    "/tank/precharge",
    "/tank/precharge_temperature",
    "/tank/air_temperature",
    *_AIR,
    "/tank/maximum_working_pressure",
    "/tank/maximum_acceptance",
    "/tank/gas_exponent",
    "/pressures/start",
    "/pressures/target",
)
"""Facts that can't be true of an open tank."""


class Premise(NamedTuple):
    """The pressures and the tank of each site, Pa and m³, as ``api/pressures.py`` has them of one."""

    tank_volume: Real
    precharge: Real
    gas_exponent: Real
    start: Real
    target: Real
    tank_rating: Real
    tank_acceptance: Real
    relief_valve: Real
    highest_known_safe: Real
    open: Flags


class _Supply(NamedTuple):
    precharge: Real
    stop: Real
    vouched: Real


def read_premise(gaps: Gaps, atmospheric_pressure: Real) -> Premise:
    """The tank and its pressures; ``atmospheric_pressure`` in Pa."""
    opened = gaps.facts.is_word("/tank/kind", "open")
    closed = ~opened
    for pointer in _OF_PRESSURE:
        gaps.contradict(opened & gaps.known(pointer), "/tank/kind", pointer)
    supply = _supply(gaps, closed)
    each = _total_volume(gaps)
    gas_exponent = gaps.number("/tank/gas_exponent", closed)
    precharge = _precharge(gaps, each, supply.precharge, atmospheric_pressure, gas_exponent)
    relief = _relief(gaps, closed)
    start, target = _span(gaps, precharge, supply.stop, closed)
    _require_consistent_pressures(gaps, closed)
    rated = gaps.known("/tank/maximum_working_pressure")
    gaps.assume("/tank/maximum_working_pressure", closed & ~rated)
    gaps.assume("/tank/count", ~gaps.known("/tank/count"))
    known_strength = rated & (np.asarray(relief) < UNLIMITED)
    unlimited = UNLIMITED
    return Premise(
        tank_volume=each * gaps.given("/tank/count", 1.0),
        precharge=either(opened, 0.0, precharge),
        gas_exponent=either(opened, 1.0, gas_exponent),
        start=either(opened, 0.0, start),
        target=either(opened, OPEN_SPAN, target),
        tank_rating=either(opened, unlimited, gaps.given("/tank/maximum_working_pressure", unlimited)),
        tank_acceptance=either(opened, 1.0, gaps.given("/tank/maximum_acceptance", 1.0)),
        relief_valve=either(opened, unlimited, relief),
        highest_known_safe=either(opened | known_strength, unlimited, supply.vouched),
        open=opened,
    )


def _supply(gaps: Gaps, closed: Flags) -> _Supply:
    constant = gaps.facts.is_word(f"{SUPPLY}/kind", "constant_pressure")
    gaps.assume(SUPPLY, closed & ~gaps.facts.supply)
    held, switched = _held(gaps, closed & constant), _switched(gaps, closed & ~constant)
    return _Supply(*(either(constant, one, other) for one, other in zip(held, switched, strict=True)))


def _held(gaps: Gaps, where: Flags) -> _Supply:
    """A drive that holds a pressure, in the rows ``where`` there is one."""
    by_precharge = np.asarray(gaps.given("/tank/precharge", 0.0)) / PRECHARGE_OF_SET_PRESSURE
    usual = gaps.given("/pressures/target", defaults.number(_SET))
    held = gaps.given(_SET, either(gaps.known("/tank/precharge"), by_precharge, usual))
    gaps.assume(_SET, where & ~gaps.known(_SET))
    return _Supply(PRECHARGE_OF_SET_PRESSURE * held, held, gaps.given(_SET, HIGHEST_UNKNOWN))


def _switched(gaps: Gaps, where: Flags) -> _Supply:
    """A pressure switch, in the rows ``where`` there is one."""
    low, high = gaps.known(_CUT_IN), gaps.known(_CUT_OUT)
    cut_in, cut_out = gaps.given(_CUT_IN, 0.0), gaps.given(_CUT_OUT, 0.0)
    gaps.contradict(low & high & (np.asarray(cut_in) >= cut_out), _CUT_IN, _CUT_OUT)
    known_stop = either(high | ~low, cut_out, cut_in + SWITCH_RANGE)
    vouched = either(high | low, known_stop, HIGHEST_UNKNOWN)
    by_target = np.maximum(gaps.given("/pressures/target", 0.0) - SWITCH_RANGE, 0.0)
    usual = either(gaps.known("/pressures/target"), by_target, defaults.number(_CUT_IN))
    by_precharge = gaps.given("/tank/precharge", 0.0) + PRECHARGE_BELOW_CUT_IN
    usual = either(gaps.known("/tank/precharge"), by_precharge, usual)
    usual = either(high, np.maximum(cut_out - SWITCH_RANGE, 0.0), usual)
    cut_in = gaps.given(_CUT_IN, usual)
    gaps.assume(_CUT_IN, where & ~low)
    gaps.assume(_CUT_OUT, where & ~high)
    stop = gaps.given(_CUT_OUT, cut_in + SWITCH_RANGE)
    return _Supply(np.maximum(cut_in - PRECHARGE_BELOW_CUT_IN, 0.0), stop, vouched)


def _total_volume(gaps: Gaps) -> Real:
    usual = defaults.number("/tank/total_volume")
    gaps.assume("/tank/total_volume", ~gaps.known("/tank/total_volume"))
    return gaps.given("/tank/total_volume", np.maximum(usual, gaps.given("/tank/air_volume", 0.0)))


def _precharge(gaps: Gaps, each: Real, usual: Real, atmospheric_pressure: Real, gas_exponent: Real) -> Real:
    """What the air of each tank of the volume ``each`` m³ is worth now, Pa gauge; ``usual`` where nobody knows."""
    facts, known = gaps.facts, gaps.known("/tank/precharge")
    closed = ~facts.is_word("/tank/kind", "open")
    found = np.asarray(gaps.known(_AIR[0]) | gaps.known(_AIR[1]))
    touching = facts.is_word("/tank/kind", "air_over_water") | (~gaps.known("/tank/kind") & found)
    gaps.assume("/tank/kind", closed & ~gaps.known("/tank/kind") & ~touching)
    _require_consistent_air(gaps, each, closed, touching)
    air = closed & ~known & touching
    gaps.assume("/tank/air_volume", air & ~gaps.known(_AIR[0]))
    share = np.minimum(gaps.given(_AIR[0], each) / each, 1.0)
    measured = tank.precharge_of_air(share, gaps.number(_AIR[1], air), atmospheric_pressure, gas_exponent)
    as_found = either(np.asarray(share == 1.0), gaps.given(_AIR[1], defaults.number(_AIR[1])), measured)
    gaps.assume("/tank/precharge", closed & ~known & ~touching)
    as_set = gaps.given("/tank/precharge", either(touching, as_found, usual))
    stated = closed & (known | (touching & found))
    return _at_temperature(gaps, as_set, atmospheric_pressure, closed, stated)


def _at_temperature(
    gaps: Gaps, as_set: Real, atmospheric_pressure: Real, closed: Flags, stated: Flags
) -> Real:
    """The same after the air's temperature has changed; ``stated`` where somebody knows what it was."""
    set_known, now_known = gaps.known("/tank/precharge_temperature"), gaps.known("/tank/air_temperature")
    gaps.assume("/tank/precharge_temperature", closed & now_known & ~set_known)
    gaps.assume("/tank/air_temperature", closed & ~now_known & (stated | set_known))
    when_set, now = gaps.given("/tank/precharge_temperature", 1.0), gaps.given("/tank/air_temperature", 1.0)
    changed = np.asarray(set_known & now_known & (np.asarray(when_set) != now))
    return either(changed, tank.precharge_at_temperature(as_set, when_set, now, atmospheric_pressure), as_set)


def _require_consistent_air(gaps: Gaps, each: Real, closed: Flags, touching: Flags) -> None:
    stated = [(pointer, gaps.known(pointer)) for pointer in _AIR]
    found = stated[0][1] | stated[1][1]
    behind = closed & found & ~touching
    gaps.contradict(behind, "/tank/kind")
    for pointer, known in stated:
        gaps.contradict(behind & known, pointer)
    twice = closed & found & touching & gaps.known("/tank/precharge")
    gaps.contradict(twice, "/tank/precharge")
    for pointer, known in stated:
        gaps.contradict(twice & known, pointer)
    much = closed & (np.asarray(gaps.given("/tank/air_volume", 0.0)) > each)
    gaps.contradict(much, "/tank/air_volume", "/tank/total_volume")


def _span(gaps: Gaps, precharge: Real, stop: Real, closed: Flags) -> tuple[Real, Real]:
    gaps.assume("/pressures/start", closed & ~gaps.known("/pressures/start"))
    gaps.assume("/pressures/target", closed & ~gaps.known("/pressures/target"))
    start = gaps.given("/pressures/start", np.maximum(precharge, 0.0))
    usual = either(np.asarray(start < stop), stop, start + SWITCH_RANGE)
    return start, gaps.given("/pressures/target", usual)


def _relief(gaps: Gaps, closed: Flags) -> Real:
    """Set pressure in Pa of the relief valve where it is known to be fitted, else UNLIMITED."""
    fitted, opens = "/site/relief_valve/fitted", "/site/relief_valve/set_pressure"
    gaps.contradict(gaps.facts.is_word(fitted, "no") & gaps.known(opens), fitted, opens)
    known = gaps.known(opens) & gaps.facts.is_word(fitted, "yes")
    gaps.assume("/site/relief_valve", closed & ~known)
    return either(known, gaps.given(opens, UNLIMITED), UNLIMITED)


def _require_consistent_pressures(gaps: Gaps, closed: Flags) -> None:
    pairs = (
        ("/tank/precharge", "/pressures/target"),
        ("/pressures/start", "/pressures/target"),
        ("/tank/precharge", "/tank/maximum_working_pressure"),
    )
    for lower, upper in pairs:
        both = closed & gaps.known(lower) & gaps.known(upper)
        gaps.contradict(both & (np.asarray(gaps.given(lower, 0.0)) >= gaps.given(upper, 0.0)), lower, upper)
