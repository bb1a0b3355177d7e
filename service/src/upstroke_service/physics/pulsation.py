"""What a pulsating delivery does to losses.

A single-acting plunger delivers on its upstroke, at a rate close to a half sine in time. Losses grow
faster than the flow, so the mean flow understates them. Work is weighted by the volume that meets
the loss: h̄ = ∫h(Q)·Q dt / ∫Q dt.
"""

import functools
from collections.abc import Callable

import numpy as np

from .real import Array, Real

_ORDER = 4


@functools.cache
def half_sine_nodes() -> tuple[Array, Array]:
    """Nodes and weights of the work-weighted mean over a half sine, both dimensionless.

    Returns fractions of the peak flow and weights that sum to 1, so that the work-weighted loss is
    Σ wᵢ·h(fractionᵢ·Q_peak): ∫h·sin θ dθ over a quarter wave by Gauss-Legendre of order 4.

    Source: quadrature of the definition; Gauss-Legendre as in Abramowitz & Stegun 25.4.30.
    """
    points, weights = np.polynomial.legendre.leggauss(_ORDER)
    sines = np.sin(0.25 * np.pi * (points + 1.0))
    weighted = weights * sines
    shares = weighted / weighted.sum()
    # Cached, so nobody may change them.
    sines.setflags(write=False)
    shares.setflags(write=False)
    return sines, shares


def peak_flow(volume: Real, duration: Real) -> Real:
    """Peak flow π/2·V/t in m³/s of a half sine that delivers ``volume`` m³ in ``duration`` s.

    Source: integral of a half sine.
    """
    return 0.5 * np.pi * volume / duration


def work_weighted(loss: Callable[[Real], Real], peak: Real) -> Real:
    """Work-weighted mean, in the unit of ``loss``, of a loss over a half sine of ``peak`` flow in m³/s.

    ``loss`` maps flow to loss, elementwise; it is called once, with a new last axis.

    Source: definition in this module's docstring; 1.645 times the loss at the stroke's mean flow for
    h ∝ Q², 1.234 for h ∝ Q.
    """
    fractions, weights = half_sine_nodes()
    mean: Real = np.asarray(loss(np.asarray(peak)[..., np.newaxis] * fractions)) @ weights
    return mean
