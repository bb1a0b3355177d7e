"""What must hold for people at a handle whatever the numbers: the longer, the weaker; taking turns helps."""

import numpy as np
import pytest
from tests.physics.strategies import STEPS, for_all, numbers

from upstroke_service.physics import operator
from upstroke_service.physics.errors import OutsideValidity

POWERS = numbers(20.0, 200.0)
DURATIONS = numbers(0.0, 50_000.0)


@for_all(DURATIONS, STEPS, POWERS)
def test_a_longer_session_never_allows_more_power(duration: float, times: float, power: float) -> None:
    longer = operator.sustainable_power(times * duration, power)
    assert longer <= operator.sustainable_power(duration, power) <= power


@for_all(numbers(0.0, 900.0), POWERS)
def test_up_to_a_quarter_of_an_hour_a_person_keeps_one_power(duration: float, power: float) -> None:
    assert operator.sustainable_power(duration, power) == pytest.approx(power, rel=1e-12)


@for_all(numbers(28_800.0, 1e9), POWERS)
def test_beyond_what_the_curve_knows_the_power_stays(duration: float, power: float) -> None:
    assert operator.sustainable_power(duration, power) == operator.sustainable_power(28_800.0, power)


@for_all(numbers(900.0, 28_000.0), POWERS)
def test_power_does_not_jump_with_the_duration(duration: float, power: float) -> None:
    a_second_later = operator.sustainable_power(duration + 1.0, power)
    assert a_second_later == pytest.approx(operator.sustainable_power(duration, power), rel=1e-3)


@for_all(numbers(900.0, 28_800.0))
def test_a_profile_keeps_its_share_of_krendels_curve(duration: float) -> None:
    share = operator.sustainable_power(duration, 75.0) / operator.krendel_power(duration)
    assert share == pytest.approx(75.0 / operator.krendel_power(900.0), rel=1e-12)


def test_a_duration_that_is_no_number_is_refused() -> None:
    with pytest.raises(OutsideValidity, match="duration"):
        operator.sustainable_power(np.array([60.0, np.nan]), 75.0)


def test_a_body_burns_six_times_what_arms_deliver() -> None:
    # Goosey-Tolfrey & Sindall 2007: 0.147 to 0.175, so between 5.7 and 6.8 times.
    assert 5.7 <= operator.body_energy(1.0, operator.GROSS_EFFICIENCY) <= 6.8
