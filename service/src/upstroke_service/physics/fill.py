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


def panel_weights(order: int) -> Array:
    """Weights of ``order`` Gauss-Legendre nodes on one panel of unit width, dimensionless.

    Source: Gauss-Legendre quadrature, Abramowitz & Stegun 25.4.30.
    """
    return _gauss(order)[1]


@functools.cache
def _lagrange(order: int) -> Array:
    """Coefficients of the Lagrange polynomials through the nodes: row k holds those of xᵏ."""
    points, _ = _gauss(order)
    return np.asarray(np.linalg.inv(np.vander(points, increasing=True)), dtype=np.float64)


def basis(share: Real, order: int) -> tuple[Array, Array]:
    """Lagrange polynomials through ``order`` Gauss-Legendre nodes of a panel, and their integrals.

    ``share``: place within the panel, 0 at its start and 1 at its end, dimensionless. Returns two
    arrays with the nodes along a new last axis: values(share)·f(nodes) interpolates f there, and
    integrals(share)·f(nodes) integrates it from the panel's start, per unit of the panel's width.

    Source: Lagrange interpolation, Abramowitz & Stegun 25.2.
    """
    coefficients = _lagrange(order)
    powers = np.empty((*np.shape(share), order + 1))
    powers[..., 0] = 1.0
    powers[..., 1:] = np.asarray(share)[..., np.newaxis]
    np.multiply.accumulate(powers, axis=-1, out=powers)
    values: Array = powers[..., :-1] @ coefficients
    integrals: Array = powers[..., 1:] / np.arange(1, order + 1) @ coefficients
    return values, integrals
