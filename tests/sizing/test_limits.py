"""Every limit governs somewhere, and at its pressure the limited quantity, evaluated directly, is at its limit."""

import dataclasses
from collections import Counter
from typing import Any

import numpy as np
import pytest
from tests.service.in_process import start
from tests.service.sites import Facts, feet, inches, own, psi, quantity
from tests.sizing import walk
from tests.sizing.cases import FOOT, INCH, PSI, Case, lineup, scalar, site
from tests.sizing.closeness import Closeness
from tests.sizing.sweeps import ordinary_cases

from upstroke_service.sizing import assessment, ceiling, operation
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.sizing.operation import LONGEST_HAND_TRAVEL, Operation
from upstroke_service.sizing.reduction import prepare

LIGHT = Case(bore=1.5 * INCH, static_water_level=15.0, handle_ratio=6.0)
"""An easy pump: nothing but what a test changes stands in its way below 60 psi."""

STRONG = dataclasses.replace(LIGHT, power=200.0, hand_force_limit=1000.0)
LEAKING = dataclasses.replace(STRONG, weep_hole_diameter=INCH / 8, bore=1.25 * INCH)
DRAINING = dataclasses.replace(
    LIGHT, check_valve=False, weep_hole_diameter=INCH / 16, power=40.0, hand_force_limit=1000.0, bore=2 * INCH
)

GOVERNED: dict[str, list[Case]] = {
    "rated_lift": [
        dataclasses.replace(STRONG, rated_lift=45.0),
        dataclasses.replace(STRONG, rated_lift=45.0, power=60.0),
        dataclasses.replace(STRONG, rated_lift=45.0, power=12.0),
        dataclasses.replace(STRONG, rated_lift=45.0, hand_force_limit=125.0),
        dataclasses.replace(STRONG, rated_lift=45.0, drawdown_per_flow=20e3),
    ],
    "hand_force": [
        dataclasses.replace(LIGHT, hand_force_limit=110.0, power=200.0),
        dataclasses.replace(LIGHT, hand_force_limit=110.0, power=12.0),
        dataclasses.replace(LIGHT, hand_force_limit=110.0, air_chamber=True),
        # A thick light rod has to be pushed down against the pressure at the packing.
        dataclasses.replace(
            LIGHT,
            static_water_level=5.0,
            rod_diameter=1.3 * INCH,
            rod_density=1400.0,
            drop_pipe_inside_diameter=2.5 * INCH,
            drop_pipe_outside_diameter=2.875 * INCH,
            handle_ratio=3.0,
            power=200.0,
        ),
    ],
    "net_delivery": [
        LEAKING,
        dataclasses.replace(LEAKING, power=30.0),
        DRAINING,
        dataclasses.replace(DRAINING, power=25.0),
    ],
    "tank_rating": [dataclasses.replace(LIGHT, tank_rating=40 * PSI)],
    "tank_acceptance": [dataclasses.replace(LIGHT, tank_acceptance=0.2)],
    "relief_valve": [
        dataclasses.replace(LIGHT, relief_valve=45 * PSI),
        dataclasses.replace(STRONG, relief_valve=75 * PSI, rated_lift=200.0),
    ],
    "hose_rating": [dataclasses.replace(LIGHT, hose_rating=35 * PSI)],
    "highest_known_safe": [dataclasses.replace(LIGHT, highest_known_safe=50 * PSI)],
}
BUILT = pytest.mark.parametrize(
    ("name", "case"),
    [(name, case) for name, cases in GOVERNED.items() for case in cases],
    ids=[f"{name}-{number}" for name, cases in GOVERNED.items() for number in range(len(cases))],
)


def assessed(case: Case, *, stop_at_ceiling: bool = True) -> Assessment:
    return assessment.assess(site(case), lineup(case), stop_at_ceiling=stop_at_ceiling)


def limits(case: Case) -> dict[str, float]:
    """Each limit's pressure by its name."""
    found = ceiling.find(prepare(site(case), lineup(case)))
    return dict(zip(LIMITS, found.limits[:, 0, 0].tolist(), strict=True))


def test_every_limit_has_a_case() -> None:
    assert tuple(GOVERNED) == LIMITS


@BUILT
def test_a_limit_governs_where_it_is_the_lowest(name: str, case: Case) -> None:
    found = assessed(case).ceiling
    assert LIMITS[found.governing.item()] == name
    assert found.pressure.item() == min(limits(case).values())
    assert 0.0 < found.pressure.item() < 80 * PSI


@BUILT
def test_at_the_ceiling_the_limited_quantity_is_at_its_limit(name: str, case: Case) -> None:
    pressure = limits(case)[name]
    pump, tank = walk.Pump(case), walk.Tank(case)
    cycle = pump.cycle(pressure)
    reached, limit, tolerance = {
        "rated_lift": (cycle.total_head, case.rated_lift, 0.003),
        "hand_force": (cycle.hand_force, case.hand_force_limit, 0.003),
        # A tenth of the displacement, within 0.4 % of the displacement: the operating curve is sampled.
        # Behind a check valve within 1.5 %: the core has a closed form for what the walk steps through.
        "net_delivery": (cycle.net / pump.displacement, 0.1, 0.15 if case.check_valve else 0.04),
        "tank_rating": (pressure, case.tank_rating, 1e-12),
        "tank_acceptance": (tank.water(pressure) / case.tank_volume, case.tank_acceptance, 1e-9),
        # The margin below a relief valve: 5 psi or a tenth of its setting, whichever is more.
        "relief_valve": (pressure + max(5 * PSI, 0.1 * case.relief_valve), case.relief_valve, 1e-7),
        "hose_rating": (pressure, case.hose_rating, 1e-12),
        "highest_known_safe": (pressure, case.highest_known_safe, 1e-12),
    }[name]
    assert limit == pytest.approx(reached, rel=tolerance)


def test_the_cases_cover_preferred_slowed_and_resting_work() -> None:
    preferred, slowed, resting, held_back = (
        walk.Pump(case).cycle(limits(case)["rated_lift"]) for case in GOVERNED["rated_lift"][:4]
    )
    assert preferred.cadence == preferred.effective == LIGHT.cadence
    assert 20.0 / 60.0 < slowed.cadence == slowed.effective < LIGHT.cadence
    assert resting.effective < resting.cadence == 20.0 / 60.0
    assert 20.0 / 60.0 < held_back.cadence == held_back.effective < LIGHT.cadence
    assert held_back.hand_force == pytest.approx(GOVERNED["rated_lift"][3].hand_force_limit, rel=1e-6)
    for case in GOVERNED["net_delivery"][2:]:
        assert walk.Pump(case).cycle(limits(case)["net_delivery"]).effective < 20.0 / 60.0


def test_the_hand_gives_up_only_where_working_slower_no_longer_helps() -> None:
    for case in GOVERNED["hand_force"][:3]:
        pressure = limits(case)["hand_force"]
        assert walk.Pump(case).cycle(pressure).cadence == pytest.approx(20.0 / 60.0, rel=1e-3)


def test_over_a_wide_sweep_the_limits_hold_when_evaluated_directly() -> None:
    # Friction between the sampled cadences and the sampled operating curve. Where the drop pipe bleeds, the
    # core counts more work, so that the cadence and with it the friction is less.
    counted = dict.fromkeys(("rated_lift", "hand_force"), 0)
    for case in ordinary_cases(seed=5, count=500):
        pump = walk.Pump(case)
        for name, pressure in limits(case).items():
            if name not in counted or not 0.0 < pressure < 1e6:
                continue
            counted[name] += 1
            cycle = pump.cycle(pressure)
            if name == "rated_lift":
                bleeds = case.check_valve and case.weep_hole_diameter > 0.0
                assert case.rated_lift == pytest.approx(cycle.total_head, rel=0.03 if bleeds else 0.004)
            else:
                assert case.hand_force_limit == pytest.approx(cycle.hand_force, rel=0.004)
    assert min(counted.values()) >= 100


def test_over_a_wide_sweep_what_hardly_delivers_hardly_does_in_the_walk() -> None:
    # Where the hand still bears it: beyond that the operating curve is sampled but coarsely.
    short: list[float] = []
    for case in ordinary_cases(seed=5, count=900):
        found, pump = limits(case), walk.Pump(case)
        pressure = found["net_delivery"]
        if 0.0 < pressure < min(found["hand_force"], 1e6):
            short.append(pump.cycle(pressure).net / pump.displacement - 0.1)
            assert abs(short[-1]) < 0.01 + Closeness.of(pump).net
    assert len(short) >= 50
    assert np.median(np.abs(short)) < 0.01


def test_below_every_limit_the_limited_quantities_are_within_and_above_they_are_not() -> None:
    for name in ("rated_lift", "hand_force", "net_delivery"):
        for case in GOVERNED[name]:
            pump, pressure = walk.Pump(case), limits(case)[name]
            # What bleeds behind a check valve has a closed form, within 2 % of the displacement.
            step = 0.1 if name == "net_delivery" else 0.05
            below, above = pump.cycle((1.0 - step) * pressure), pump.cycle((1.0 + step) * pressure)
            within = {
                "rated_lift": (below.total_head < case.rated_lift < above.total_head),
                "hand_force": (below.hand_force < case.hand_force_limit < above.hand_force),
                "net_delivery": (below.net > 0.1 * pump.displacement > above.net),
            }
            assert within[name]


def test_a_narrow_hose_that_is_too_hard_at_the_preferred_cadence_only_slows_the_operator() -> None:
    # In a hurry the hose alone asks for more than the hand gives, even into no pressure; at the cadence that
    # 43 W sustain the pressure counts and not the hose, so the ceiling is that of the slow cadence.
    case = Case(
        viscosity=1.575e-3,
        suction=True,
        static_water_level=4.4,
        runs=((0.5 * INCH, 17.5, 1.5e-4),),
        fittings=(),
        power=43.0,
        cadence=46.0 / 60.0,
        bore=0.0655,
        stroke=0.13,
        handle_ratio=8.0,
        handle_efficiency=0.8,
        hand_force_limit=220.0,
        drop_pipe_inside_diameter=0.046,
        drop_pipe_outside_diameter=0.053,
    )
    op = prepare(site(case), lineup(case))
    hurried, _ = operation.hand_forces(op, 0.0, case.cadence)
    assert scalar(hurried) > case.hand_force_limit
    pressure = limits(case)["hand_force"]
    assert pressure > 0.0
    assert walk.Pump(case).cycle(pressure).hand_force == pytest.approx(case.hand_force_limit, rel=0.004)


def test_without_a_weep_hole_delivery_never_limits() -> None:
    for check_valve in (True, False):
        case = dataclasses.replace(LIGHT, check_valve=check_valve, power=5.0)
        assert limits(case)["net_delivery"] == UNLIMITED


def test_a_cylinder_that_slips_nine_tenths_never_delivers_enough() -> None:
    for hole in (0.0, INCH / 16):
        case = dataclasses.replace(LIGHT, volumetric_efficiency=0.08, weep_hole_diameter=hole)
        assert limits(case)["net_delivery"] < 0.0
        assert assessed(case).outcome.item() == assessment.DOES_NOT_FIT


def test_without_a_check_valve_an_operator_who_hardly_moves_is_not_promised_water() -> None:
    # A pinhole: at the slowest cadence that is looked at, one stroke in 150 s, nearly all still arrives.
    # Beyond it longer rests drain ever more, so the limit stays where that cadence is sustained.
    case = dataclasses.replace(
        DRAINING,
        power=5.0,
        bore=4 * INCH,
        drop_pipe_inside_diameter=4 * INCH,
        drop_pipe_outside_diameter=4.5 * INCH,
        weep_hole_diameter=0.0002,
    )
    pump, pressure = walk.Pump(case), limits(case)["net_delivery"]
    cycle = pump.cycle(pressure)
    assert pressure < 100 * PSI
    assert cycle.effective == pytest.approx(1.0 / 150.0, rel=1e-3)
    assert cycle.net > 0.8 * pump.displacement


@pytest.mark.parametrize("rating", ["tank_rating", "relief_valve", "hose_rating", "highest_known_safe"])
def test_ratings_that_nobody_stated_do_not_limit(rating: str) -> None:
    assert limits(LIGHT)[rating] == UNLIMITED


def test_a_bladder_of_unknown_acceptance_does_not_limit() -> None:
    assert limits(LIGHT)["tank_acceptance"] == UNLIMITED


def test_even_an_open_discharge_can_be_too_much() -> None:
    case = dataclasses.replace(LIGHT, rated_lift=10.0)
    assert limits(case)["rated_lift"] < 0.0
    found = assessed(case)
    assert found.outcome.item() == assessment.DOES_NOT_FIT
    assert found.fill.strokes.item() == 0.0


def test_a_fill_stops_at_the_ceiling_and_goes_on_to_the_hard_stop_when_asked() -> None:
    case = dataclasses.replace(LIGHT, hand_force_limit=110.0, tank_rating=48 * PSI)
    ceiling_pressure = limits(case)["hand_force"]
    assert ceiling_pressure < 48 * PSI < case.target
    assert assessed(case).fill.end.item() == ceiling_pressure
    beyond = assessed(case, stop_at_ceiling=False)
    assert beyond.fill.end.item() == 48 * PSI
    assert scalar(beyond.at_end.hand_force) > 110.0


def test_the_hands_travel_shortens_the_stroke() -> None:
    long, short = Case(handle_ratio=8.0), Case(handle_ratio=4.0)
    assert LONGEST_HAND_TRAVEL == 1.1  # common practice, no source
    stroke = np.asarray(prepare(site(long), lineup(long, short)).stroke)
    assert stroke[:, 0].tolist() == pytest.approx([1.1 / 8.0, short.stroke], rel=1e-12)


def test_a_stroke_shortened_to_less_than_half_rules_a_cylinder_out() -> None:
    half = dataclasses.replace(LIGHT, stroke=2.0 * 1.1 / 6.0)
    barely, too_much = (dataclasses.replace(half, stroke=half.stroke * times) for times in (0.999, 1.001))
    assert not assessed(barely).too_short.item()
    assert assessed(barely).outcome.item() != assessment.DOES_NOT_FIT
    assert assessed(too_much).too_short.item()
    assert assessed(too_much).outcome.item() == assessment.DOES_NOT_FIT


def test_a_casing_too_narrow_rules_a_lift_pump_out_and_a_suction_pump_not() -> None:
    lift = dataclasses.replace(LIGHT, outside_diameter=0.09, casing_room=0.08, rated_lift=200.0)
    suction = dataclasses.replace(lift, suction=True, static_water_level=4.0)
    fits = dataclasses.replace(lift, casing_room=0.09)
    assert (assessed(lift).too_wide.item(), assessed(lift).outcome.item()) == (True, assessment.DOES_NOT_FIT)
    assert not assessed(suction).too_wide.item()
    assert assessed(suction).outcome.item() != assessment.DOES_NOT_FIT
    assert not assessed(fits).too_wide.item()


@pytest.mark.parametrize(
    ("atmosphere", "published_lift_ft"),
    # Published practical suction lifts, ±1 ft (general engineering table; atmosphere of the 1976 standard).
    [(101_325.0, 22.0), (92_025.6, 20.0), (83_431.8, 17.0), (68_194.9, 14.0)],
    ids=["sea-level", "2640-ft", "5280-ft", "10560-ft"],
)
def test_a_suction_pump_is_too_deep_beyond_the_published_practical_lift(
    atmosphere: float, published_lift_ft: float
) -> None:
    def at(depth_ft: float, *, suction: bool) -> Assessment:
        return assessed(
            dataclasses.replace(
                STRONG, suction=suction, static_water_level=depth_ft * FOOT, atmospheric_pressure=atmosphere
            )
        )

    assert not at(published_lift_ft - 1.0, suction=True).too_deep.item()
    assert at(published_lift_ft + 1.0, suction=True).too_deep.item()
    assert at(published_lift_ft + 1.0, suction=True).outcome.item() == assessment.DOES_NOT_FIT
    assert not at(published_lift_ft + 1.0, suction=False).too_deep.item()


def test_well_drawdown_counts_towards_the_suction_lift() -> None:
    case = dataclasses.replace(STRONG, suction=True, static_water_level=5.0)
    stated = dataclasses.replace(case, well_drawdown=3.0)
    by_flow = dataclasses.replace(case, drawdown_per_flow=3.0 / 0.15e-3)
    assert not assessed(case).too_deep.item()
    assert assessed(stated).too_deep.item()
    assert scalar(assessed(by_flow).suction_lift) > 6.0


def test_a_long_narrow_suction_pipe_is_pumped_slower_and_then_not_at_all() -> None:
    # The depth would do; what friction and inertia take of the atmosphere is what tells these apart.
    def with_pipe(length: float) -> Case:
        return dataclasses.replace(
            STRONG,
            suction=True,
            static_water_level=6.0,
            cylinder_depth=length,
            drop_pipe_inside_diameter=0.030,
        )

    short, long, longest = (with_pipe(length) for length in (6.5, 25.0, 120.0))
    assert scalar(assessed(short).at_start.pumping_cadence) == short.cadence
    slowed = assessed(long)
    assert 20.0 / 60.0 < scalar(slowed.at_start.pumping_cadence) < long.cadence
    assert not slowed.too_deep.item()
    assert walk.Pump(long).npsh_margin(scalar(slowed.at_start.pumping_cadence)) == pytest.approx(
        0.0, abs=0.02
    )
    assert walk.Pump(longest).npsh_margin(20.0 / 60.0) < 0.0
    assert assessed(longest).too_deep.item()
    assert assessed(longest).outcome.item() == assessment.DOES_NOT_FIT


SERVICE = start()
STRONG_ARMS: Facts = {"hand_force_limit": quantity(500, "N"), "sustained_power": quantity(200, "W")}
EASY: Facts = {"bore": inches(1.5), "handle_ratio": 6.0}

OVER_HTTP: dict[str, tuple[Facts, Facts]] = {
    "rated_lift": (EASY | {"rated_lift": feet(140)}, {"operator": STRONG_ARMS}),
    "hand_force": (EASY, {"operator": {"hand_force_limit": quantity(20, "lbf")}}),
    "net_delivery": (
        EASY | {"bore": inches(1.25), "weep_hole": {"present": True, "diameter": inches(0.125)}},
        {"operator": STRONG_ARMS},
    ),
    "tank_rating": (EASY, {"tank": {"maximum_working_pressure": psi(40)}}),
    "tank_acceptance": (EASY, {"tank": {"maximum_acceptance": 0.2}}),
    "relief_valve": (EASY, {"site": {"relief_valve": {"fitted": "yes", "set_pressure": psi(45)}}}),
    "hose_rating": (EASY, {"conduit": {"hose_pressure_rating": psi(35)}}),
    "highest_known_safe": (EASY, {"tank": {"maximum_working_pressure": None}}),
    "handle_travel": (EASY | {"stroke": inches(16)}, {}),
    "suction_lift": (EASY | {"kind": "suction"}, {}),
}
"""For each limit a cylinder and a site where it governs; nothing else stands in the way below 45 psi."""


def asked(cylinder: Facts, changes: Facts) -> Facts:
    facts = own(**cylinder)
    for block, values in changes.items():
        merged = facts.get(block, {}) | values
        facts[block] = {name: value for name, value in merged.items() if value is not None}
    return facts


@pytest.mark.parametrize("name", OVER_HTTP)
def test_the_service_names_the_limit_that_governs(name: str) -> None:
    candidate: dict[str, Any] = SERVICE.answer("/v1/sizings", asked(*OVER_HTTP[name]))["candidates"][0]
    assert candidate["governed_by"] == name
    if name in LIMITS:
        assert candidate["ceiling"]["governed_by"] == name


def test_the_service_can_name_every_limit_and_what_rules_a_cylinder_out() -> None:
    assert set(OVER_HTTP) == {*LIMITS, "handle_travel", "suction_lift"}


def test_once_the_delivery_falls_short_it_goes_on_falling_short() -> None:
    # The limit is sought in one piece of the curve, so a lower one in another must not be missed.
    for case in [*GOVERNED["net_delivery"], *ordinary_cases(3, 150)]:
        op = prepare(site(case), lineup(case))
        places = np.linspace(0.0, ceiling._SAMPLES - 1, 513)  # noqa: SLF001 - what the search rests on
        curve = ceiling._operating_curve(op, places)  # noqa: SLF001 - what the search rests on
        short = ceiling._shortfall(op, curve) >= 0.0  # noqa: SLF001 - what the search rests on
        assert (np.diff(short.astype(int), axis=-1) >= 0).all(), case


def test_a_tight_drop_pipe_delivers_what_its_pressure_is_asked_for() -> None:
    decided = Counter[str]()
    for case in ordinary_cases(seed=9, count=900):
        op = prepare(site(case), lineup(dataclasses.replace(case, weep_hole_diameter=0.0)))
        # From just above nothing at the outlet, where the pressure falls to nothing during the return.
        for above in (1e2, 1e3, 1e4, 1e5, 1e6):
            pressure = above - scalar(op.hole_at_rest)
            delivered = operation.delivery(op, pressure, op.slowest)
            loaded = scalar(op.plunger_pressure.at(pressure)) > 0.0 and scalar(op.riser.rod_give) > 0.0
            if loaded and scalar(delivered.net) > 0.0:
                found = operation.pressure_of_tight_delivery(op, delivered.net, op.slowest)
                assert scalar(found) == pytest.approx(pressure, rel=1e-6, abs=1.0)
                decided[fall_of(op, pressure)] += 1
    assert min(decided[name] for name in ("none", "sprung", "emptied")) >= 10


def fall_of(op: Operation, pressure: float) -> str:
    """What decides how far the pressure in a tight drop pipe falls during the return."""
    spring = scalar(op.riser.shortening * op.plunger_pressure.at(pressure))
    emptied = scalar(op.riser.compliance * (pressure + op.hole_at_rest))
    if not op.site.check_valve or min(spring, emptied) <= scalar(op.returned):
        return "none"
    return "sprung" if spring < emptied else "emptied"


def test_a_tank_far_below_is_not_promised_water_that_does_not_arrive() -> None:
    case = dataclasses.replace(
        LIGHT,
        static_water_level=60.0,
        bore=3 * INCH,
        stroke=4 * INCH,
        rod_diameter=0.8 * INCH,
        rod_modulus=2.758e9,
        drop_pipe_inside_diameter=2 * INCH,
        drop_pipe_outside_diameter=2.375 * INCH,
        drop_pipe_modulus=2.758e9,
        weep_hole_diameter=INCH / 16,
        hand_force_limit=250.0,
        rise=-20.0,
    )
    op = prepare(site(case), lineup(case))
    assert scalar(operation.net_delivery(op, 0.0, case.cadence)) < 0.1 * scalar(op.displacement)
    assert limits(case)["net_delivery"] < 0.0


def test_at_the_limit_a_tight_drop_pipe_delivers_just_what_is_worth_while() -> None:
    found = 0
    for case in ordinary_cases(seed=8, count=600):
        tight = dataclasses.replace(case, weep_hole_diameter=0.0)
        pressure, op = limits(tight)["net_delivery"], prepare(site(tight), lineup(tight))
        cadence = operation.effective_cadence(op, pressure)
        if 0.0 < pressure < UNLIMITED and scalar(cadence) <= scalar(op.slowest):
            found += 1
            share = operation.net_delivery(op, pressure, cadence) / op.displacement
            assert scalar(share) == pytest.approx(ceiling.LEAST_NET_DELIVERY, rel=1e-9)
    assert found >= 100


def test_above_a_weep_hole_the_limit_is_as_close_as_is_said() -> None:
    def is_enough(op: Operation, pressure: float) -> bool:
        cadence = operation.effective_cadence(op, pressure)
        return scalar(operation.net_delivery(op, pressure, cadence)) > 0.1 * scalar(op.displacement)

    within: dict[float, list[bool]] = {0.01: [], 0.1: []}
    for case in ordinary_cases(seed=8, count=1200):
        pressure, op = limits(case)["net_delivery"], prepare(site(case), lineup(case))
        # Without a check valve the last sample may come first.
        if case.check_valve and case.weep_hole_diameter > 0.0 and 0.0 < pressure < UNLIMITED:
            for off, found in within.items():
                around = (is_enough(op, pressure + side * off * PSI) for side in (-1.0, 1.0))
                found.append(tuple(around) == (True, False))
    assert len(within[0.1]) >= 100
    assert np.mean(within[0.01]) > 0.5
    assert np.mean(within[0.1]) > 0.98
