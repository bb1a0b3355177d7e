"""The cadence that a person keeps when the work of a cycle depends on the cadence itself."""

import numpy as np

from .real import Real

_MOST_STEPS = 20
_TOLERANCE = 1e-14


def sustained_cadence(
    power: Real,
    static_work: Real,
    linear_work: Real,
    quadratic_work: Real,
    slowest: Real,
    preferred: Real,
) -> Real:
    """Effective cycles per second that ``power`` in W sustains, at most ``preferred``, in 1/s.

    One cycle costs W(n) = ``static_work`` + ``linear_work``·n + ``quadratic_work``·n² (J, J·s, J·s²),
    the latter two not negative. The operator keeps ``preferred`` (1/s) while W·n ≤ power, then slows so
    that W·n = power; below ``slowest`` (1/s) the pump keeps that cadence and rests are put in between,
    so that the effective cadence falls on.

    Source: energy balance; Newton's method on an increasing convex function, to rounding error.
    """
    work_at_preferred = (quadratic_work * preferred + linear_work) * preferred + static_work
    # From below at first, since W is greatest at the preferred cadence; from above after one step. Not
    # below the slowest, where a fitted quadratic need not be what friction is.
    cadence = np.minimum(np.maximum(power / work_at_preferred, slowest), preferred)
    twice_linear, thrice_quadratic = 2.0 * linear_work, 3.0 * quadratic_work
    for _ in range(_MOST_STEPS):
        before = cadence
        demand = ((quadratic_work * cadence + linear_work) * cadence + static_work) * cadence
        slope = (thrice_quadratic * cadence + twice_linear) * cadence + static_work
        cadence = np.minimum(cadence - (demand - power) / slope, preferred)
        if np.abs(cadence - before).max() <= _TOLERANCE:
            break
    resting = power / ((quadratic_work * slowest + linear_work) * slowest + static_work)
    effective: Real = np.where(cadence < slowest, np.minimum(resting, slowest), cadence)
    return effective
