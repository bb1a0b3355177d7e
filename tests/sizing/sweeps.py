"""Cases by the hundred: pumps as people have them, and everything that the contract still accepts."""

import math
import random

from hypothesis import strategies as st
from tests.sizing.cases import INCH, PSI, Case

from upstroke_service.sizing.facts import UNLIMITED


def ordinary(draw: random.Random) -> Case:
    """A pump, a site and a tank such as people have, lift or suction, with all that varies among them."""
    between, one_of = draw.uniform, draw.choice
    suction = draw.random() < 0.25
    bore = between(1.1, 3.2) * INCH
    rod = one_of([0.25, 0.375, 0.4375, 0.5]) * INCH
    precharge = between(0.0, 50.0) * PSI
    start = max(0.0, precharge + between(-10.0, 10.0) * PSI)
    hoses = [
        (one_of([0.5, 0.625, 0.75, 1.0, 1.25]) * INCH, between(0.0, 50.0), one_of([0.0, 1.5e-6, 1.5e-4]))
        for _ in range(one_of([0, 1, 2]))
    ]
    return Case(
        density=between(992.0, 999.9),
        viscosity=between(0.65e-3, 1.79e-3),
        atmospheric_pressure=between(70e3, 103e3),
        static_water_level=between(1.0, 7.0) if suction else between(3.0, 90.0),
        well_drawdown=one_of([0.0, between(0.0, 5.0)]),
        drawdown_per_flow=one_of([0.0, between(0.0, 20e3)]),
        outlet_height=between(0.0, 1.0),
        rise=between(-3.0, 8.0),
        runs=tuple(hoses),
        fittings=((between(0.0, 20.0), between(0.5, 1.25) * INCH),),
        check_valve=draw.random() < 0.7,
        cracking_pressure=between(0.0, 2.0) * PSI,
        tank_volume=math.exp(between(math.log(8e-3), math.log(0.25))),
        precharge=precharge,
        gas_exponent=one_of([1.0, 1.0, between(1.0, 1.4)]),
        start=start,
        target=start + between(5.0, 40.0) * PSI,
        power=between(30.0, 120.0),
        hand_force_limit=between(80.0, 250.0),
        cadence=between(20.0, 60.0) / 60.0,
        suction=suction,
        bore=bore,
        stroke=between(4.0, 12.0) * INCH,
        rated_lift=between(20.0, 150.0),
        volumetric_efficiency=between(0.80, 0.95),
        seal_drag=between(5.0, 120.0),
        handle_ratio=between(3.0, 9.0),
        handle_efficiency=between(0.80, 0.90),
        upstroke_share=between(0.4, 0.6),
        rod_diameter=rod,
        rod_density=one_of([1400.0, 1800.0, 7850.0, 7900.0]),
        drop_pipe_inside_diameter=max(bore * one_of([0.7, 1.0]), rod + between(0.2, 1.0) * INCH),
        drop_pipe_roughness=one_of([1.5e-6, 4.5e-5]),
        weep_hole_diameter=one_of([0.0, 1 / 16, 1 / 16, 1 / 8]) * INCH,
        weep_hole_depth=between(0.5, 2.5),
        weep_hole_coefficient=between(0.60, 0.85),
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
def accepted_case(draw: st.DrawFn) -> Case:
    """Anything that the contract accepts; rods are thinner than the bore and than the drop pipe."""
    bore = draw(_number(0.0031, 1.0))
    rod = draw(_number(0.003, bore * 0.999))
    run = st.tuples(_number(*_DIAMETER), _number(0.0, 2000.0), _number(0.0, 0.003))
    fitting = st.tuples(_number(0.1, 1000.0), _number(*_DIAMETER))
    return Case(
        density=draw(_number(992.0, 1000.0)),
        viscosity=draw(_number(0.65e-3, 1.8e-3)),
        saturation_pressure=draw(_number(611.0, 7385.0)),
        atmospheric_pressure=draw(_number(54e3, 106.3e3)),
        static_water_level=draw(_number(*_DEPTH)),
        well_drawdown=draw(_number(*_DEPTH)),
        drawdown_per_flow=draw(st.just(0.0) | _number(1.0, 1e6)),
        outlet_height=draw(_number(*_DEPTH)),
        rise=draw(_number(-100.0, 150.0)),
        cylinder_depth=draw(st.none() | _number(*_DEPTH)),
        runs=tuple(draw(st.lists(run, max_size=3))),
        fittings=tuple(draw(st.lists(fitting, max_size=3))),
        check_valve=draw(st.booleans()),
        cracking_pressure=draw(_number(*_PRESSURE)),
        tank_volume=draw(_number(1e-4, 50.0)) * draw(st.sampled_from([1, 20])),
        precharge=draw(_number(*_PRESSURE)),
        gas_exponent=draw(_number(1.0, 1.4)),
        start=draw(_number(*_PRESSURE)),
        target=draw(_number(*_PRESSURE)),
        power=draw(_number(5.0, 1000.0)),
        prolonged_power=draw(_number(5.0, 1000.0)),
        hand_force_limit=draw(_number(1.0, 2000.0)),
        cadence=draw(_number(5.0 / 60.0, 2.0)),
        tank_rating=draw(_rating()),
        tank_acceptance=draw(st.just(1.0) | _number(0.05, 0.95)),
        relief_valve=draw(_rating()),
        hose_rating=draw(_rating()),
        highest_known_safe=draw(_rating()),
        casing_room=draw(_number(*_DIAMETER)),
        suction=draw(st.booleans()),
        bore=bore,
        stroke=draw(_number(0.02, 1.0)),
        rated_lift=draw(_number(*_DEPTH)),
        outside_diameter=draw(_number(*_DIAMETER)),
        volumetric_efficiency=draw(_number(0.05, 1.0)),
        seal_drag=draw(_number(1.0, 2000.0)),
        handle_ratio=draw(_number(1.0, 20.0)),
        handle_efficiency=draw(_number(0.05, 1.0)),
        upstroke_share=draw(_number(0.2, 0.8)),
        rod_diameter=rod,
        rod_density=draw(_number(500.0, 20_000.0)),
        drop_pipe_inside_diameter=max(draw(_number(*_DIAMETER)), rod * 1.01),
        drop_pipe_roughness=draw(st.sampled_from([1.5e-6, 4.5e-5, 1.5e-4])),
        weep_hole_diameter=draw(st.just(0.0) | _number(0.0002, 0.02)),
        weep_hole_depth=draw(_number(*_DEPTH)),
        weep_hole_coefficient=draw(_number(0.4, 1.0)),
    )
