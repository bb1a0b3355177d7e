"""What one fill is good for: against hand-worked values, published fixtures, and what must always be so."""

import dataclasses
from typing import Any, Final

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.sizing.cases import FOOT, GALLON, GRAVITY, PSI, Case, scalar, site, site_axis

from upstroke_service.reference import fixtures
from upstroke_service.sizing import reserve, storage
from upstroke_service.sizing.facts import OPEN_SPAN, UNLIMITED

PROPERTY = settings(derandomize=True, deadline=None, database=None, max_examples=80)
USES: Final = tuple(fixtures.USES)
GPM: Final = GALLON / 60.0
ATMOSPHERE: Final = 101_325.0 / PSI  # psi
BUFFER: Final = Case(tank_volume=4.5 * GALLON, precharge=35 * PSI, start=35 * PSI, target=50 * PSI)
OPEN: Final = Case(
    open=True, tank_volume=100 * GALLON, precharge=0.0, start=0.0, target=OPEN_SPAN, tank_rating=UNLIMITED
)


def head(feet: float, case: Case = BUFFER) -> float:
    """Pressure in psi of a column of water."""
    return case.density * GRAVITY * feet * FOOT / PSI


def lowest(case: Case, use: str, feet: float) -> float:
    return scalar(reserve.lowest_pressure(site(case), use, feet * FOOT))


def usable(case: Case, use: str, feet: float, end: float) -> float:
    return scalar(reserve.usable_volume(site(case), end, lowest(case, use, feet)))


@pytest.mark.parametrize(
    ("use", "code_pressure", "height"),
    # International Plumbing Code 2018, table 604.3: close-coupled toilet 20 psi; lavatory, sink, shower 8 psi.
    # Heights above the floor and 3 psi for the house's pipes: common practice, no source.
    [("toilet_flush", 20, 0.5), ("hand_wash", 8, 3), ("dishes", 8, 3), ("short_shower", 8, 6.5)],
)
@pytest.mark.parametrize("floor", [-10.0, 0.0, 8.0, 40.0])
def test_a_fixture_works_down_to_the_codes_pressure_its_height_and_the_pipes_loss(
    use: str, code_pressure: float, height: float, floor: float
) -> None:
    plain = dataclasses.replace(BUFFER, precharge=0.0)
    expected = max(code_pressure + 3.0 + head(floor + height), 0.0)
    assert expected == pytest.approx(lowest(plain, use, floor) / PSI, rel=1e-9)


def test_below_the_precharge_there_is_no_water_whatever_the_fixture() -> None:
    # A toilet one floor up needs 20 + 3 + 3.7 = 26.7 psi, a basin 15.8: both less than 28 psi.
    assert 20 + 3 + head(8.5) == pytest.approx(26.7, abs=0.02)
    for use in USES:
        assert lowest(Case(), use, 8.0) == 28 * PSI


def test_20_gal_from_28_psi_hold_four_flushes_at_50_psi() -> None:
    # 20·(1 − (28 + 14.696)/(50 + 14.696)) = 6.801 gal, over 1.6 gal of EPAct 1992: 4.25.
    expected = 20.0 * (1.0 - (28.0 + ATMOSPHERE) / (50.0 + ATMOSPHERE))
    water = usable(Case(), "toilet_flush", 8.0, 50 * PSI)
    assert expected == pytest.approx(6.801, abs=5e-4)
    assert expected == pytest.approx(water / GALLON, rel=1e-9)
    assert water / fixtures.USES["toilet_flush"].volume == pytest.approx(4.25, abs=0.005)


def test_a_toilet_two_floors_up_loses_what_lies_below_its_pressure() -> None:
    # 20 ft of rise: 20 + 3 + 8.885 = 31.885 psi; 20·42.696·(1/46.581 − 1/64.696) = 5.133 gal.
    needed = 20 + 3 + head(20.5)
    empty = 28 + ATMOSPHERE
    expected = 20 * empty * (1 / (needed + ATMOSPHERE) - 1 / (50 + ATMOSPHERE))
    assert needed == pytest.approx(31.885, abs=1e-3)
    assert expected == pytest.approx(5.133, abs=1e-3)
    assert expected == pytest.approx(usable(Case(), "toilet_flush", 20.0, 50 * PSI) / GALLON, rel=1e-9)


def test_a_buffer_tank_of_4_and_a_half_gal_holds_two_thirds_of_a_flush_and_7_gal_would_hold_one() -> None:
    # 4.5·(1 − 49.696/64.696) = 1.043 gal; 1.6/(1 − 49.696/64.696) = 6.901 gal.
    factor = 1.0 - (35 + ATMOSPHERE) / (50 + ATMOSPHERE)
    flush = fixtures.USES["toilet_flush"].volume
    water = usable(BUFFER, "toilet_flush", 8.0, 50 * PSI)
    serving = scalar(reserve.serving_tank_volume(site(BUFFER), 50 * PSI, 35 * PSI, flush))
    assert 4.5 * factor == pytest.approx(1.043, abs=5e-4)
    assert 4.5 * factor == pytest.approx(water / GALLON, rel=1e-9)
    assert 1.6 / factor == pytest.approx(6.901, abs=5e-4)
    assert 1.6 / factor == pytest.approx(serving / GALLON, rel=1e-9)


def test_no_tank_serves_at_a_pressure_that_the_fixture_does_not_get() -> None:
    for end in (27 * PSI, 28 * PSI):
        assert scalar(reserve.serving_tank_volume(site(Case()), end, 28 * PSI, GALLON)) == UNLIMITED
        assert usable(Case(), "toilet_flush", 8.0, end) == 0.0


TANKS = st.builds(
    Case,
    tank_volume=st.floats(2.0 * GALLON, 400.0 * GALLON),
    precharge=st.floats(0.0, 45.0 * PSI),
    gas_exponent=st.floats(1.0, 1.4),
    atmospheric_pressure=st.floats(70_000.0, 105_000.0),
)
ENDS = st.floats(5.0, 90.0)
FLOORS = st.floats(-30.0, 60.0)


@PROPERTY
@given(TANKS, ENDS, FLOORS, st.floats(0.01, 40.0), st.sampled_from(USES))
def test_raising_a_fixture_never_raises_the_reserve_or_the_flow(
    case: Case, end: float, floor: float, more: float, use: str
) -> None:
    low, high = (usable(case, use, feet, end * PSI) for feet in (floor, floor + more))
    assert 0.0 <= high <= low <= case.tank_volume
    slower, faster = (
        scalar(reserve.flow_at_fixture(site(case), use, end * PSI, feet * FOOT))
        for feet in (floor + more, floor)
    )
    assert 0.0 <= slower <= faster


@PROPERTY
@given(TANKS, ENDS, FLOORS, st.sampled_from(USES))
def test_the_tank_that_would_serve_serves_exactly_one_use(
    case: Case, end: float, floor: float, use: str
) -> None:
    volume = fixtures.USES[use].volume
    down_to = lowest(case, use, floor)
    serving = scalar(reserve.serving_tank_volume(site(case), end * PSI, down_to, volume))
    if end * PSI - down_to > 100.0:
        changed = dataclasses.replace(case, tank_volume=serving)
        assert volume == pytest.approx(usable(changed, use, floor, end * PSI), rel=1e-6)
    elif end * PSI <= down_to:
        assert serving == UNLIMITED


@PROPERTY
@given(TANKS, ENDS, st.floats(0.1, 30.0), FLOORS, st.sampled_from(USES))
def test_filling_higher_never_leaves_less(
    case: Case, end: float, more: float, floor: float, use: str
) -> None:
    low, high = (usable(case, use, floor, pressure * PSI) for pressure in (end, end + more))
    assert low <= high


def test_an_open_tank_is_of_use_down_to_the_last_drop() -> None:
    for use in USES:
        assert lowest(OPEN, use, 30.0) == 0.0
        assert usable(OPEN, use, 30.0, OPEN_SPAN) == pytest.approx(100 * GALLON)
    assert scalar(reserve.serving_tank_volume(site(OPEN), OPEN_SPAN, 0.0, GALLON)) == GALLON


def test_a_faucets_flow_falls_with_the_root_of_the_pressure() -> None:
    # EPAct 1992: 2.2 gpm at 60 psi; 2.2·√(8/60) = 0.803 gpm, the 0.8 gpm at 8 psi of IPC table 604.3 for a lavatory.
    way = 3.0 + head(11.0)
    at_60, at_15, at_8 = (
        scalar(reserve.flow_at_fixture(site(Case()), "hand_wash", (left + way) * PSI, 8 * FOOT)) / GPM
        for left in (60.0, 15.0, 8.0)
    )
    assert at_60 == pytest.approx(2.2, rel=1e-6)
    assert at_15 == pytest.approx(1.1, rel=1e-6)
    assert at_8 == pytest.approx(0.8, rel=0.005)


def test_a_toilet_refills_at_the_codes_flow_where_its_pressure_is_the_codes() -> None:
    # IPC 2018, table 604.3: 3 gpm at 20 psi.
    pressure = (20 + 3 + head(8.5)) * PSI
    flow = scalar(reserve.flow_at_fixture(site(Case()), "toilet_flush", pressure, 8 * FOOT))
    assert flow / GPM == pytest.approx(3.0, rel=1e-6)


def test_no_water_comes_out_where_the_pressure_does_not_lift_it() -> None:
    assert scalar(reserve.flow_at_fixture(site(Case()), "short_shower", 5 * PSI, 40 * FOOT)) == 0.0


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, 50.0),
        ({"tank_rating": 40 * PSI}, 40.0),
        ({"hose_rating": 45 * PSI}, 45.0),
        ({"highest_known_safe": 42 * PSI}, 42.0),
        # ASME BPVC VIII-1, appendix M: at least 5 psi or a tenth below.
        ({"relief_valve": 48 * PSI}, 43.0),
        ({"relief_valve": 55 * PSI}, 49.5),
        # 30 % of the tank: (28 + 14.696)/0.7 − 14.696 = 46.298 psi.
        ({"tank_acceptance": 0.3}, 46.298),
    ],
)
def test_without_a_pump_a_fill_ends_at_the_least_that_tank_valve_and_hose_allow(
    changes: dict[str, Any], expected: float
) -> None:
    case = dataclasses.replace(Case(), **changes)
    assert expected == pytest.approx(scalar(reserve.end_without_pump(site(case))) / PSI, abs=1e-3)


def test_many_sites_at_once_get_what_each_gets_alone() -> None:
    cases = [Case(), BUFFER, dataclasses.replace(Case(), precharge=10 * PSI, density=992.0), OPEN]
    floors = np.array([8.0, 20.0, -5.0, 3.0]).reshape(-1, 1, 1) * FOOT
    ends = np.array([50 * PSI, 45 * PSI, 12 * PSI, OPEN_SPAN]).reshape(-1, 1, 1)
    sites = site_axis(cases)
    for use in USES:
        volume = fixtures.USES[use].volume
        down_to = reserve.lowest_pressure(sites, use, floors)
        together = (
            down_to,
            reserve.usable_volume(sites, ends, down_to),
            reserve.serving_tank_volume(sites, ends, down_to, volume),
            reserve.flow_at_fixture(sites, use, ends, floors),
        )
        for place, case in enumerate(cases):
            one, end, floor = site(case), scalar(ends[place]), scalar(floors[place])
            alone_down_to = reserve.lowest_pressure(one, use, floor)
            alone = (
                alone_down_to,
                reserve.usable_volume(one, end, alone_down_to),
                reserve.serving_tank_volume(one, end, alone_down_to, volume),
                reserve.flow_at_fixture(one, use, end, floor),
            )
            for many, single in zip(together, alone, strict=True):
                assert scalar(single) == pytest.approx(scalar(np.asarray(many)[place]), rel=1e-12)


def test_the_reserve_down_to_the_precharge_is_all_that_is_stored() -> None:
    case = Case()
    assert usable(case, "hand_wash", 0.0, 50 * PSI) == scalar(storage.stored_at(site(case), 50 * PSI))
