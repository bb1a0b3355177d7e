"""What a site and a cylinder are reduced to: curves of the cadence and of the tank pressure."""

import msgspec
import numpy as np

from upstroke_service.physics.real import Array, Real

_LEAST = 1e-30


class Quadratic(msgspec.Struct, frozen=True):
    """c₀ + c₁·(n − n₀) + c₂·(n − n₀)² of the cadence n from ``slowest``, n₀, up, both in 1/s.

    No coefficient is negative: it does not fall, and nothing is lost where large terms nearly cancel.
    """

    slowest: Real
    c0: Real
    c1: Real
    c2: Real

    def at(self, n: Real) -> Real:
        """Value at a cadence ``n`` in 1/s."""
        above = n - self.slowest
        return (self.c2 * above + self.c1) * above + self.c0

    def inverse(self, value: Real) -> Real:
        """Cadence in 1/s at which it has a ``value``; the slowest where it has more even there."""
        excess = np.maximum(value - self.c0, 0.0)
        root = np.sqrt(self.c1 * self.c1 + 4.0 * self.c2 * excess)
        cadence: Real = self.slowest + 2.0 * excess / np.maximum(self.c1 + root, _LEAST)
        return cadence

    def row(self, place: int) -> "Quadratic":
        """One of several that were fitted together along a first axis."""
        c0, c1, c2 = (np.asarray(value)[place] for value in (self.c0, self.c1, self.c2))
        return Quadratic(self.slowest, c0, c1, c2)

    def plus(self, other: "Quadratic") -> "Quadratic":
        """Sum of two from the same slowest cadence up."""
        return Quadratic(self.slowest, self.c0 + other.c0, self.c1 + other.c1, self.c2 + other.c2)

    def times(self, factor: Real) -> "Quadratic":
        """Multiple of one."""
        return Quadratic(self.slowest, self.c0 * factor, self.c1 * factor, self.c2 * factor)


class Line(msgspec.Struct, frozen=True):
    """A straight line in the tank pressure in Pa."""

    at_zero: Real
    slope: Real

    def at(self, pressure: Real) -> Real:
        """Value at a tank ``pressure`` in Pa."""
        return self.at_zero + self.slope * pressure

    def inverse(self, value: Real) -> Real:
        """Tank pressure in Pa at which the line has a ``value``."""
        return (value - self.at_zero) / self.slope


class Arch(msgspec.Struct, frozen=True):
    """A curve of the tank pressure in Pa that rises and flattens: at zero, slope there, half of its bend (≤ 0).

    It stays at its top, where the rod stretches for most of the stroke and no pump can be worked.
    """

    at_zero: Real
    slope: Real
    bend: Real

    def at(self, pressure: Real) -> Real:
        """Value at a tank ``pressure`` in Pa."""
        rising = np.minimum(pressure, self.slope / np.maximum(-2.0 * self.bend, _LEAST))
        return self.at_zero + (self.slope + self.bend * rising) * rising

    def inverse(self, value: Real) -> Real:
        """Tank pressure in Pa at which the curve has a ``value``; its top's where it stays below."""
        above = value - self.at_zero
        root = np.sqrt(np.maximum(self.slope * self.slope + 4.0 * self.bend * above, 0.0))
        pressure: Real = 2.0 * above / np.maximum(self.slope + root, _LEAST)
        return pressure


def three(slowest: Real, preferred: Real) -> Array:
    """The slowest, the middle and the preferred cadence along the last axis."""
    return np.concatenate(
        [np.atleast_1d(value) for value in (slowest, 0.5 * (slowest + preferred), preferred)], axis=-1
    )


def through(values: Array, slowest: Real, preferred: Real) -> Quadratic:
    """Through ``values`` (last axis) at the slowest, the middle and the preferred cadence.

    Held between a straight line and a square law, as friction is: where laminar flow turns turbulent
    in between, a parabola through all three may dip, and then it misses the middle one. So the work of
    a cycle never falls with the cadence, on which the solution for the cadence relies.
    """
    span = preferred - slowest
    low, mid, high = values[..., 0:1], values[..., 1:2], values[..., 2:3]
    slope = np.maximum(high - low, 0.0) / span
    bend = (high - 2.0 * mid + low) / (0.5 * span * span)
    c2 = np.minimum(np.maximum(bend, 0.0), slope / (slowest + preferred))
    return Quadratic(slowest, low, slope - c2 * span, c2)
