"""Curves of the tank pressure: where they rise, and that they turn round."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.sizing.test_properties import PROPERTY

from upstroke_service.sizing.coefficients import Arch

RISING = st.builds(Arch, st.floats(0.0, 1e3), st.floats(1e-6, 1e-2), st.floats(-1e-9, 0.0))


def test_a_curve_stays_at_its_top_instead_of_coming_down_again() -> None:
    # 100 + 2·p − p²/2: the top is at p = 2, by the derivative.
    curve = Arch(100.0, 2.0, -0.5)

    assert curve.at(1.0) == pytest.approx(101.5)
    assert [curve.at(pressure) for pressure in (2.0, 3.0, 50.0)] == pytest.approx([102.0] * 3)


def test_without_a_bend_it_rises_for_ever() -> None:
    assert Arch(1.0, 2.0, 0.0).at(1e7) == pytest.approx(1.0 + 2e7)


@PROPERTY
@given(RISING, st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_more_pressure_never_takes_less(curve: Arch, pressure: float, more: float) -> None:
    assert curve.at(pressure + more) >= curve.at(pressure) * (1.0 - 1e-12)


@PROPERTY
@given(RISING, st.floats(1.0, 1e6))
def test_the_inverse_gives_the_pressure_back_below_the_top(curve: Arch, pressure: float) -> None:
    top = curve.slope / np.maximum(-2.0 * curve.bend, 1e-30)
    below = min(pressure, 0.99 * float(top))  # at the top itself the inverse is steep beyond rounding

    assert curve.inverse(curve.at(below)) == pytest.approx(below, rel=1e-6)
