"""What must hold for suction whatever the numbers: which of the two limits counts, and when the column breaks."""

import numpy as np
import pytest
from tests.physics.strategies import for_all, numbers

from upstroke_service.physics import suction

ELEVATIONS = numbers(-400.0, 5_000.0)
TEMPERATURES = numbers(273.15, 313.15)
LOSSES = numbers(0.0, 12.0)
LIFTS = numbers(0.0, 9.0)


@for_all(ELEVATIONS, TEMPERATURES, LOSSES)
def test_no_suction_pipe_lifts_higher_than_practice_does(
    elevation: float, temperature: float, loss: float
) -> None:
    barometric = suction.barometric_head(elevation, temperature)
    practical = suction.practical_suction_lift(elevation, temperature)
    assert suction.greatest_suction_lift(barometric, loss, suction.REQUIRED_NPSH) <= practical


@for_all(numbers(-400.0, 3_000.0), numbers(273.15, 298.15), numbers(0.0, 1.3))
def test_a_short_suction_pipe_is_judged_by_practice_alone(
    elevation: float, temperature: float, loss: float
) -> None:
    barometric = suction.barometric_head(elevation, temperature)
    greatest = suction.greatest_suction_lift(barometric, loss, suction.REQUIRED_NPSH)
    assert greatest == suction.practical_suction_lift(elevation, temperature)


@for_all(ELEVATIONS, TEMPERATURES, LOSSES, LIFTS)
def test_at_any_lift_up_to_the_greatest_the_margin_is_not_negative(
    elevation: float, temperature: float, loss: float, lift: float
) -> None:
    barometric = suction.barometric_head(elevation, temperature)
    greatest = suction.greatest_suction_lift(barometric, loss, suction.REQUIRED_NPSH)
    lines = suction.Npsh(barometric, 0.0, lift, loss, 0.0)
    assert (lines.margin >= -1e-9) or lift > greatest


def test_the_lines_of_a_suction_head_take_arrays() -> None:
    lines = suction.Npsh(10.3, 0.2, np.array([4.0, 6.0, 8.0]), 0.3, np.array([0.0, 0.5, 1.0]))
    assert lines.available == pytest.approx([5.8, 3.3, 0.8])
    assert lines.margin == pytest.approx([4.8, 2.3, -0.2])
