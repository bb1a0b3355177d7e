"""Integration along the rising pressure of a fill."""

import functools

import numpy as np

from .real import Array, Real


@functools.cache
def _gauss(order: int) -> tuple[Array, Array]:
    points, weights = np.polynomial.legendre.leggauss(order)
    return 0.5 * (points + 1.0), 0.5 * weights


def panels(edges: Real, order: int) -> tuple[Array, Array]:
    """Gauss-Legendre nodes and weights on consecutive panels.

    ``edges``: panel limits along the last axis, ascending (equal edges make an empty panel), in any
    unit; ``order``: nodes per panel. Returns two arrays whose last axis holds (panels × order)
    entries, in the unit of the edges, so that the integral of f is sum(weights·f(nodes)).

    Source: Gauss-Legendre quadrature, Abramowitz & Stegun 25.4.30.
    """
    limits = np.asarray(edges, dtype=np.float64)
    fractions, shares = _gauss(order)
    lower = limits[..., :-1, np.newaxis]
    width = limits[..., 1:, np.newaxis] - lower
    shape = (*limits.shape[:-1], (limits.shape[-1] - 1) * order)
    return (lower + width * fractions).reshape(shape), (width * shares).reshape(shape)
