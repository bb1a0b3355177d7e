"""A fill in sessions: together they are the whole fill, and none asks too much of the people or the well."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.sizing.cases import GALLON, INCH, PSI, Case, lineup, site

from upstroke_service.physics.real import Array
from upstroke_service.sizing import assessment, filling, sessions
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.sizing.filling import Fill
from upstroke_service.sizing.sessions import MOST_SESSIONS, Plan

PROPERTY = settings(derandomize=True, deadline=None, database=None, max_examples=60)
EASY = Case(static_water_level=10.0, bore=1.5 * INCH, handle_ratio=6.0, tank_volume=80 * GALLON)
HARD = dataclasses.replace(EASY, power=25.0, target=60 * PSI)
"""Too hard for the preferred cadence: the pumping slows down as the pressure rises."""


def filled(case: Case) -> Fill:
    return assessment.assess(site(case), lineup(case)).fill.of(slice(0, 1))


def planned(
    case: Case, longest: float, well_volume: float = UNLIMITED, sustained_yield: float = UNLIMITED
) -> Plan:
    return sessions.plan(site(case), filled(case), longest, well_volume, sustained_yield)


def at(case: Case, pressure: Array) -> tuple[Array, Array, Array, Array]:
    """Strokes, seconds, water and work of the fill up to each pressure, along its own curve."""
    along = filling.curve(site(case), filled(case), pressure.reshape(1, 1, -1))
    return tuple(  # type: ignore[return-value]
        np.reshape(column, -1) for column in (along.strokes, along.seconds, along.volume, along.work)
    )


def test_a_fill_within_one_session_is_one_entry_that_is_the_whole_fill() -> None:
    fill = filled(EASY)
    plan = planned(EASY, fill.seconds.item())

    assert plan.count == 1
    assert plan.pressure.tolist() == [EASY.target]
    for column, whole in (
        (plan.strokes, fill.strokes),
        (plan.seconds, fill.seconds),
        (plan.volume, fill.volume),
        (plan.work, fill.work),
    ):
        assert column.tolist() == [pytest.approx(whole.item(), rel=1e-9)]
    assert plan.recovery == 0.0
    assert not plan.by_well


def test_three_times_a_session_is_three_equal_sessions_that_end_at_the_pressures_of_the_curve() -> None:
    seconds = filled(HARD).seconds.item()
    plan = planned(HARD, seconds / 3.0)

    assert plan.count == 3
    assert plan.seconds == pytest.approx(np.full(3, seconds / 3.0), rel=1e-6)
    for column, at_end in zip(
        (plan.strokes, plan.seconds, plan.volume, plan.work), at(HARD, plan.pressure), strict=True
    ):
        assert np.cumsum(column) == pytest.approx(at_end, rel=2e-4)
    # The pressure rises, so that a stroke costs more, the pumping slows down, and a session brings less.
    assert np.all(np.diff(plan.pressure) > 0.0)
    assert np.all(np.diff(plan.volume) < 0.0)
    assert np.all(np.diff(plan.strokes) < 0.0)
    assert np.all(np.diff(plan.work / plan.strokes) > 0.0)


def test_a_little_more_than_a_session_is_two_sessions_and_not_a_long_one_and_a_short_one() -> None:
    seconds = filled(EASY).seconds.item()
    plan = planned(EASY, seconds / 1.01)

    assert plan.count == 2
    assert plan.seconds == pytest.approx(np.full(2, seconds / 2.0), rel=1e-6)


def test_a_well_that_gives_a_quarter_asks_for_four_sessions_of_equal_water_with_time_to_recover() -> None:
    fill = filled(EASY)
    volume, flow = fill.volume.item(), fill.volume.item() / fill.seconds.item()
    slow = 0.25 * flow
    plan = planned(EASY, UNLIMITED, volume / 4.0, slow)

    assert plan.count == 4
    assert plan.by_well
    assert plan.volume == pytest.approx(np.full(4, volume / 4.0), rel=1e-6)
    # What a session took, less what flowed in meanwhile, comes back at the same yield.
    waits = (volume / 4.0 - slow * plan.seconds) / slow
    assert plan.recovery == pytest.approx(waits.max(), rel=1e-6)


def test_people_and_well_together_ask_for_sessions_that_neither_is_too_short_for() -> None:
    # Equal times would take more water at first than the well gives; equal water too much time at the end.
    fill = filled(HARD)
    seconds, volume = fill.seconds.item(), fill.volume.item()
    longest, well_volume = seconds / 2.0, volume / 2.0
    equal_times = planned(HARD, longest)
    plan = planned(HARD, longest, well_volume, 1e-6)

    assert equal_times.volume.max() > well_volume
    assert plan.seconds.max() <= longest * (1.0 + 1e-9)
    assert plan.volume.max() <= well_volume * (1.0 + 1e-9)
    assert plan.count == 3


def test_a_fill_of_hundreds_of_sessions_lists_the_first_forty() -> None:
    seconds = filled(EASY).seconds.item()
    plan = planned(EASY, seconds / 400.0)

    assert plan.count == 400
    assert len(plan.seconds) == MOST_SESSIONS
    assert plan.seconds.sum() == pytest.approx(seconds / 10.0, rel=1e-6)


def test_a_fill_that_brings_nothing_is_one_session_of_nothing() -> None:
    plan = planned(dataclasses.replace(EASY, start=EASY.target), 1800.0, 0.0, 1e-6)

    assert plan.count == 1
    assert plan.seconds.tolist() == plan.volume.tolist() == plan.strokes.tolist() == [0.0]


@PROPERTY
@given(st.floats(0.03, 3.0), st.floats(0.03, 3.0), st.floats(0.0, 1.5), st.sampled_from([EASY, HARD]))
def test_sessions_add_up_to_the_fill_and_keep_to_both_limits(
    time_share: float, water_share: float, yield_share: float, case: Case
) -> None:
    fill = filled(case)
    seconds, volume = fill.seconds.item(), fill.volume.item()
    longest, well_volume = time_share * seconds, water_share * volume
    plan = planned(case, longest, well_volume, max(yield_share * volume / seconds, 1e-9))

    least = max(seconds / longest, volume / well_volume, 1.0)
    assert least * (1.0 - 1e-6) <= plan.count
    assert plan.seconds.max() <= longest * (1.0 + 1e-6)
    assert plan.volume.max() <= well_volume * (1.0 + 1e-6)
    assert plan.recovery >= 0.0
    # No more than if each limit had its own sessions.
    assert plan.count <= seconds / longest + volume / well_volume + 1.0
    if plan.count <= MOST_SESSIONS:
        assert plan.pressure[-1] == pytest.approx(fill.end.item(), rel=1e-9)
        for column, whole in (
            (plan.strokes, fill.strokes),
            (plan.seconds, fill.seconds),
            (plan.volume, fill.volume),
            (plan.work, fill.work),
        ):
            assert column.sum() == pytest.approx(whole.item(), rel=1e-9)
