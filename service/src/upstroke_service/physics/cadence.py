"""The cadence that a person keeps when the work of a cycle depends on the cadence itself."""

import numpy as np

from .real import Real

_STEPS = 8


def sustained_cadence(
    power: Real,
    static_work: Real,
    linear_work: Real,
    quadratic_work: Real,
    slowest: Real,
    preferred: Real,
) -> Real:
    """Effective cycles per second that ``power`` in W sustains, at most ``preferred``, in 1/s.

    One cycle costs W(n) = ``static_work`` + ``linear_work``·n + ``quadratic_work``·n² (J, J·s, J·s²).
    The operator keeps ``preferred`` (1/s) while W·n ≤ power, then slows so that W·n = power; below
    ``slowest`` (1/s) the pump keeps that cadence and rests are put in between, so that the effective
    cadence falls on.

    Source: energy balance; Newton's method from above on a convex function, fixed number of steps.
    """
    cadence = np.asarray(preferred, dtype=np.float64)
    for _ in range(_STEPS):
        demand = ((quadratic_work * cadence + linear_work) * cadence + static_work) * cadence
        slope = (3.0 * quadratic_work * cadence + 2.0 * linear_work) * cadence + static_work
        cadence = np.minimum(cadence - (demand - power) / slope, preferred)
    resting = power / ((quadratic_work * slowest + linear_work) * slowest + static_work)
    effective: Real = np.where(cadence < slowest, np.minimum(resting, slowest), cadence)
    return effective
