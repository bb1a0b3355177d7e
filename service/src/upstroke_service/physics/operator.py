"""What a person can sustain, and what it costs them."""

from typing import Final

import numpy as np

from .errors import require_within
from .real import Real

_HORSEPOWER = 745.6998715822702

_SHORTEST = 60.0
_LONGEST = 28_800.0

SHORT_SPELL: Final = 900.0
"""Time in s up to which a person is taken to keep one power: a quarter of an hour, as profiles state it."""

GROSS_EFFICIENCY: Final = 0.16
"""Mechanical work over energy burnt, rest included, of work with both arms at 60 to 80 W: between the
0.147 to 0.159 of arms that move together and the 0.169 to 0.175 of arms in turn. A handle lies between:
the arms move together and the trunk helps. Source: Goosey-Tolfrey & Sindall, Journal of Sports
Sciences 25 (2007), abstract."""


def krendel_power(duration: Real) -> Real:
    """Mechanical power in W that trained men sustain with legs and trunk for ``duration`` in s.

    P = (0.35 − 0.092·log₁₀(t/min)) hp, 1 to 480 min. An upper bound for work with the arms. Raises
    OutsideValidity outside that range.

    Source: Krendel, in Marks' Standard Handbook for Mechanical Engineers, 'Muscle-generated power'
    (equation from memory).
    """
    require_within("duration", duration, _SHORTEST, _LONGEST, "s")
    power: Real = _HORSEPOWER * (0.35 - 0.092 * np.log10(np.asarray(duration) / 60.0))
    return power


def sustainable_power(duration: Real, power_at_fifteen_minutes: Real) -> Real:
    """Mechanical power in W that a person keeps up for ``duration`` in s of pumping.

    P(t) = P₁₅·K(t)/K(15 min) with Krendel's curve K. Up to 15 min it is the person's own
    ``power_at_fifteen_minutes`` in W: a handle is worked steadily, not sprinted. Beyond 8 h, where K
    ends, it stays at K's last value.

    Source: Krendel, in Marks' Standard Handbook for Mechanical Engineers (from memory); taking the
    fall in proportion for every person is common practice, no source.
    """
    within = np.clip(duration, SHORT_SPELL, _LONGEST)
    return power_at_fifteen_minutes * (krendel_power(within) / krendel_power(SHORT_SPELL))


def body_energy(work: Real, efficiency: Real) -> Real:
    """Energy in J that a body burns for mechanical ``work`` in J: W/η.

    Gross ``efficiency`` dimensionless, which counts what the body burns at rest in the same time;
    GROSS_EFFICIENCY is the usual one for arms.

    Source: definition of gross efficiency in exercise physiology.
    """
    return work / efficiency
