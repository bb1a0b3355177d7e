"""What a person can sustain."""

import numpy as np

from .errors import require_within
from .real import Real

_HORSEPOWER = 745.6998715822702


def krendel_power(duration: Real) -> Real:
    """Mechanical power in W that trained men sustain with legs and trunk for ``duration`` in s.

    P = (0.35 − 0.092·log₁₀(t/min)) hp, 1 to 480 min. An upper bound for work with the arms. Raises
    OutsideValidity outside that range.

    Source: Krendel, in Marks' Standard Handbook for Mechanical Engineers, 'Muscle-generated power'
    (equation from memory).
    """
    require_within("duration", duration, 60.0, 28_800.0, "s")
    power: Real = _HORSEPOWER * (0.35 - 0.092 * np.log10(np.asarray(duration) / 60.0))
    return power
