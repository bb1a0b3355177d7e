"""Cases by the hundred: pumps as people have them, and everything that the contract still accepts."""

import math
import random
from typing import Any

from hypothesis import strategies as st
from tests.sizing.cases import INCH, PSI, Case

from upstroke_service.sizing.facts import OPEN_SPAN, UNLIMITED

# Density, Young's modulus, Poisson's ratio, and walls in m that such pipes have. Handbook values; the walls
# are those of Schedule 40 and 80 pipe of 1 to 3 in, and of fibreglass column pipe.
_STEEL = (7850.0, 207e9, 0.30, (3.4e-3, 7.6e-3))
_STAINLESS = (7900.0, 193e9, 0.30, (2.8e-3, 5.5e-3))
_FIBREGLASS = (2000.0, 49.6e9, 0.30, (2.5e-3, 5.0e-3))
_PVC = (1400.0, 2.758e9, 0.38, (4.5e-3, 7.6e-3))


def _hung(draw: random.Random, bore: float) -> dict[str, float]:
    """A rod and the drop pipe in which it runs; rods of plastic are thick, as they have to be."""
    between, one_of = draw.uniform, draw.choice
    rod_material = one_of([_STEEL, _STAINLESS, _STAINLESS, _FIBREGLASS, _PVC])
    pipe_material = one_of([_STEEL, _STAINLESS, _FIBREGLASS, _PVC, _PVC])
    thick = rod_material is _PVC
    rod = between(0.7, 0.9) * INCH if thick else one_of([0.25, 0.375, 0.4375, 0.5]) * INCH
    inside = max(bore * one_of([0.7, 1.0]), rod + between(0.2, 1.0) * INCH)
    return {
        "rod_diameter": rod,
        "rod_density": rod_material[0],
        "rod_modulus": rod_material[1],
        "drop_pipe_inside_diameter": inside,
        "drop_pipe_outside_diameter": inside + 2.0 * between(*pipe_material[3]),
        "drop_pipe_modulus": pipe_material[1],
        "drop_pipe_poisson_ratio": pipe_material[2],
        "drop_pipe_roughness": one_of([1.5e-6, 4.5e-5]),
    }


OPEN: dict[str, float | bool] = {"open": True, "precharge": 0.0, "start": 0.0, "target": OPEN_SPAN}
"""What an open tank's facts always are."""


def _stored(draw: random.Random) -> dict[str, float | bool]:
    """A pressure tank and where its fill begins and should end, or now and then an open trough."""
    between, one_of = draw.uniform, draw.choice
    if draw.random() < 0.1:
        return OPEN | {"tank_volume": between(2e-3, 50e-3)}
    precharge = between(0.0, 50.0) * PSI
    start = max(0.0, precharge + between(-10.0, 10.0) * PSI)
    target = start + between(5.0, 40.0) * PSI
    exponent = one_of([1.0, 1.0, between(1.0, 1.4)])
    return {
        "tank_volume": math.exp(between(math.log(8e-3), math.log(0.25))),
        "precharge": precharge,
        "start": start,
        "target": target,
        "gas_exponent": exponent,
    }


def _answering(draw: random.Random) -> dict[str, float]:
    """How the well answers: not at all, by its specific capacity, out of its casing, or by what is less."""
    capacity = draw.choice([0.0, draw.uniform(0.0, 20e3)])
    casing = draw.choice([0.0, draw.uniform(0.007, 0.02)])
    unknown = casing > 0.0 and draw.random() < 0.3
    return {"drawdown_per_flow": UNLIMITED if unknown else capacity, "casing_area": casing}


def _worked(draw: random.Random) -> dict[str, float | bool]:
    """Who pumps."""
    between, one_of = draw.uniform, draw.choice
    return {
        "power": between(30.0, 120.0),
        "tires": one_of([True, False]),
        "people": one_of([1.0, 1.0, 2.0, 3.0]),
        "hand_force_limit": between(80.0, 250.0),
        "cadence": between(20.0, 60.0) / 60.0,
    }


def ordinary(draw: random.Random) -> Case:
    """A pump, a site and a tank such as people have, lift or suction, with all that varies among them."""
    between, one_of = draw.uniform, draw.choice
    suction = draw.random() < 0.25
    bore = between(1.1, 3.2) * INCH
    hoses = [
        (one_of([0.5, 0.625, 0.75, 1.0, 1.25]) * INCH, between(0.0, 50.0), one_of([0.0, 1.5e-6, 1.5e-4]))
        for _ in range(one_of([0, 1, 2]))
    ]
    facts: dict[str, Any] = {**_hung(draw, bore), **_stored(draw), **_answering(draw), **_worked(draw)}
    return Case(
        density=between(992.0, 999.9),
        viscosity=between(0.65e-3, 1.79e-3),
        atmospheric_pressure=between(70e3, 103e3),
        static_water_level=between(1.0, 7.0) if suction else between(3.0, 90.0),
        well_drawdown=one_of([0.0, between(0.0, 5.0)]),
        outlet_height=between(0.0, 1.0),
        rise=between(-3.0, 8.0),
        runs=tuple(hoses),
        fittings=((between(0.0, 20.0), between(0.5, 1.25) * INCH),),
        check_valve=draw.random() < 0.7,
        cracking_pressure=between(0.0, 2.0) * PSI,
        air_chamber=draw.random() < 0.25,
        suction=suction,
        bore=bore,
        stroke=between(4.0, 12.0) * INCH,
        rated_lift=between(20.0, 150.0),
        volumetric_efficiency=between(0.80, 0.95),
        seal_drag=between(5.0, 120.0),
        handle_ratio=between(3.0, 9.0),
        handle_efficiency=between(0.80, 0.90),
        upstroke_share=between(0.4, 0.6),
        weep_hole_diameter=one_of([0.0, 1 / 16, 1 / 16, 1 / 8]) * INCH,
        weep_hole_depth=between(0.5, 2.5),
        weep_hole_coefficient=between(0.60, 0.85),
        **facts,
    )


def ordinary_cases(seed: int, count: int) -> list[Case]:
    """The same ``count`` ordinary cases for the same ``seed``."""
    draw = random.Random(seed)  # noqa: S311 - a sweep, not a secret
    return [ordinary(draw) for _ in range(count)]


def ordinary_strategy() -> st.SearchStrategy[Case]:
    """Ordinary cases for property tests."""
    return st.integers(0, 2**32 - 1).map(lambda seed: ordinary_cases(seed, 1)[0])


# Bounds of the contract (contract/quantities.py and contract/facts.py), SI.
_DEPTH = (0.0, 600.0)
_DIAMETER = (0.003, 1.0)
_PRESSURE = (0.0, 2e6)
_MODULUS = (1e8, 1e12)


def _number(lowest: float, highest: float) -> st.SearchStrategy[float]:
    """A number within bounds, often at one of them, spread over the magnitudes where they differ much."""
    ends = st.sampled_from([lowest, highest])
    inside = st.floats(lowest, highest, allow_nan=False, allow_subnormal=False)
    if lowest > 0.0 and highest / lowest > 50.0:
        inside = st.floats(math.log(lowest), math.log(highest)).map(
            lambda exponent: min(max(math.exp(exponent), lowest), highest)
        )
    return ends | inside


def _rating() -> st.SearchStrategy[float]:
    return st.just(UNLIMITED) | _number(*_PRESSURE)


@st.composite
def _accepted_tank(draw: st.DrawFn) -> dict[str, float | bool]:
    volume = draw(_number(1e-4, 50.0)) * draw(st.sampled_from([1, 20]))
    if draw(st.integers(0, 7)) == 0:
        return OPEN | {"tank_volume": volume}
    return {
        "tank_volume": volume,
        "precharge": draw(_number(*_PRESSURE)),
        "gas_exponent": draw(_number(1.0, 1.4)),
        "start": draw(_number(*_PRESSURE)),
        "target": draw(_number(*_PRESSURE)),
        "tank_rating": draw(_rating()),
        "tank_acceptance": draw(st.just(1.0) | _number(0.05, 0.95)),
    }


@st.composite
def _accepted_rod_and_pipe(draw: st.DrawFn) -> dict[str, float]:
    """Rods are thinner than the bore and than the drop pipe, and pipes have a wall."""
    bore = draw(_number(0.0031, 1.0))
    rod = draw(_number(0.003, bore * 0.999))
    inside = max(draw(_number(*_DIAMETER)), rod * 1.01)
    return {
        "bore": bore,
        "rod_diameter": rod,
        "rod_density": draw(_number(500.0, 20_000.0)),
        "rod_modulus": draw(_number(*_MODULUS)),
        "drop_pipe_inside_diameter": inside,
        "drop_pipe_outside_diameter": inside + draw(_number(0.0005, 0.1)),
        "drop_pipe_roughness": draw(st.sampled_from([1.5e-6, 4.5e-5, 1.5e-4])),
        "drop_pipe_modulus": draw(_number(*_MODULUS)),
        "drop_pipe_poisson_ratio": draw(_number(0.0, 0.5)),
    }


@st.composite
def _accepted_operator(draw: st.DrawFn) -> dict[str, float | bool]:
    return {
        "power": draw(_number(5.0, 1000.0)),
        "tires": draw(st.booleans()),
        "people": float(draw(st.integers(1, 12))),
        "session": draw(st.just(UNLIMITED) | _number(60.0, 28_800.0)),
        "hand_force_limit": draw(_number(1.0, 2000.0)),
        "comfortable_hand_force": draw(_number(1.0, 2000.0)),
        "cadence": draw(_number(5.0 / 60.0, 2.0)),
    }


@st.composite
def _accepted_well(draw: st.DrawFn) -> dict[str, float]:
    return {
        "static_water_level": draw(_number(*_DEPTH)),
        "well_drawdown": draw(_number(*_DEPTH)),
        "drawdown_per_flow": draw(st.just(0.0) | _number(1.0, 1e6) | st.just(UNLIMITED)),
        "casing_area": draw(st.just(0.0) | _number(1e-4, 0.78)),
        "sustained_yield": draw(st.just(UNLIMITED) | _number(1e-6, 0.1)),
    }


@st.composite
def accepted_case(draw: st.DrawFn) -> Case:
    """Anything that the contract accepts."""
    run = st.tuples(_number(*_DIAMETER), _number(0.0, 2000.0), _number(0.0, 0.003))
    fitting = st.tuples(_number(0.1, 1000.0), _number(*_DIAMETER))
    facts: dict[str, Any] = {
        **draw(_accepted_tank()),
        **draw(_accepted_rod_and_pipe()),
        **draw(_accepted_operator()),
        **draw(_accepted_well()),
    }
    if facts["casing_area"] == 0.0:  # without a casing, an unknown specific capacity counts as no drawdown
        facts["drawdown_per_flow"] = min(facts["drawdown_per_flow"], 1e6)
    return Case(
        density=draw(_number(992.0, 1000.0)),
        viscosity=draw(_number(0.65e-3, 1.8e-3)),
        saturation_pressure=draw(_number(611.0, 7385.0)),
        atmospheric_pressure=draw(_number(54e3, 106.3e3)),
        outlet_height=draw(_number(*_DEPTH)),
        rise=draw(_number(-100.0, 150.0)),
        cylinder_depth=draw(st.none() | _number(*_DEPTH)),
        runs=tuple(draw(st.lists(run, max_size=3))),
        fittings=tuple(draw(st.lists(fitting, max_size=3))),
        check_valve=draw(st.booleans()),
        cracking_pressure=draw(_number(*_PRESSURE)),
        air_chamber=draw(st.booleans()),
        relief_valve=draw(_rating()),
        hose_rating=draw(_rating()),
        highest_known_safe=draw(_rating()),
        casing_room=draw(_number(*_DIAMETER)),
        suction=draw(st.booleans()),
        stroke=draw(_number(0.02, 1.0)),
        rated_lift=draw(_number(*_DEPTH)),
        outside_diameter=draw(_number(*_DIAMETER)),
        volumetric_efficiency=draw(_number(0.05, 1.0)),
        seal_drag=draw(_number(1.0, 2000.0)),
        handle_ratio=draw(_number(1.0, 20.0)),
        handle_efficiency=draw(_number(0.05, 1.0)),
        upstroke_share=draw(_number(0.2, 0.8)),
        weep_hole_diameter=draw(st.just(0.0) | _number(0.0002, 0.02)),
        weep_hole_depth=draw(_number(*_DEPTH)),
        weep_hole_coefficient=draw(_number(0.4, 1.0)),
        **facts,
    )
