"""The cadence that a person keeps when the work of a cycle depends on the cadence itself."""

import numpy as np

from .real import Real

_MOST_STEPS = 20
_LAST_STEP = 1e-8
"""Step in 1/s of Newton's method from which the next one would change nothing but rounding: it is about the square."""


def sustained_cadence(
    power: Real,
    work_at_slowest: Real,
    linear_work: Real,
    quadratic_work: Real,
    slowest: Real,
    preferred: Real,
) -> Real:
    """Effective cycles per second that ``power`` in W sustains, at most ``preferred``, in 1/s.

    One cycle costs W(n) = ``work_at_slowest`` + ``linear_work``·(n − n₀) + ``quadratic_work``·(n − n₀)² (J,
    J·s, J·s², the latter two not negative) from the cadence ``slowest``, n₀ in 1/s, up. The operator keeps
    ``preferred`` (1/s) while W·n ≤ power, then slows so that W·n = power; below ``slowest`` the pump keeps
    that cadence and rests are put in between, so that the effective cadence falls on.

    Source: energy balance; Newton's method on an increasing convex function, to rounding error.
    """
    # Without the term of third order it is a quadratic equation, and never less than what is sought.
    excess = np.maximum(power - work_at_slowest * slowest, 0.0)
    slope = linear_work * slowest + work_at_slowest
    bend = quadratic_work * slowest + linear_work
    cadence = slowest + 2.0 * excess / (slope + np.sqrt(slope * slope + 4.0 * bend * excess))
    cadence = np.minimum(cadence, preferred)
    for _ in range(_MOST_STEPS):
        before = cadence
        above = cadence - slowest
        work = (quadratic_work * above + linear_work) * above + work_at_slowest
        slope = work + (2.0 * quadratic_work * above + linear_work) * cadence
        cadence = np.minimum(np.maximum(cadence - (work * cadence - power) / slope, slowest), preferred)
        if np.abs(cadence - before).max(initial=0.0) <= _LAST_STEP:
            break
    resting = power / work_at_slowest
    effective: Real = np.where(resting < slowest, resting, cadence)
    return effective
