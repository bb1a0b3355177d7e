"""What must hold for the peak of friction and inertia together, whatever the numbers."""

import numpy as np
from tests.physics.strategies import for_all, numbers

from upstroke_service.physics import inertia
from upstroke_service.physics.real import Real

HEADS = numbers(0.01, 100.0)


def greatest(friction: Real, acceleration: Real, exponent: float) -> float:
    """The peak over the phases of friction that goes as a power of the flow, and inertia."""
    sines, cosines = inertia.phases()
    return float(np.max(friction * sines**exponent + acceleration * cosines))


@for_all(HEADS, HEADS)
def test_the_phases_miss_at_most_half_a_percent_of_the_peak_with_a_square_law(
    friction: float, acceleration: float
) -> None:
    # f·sin² θ + a·cos θ is greatest where cos θ = a/2f, or at the end of the stroke.
    within = acceleration < 2.0 * friction
    exact = friction + acceleration**2 / (4.0 * friction) if within else acceleration
    assert 0.995 * exact <= greatest(friction, acceleration, 2.0) <= exact * (1.0 + 1e-12)


@for_all(HEADS, HEADS, numbers(1.0, 2.0))
def test_the_phases_miss_at_most_half_a_percent_of_the_peak_with_any_law_of_friction(
    friction: float, acceleration: float, exponent: float
) -> None:
    angles = np.linspace(0.0, 0.5 * np.pi, 5_001)
    exact = np.max(friction * np.sin(angles) ** exponent + acceleration * np.cos(angles))
    assert 0.995 * exact <= greatest(friction, acceleration, exponent) <= exact * (1.0 + 1e-6)


@for_all(HEADS, HEADS)
def test_friction_and_inertia_together_never_reach_the_sum_of_their_peaks(
    friction: float, acceleration: float
) -> None:
    together = greatest(friction, acceleration, 2.0)
    assert max(friction, acceleration) <= together < friction + acceleration
