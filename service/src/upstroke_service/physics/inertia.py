"""Inertia: the columns of water that every stroke speeds up and stops again.

The handle moves the plunger through half a sine wave, as a crank would. The columns are then hardest to
move at the ends of the stroke, where friction is least: a peak force is sought over the phases of the
stroke, not added up from two peaks. A hand starts more gently than a crank, so all of this is a bound.
"""

import functools
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from .constants import STANDARD_GRAVITY
from .real import Array, Real

PUMP_CONSTANTS: Final[Mapping[str, float]] = MappingProxyType(
    {
        "simplex single-acting": 0.400,
        "duplex single-acting": 0.200,
        "duplex double-acting": 0.115,
        "triplex": 0.066,
    }
)
"""C of the Hydraulic Institute's acceleration head by kind of pump. Source: ANSI/HI 6.1-6.5,
reciprocating power pumps, table of C (edition from memory)."""

WATER_CONSTANT: Final = 1.4
"""K of the Hydraulic Institute's acceleration head for water. Source: as C, from memory."""

_PHASES = 13
_SECONDS_PER_MINUTE = 60.0


@functools.cache
def phases() -> tuple[Array, Array]:
    """Phases from the end to the middle of a stroke as (sin θ, cos θ), both dimensionless.

    The flow is the first times its peak, the acceleration head the second times its own. Both ends are
    among them, so a peak of friction alone or of inertia alone is exact; the greatest sum of both is
    missed by at most 0.5 %.

    Source: derivatives of a half sine; 13 phases, 7.5° apart.
    """
    angles = np.linspace(0.0, 0.5 * np.pi, _PHASES)
    sines, cosines = np.sin(angles), np.cos(angles)
    # Exact zeros and ones at the ends, and cached, so nobody may change them.
    sines[-1], cosines[-1] = 1.0, 0.0
    sines.setflags(write=False)
    cosines.setflags(write=False)
    return sines, cosines


def acceleration_head(length: Real, flow_area: Real, peak_flow: Real, duration: Real) -> Real:
    """Peak acceleration head L/(g·A)·(π/t)·Q in m of a column at the ends of a stroke.

    ``length`` m and ``flow_area`` m² of the column; ``peak_flow`` m³/s of a half sine that lasts a
    ``duration`` in s.

    Source: Newton's second law; same as L·(A_p/A)·a_p/g with a_p = (π/t)²·s/2 of a plunger of area A_p
    and stroke s.
    """
    return length / (STANDARD_GRAVITY * flow_area) * (np.pi / duration) * peak_flow


def hydraulic_institute_acceleration_head(
    length: Real, velocity: Real, cadence: Real, pump_constant: Real, fluid_constant: Real
) -> Real:
    """Acceleration head L·V·n·C/(K·g) in m by the Hydraulic Institute's formula.

    ``length`` m; ``velocity`` m/s, the mean over the whole cycle; ``cadence`` in 1/s (the formula counts
    per minute); ``pump_constant`` C as in PUMP_CONSTANTS; ``fluid_constant`` K, WATER_CONSTANT for water.

    Source: ANSI/HI 6.1-6.5, reciprocating power pumps (edition from memory).
    """
    per_minute = _SECONDS_PER_MINUTE * cadence
    return length * velocity * per_minute * pump_constant / (fluid_constant * STANDARD_GRAVITY)


def institute_share(upstroke_share: Real) -> Real:
    """Hydraulic Institute's acceleration head over that of a half sine, dimensionless; 0.87 at one half.

    ``upstroke_share`` of a cycle's time, of a simplex single-acting pump of water: (C/K)·120·φ²/π².

    Source: ratio of the two formulas of this module.
    """
    ratio = PUMP_CONSTANTS["simplex single-acting"] / WATER_CONSTANT
    return ratio * 2.0 * _SECONDS_PER_MINUTE * upstroke_share * upstroke_share / np.pi**2
