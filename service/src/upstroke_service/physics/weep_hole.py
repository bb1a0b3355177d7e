"""Leakage through a weep hole (drain-back hole) in the drop pipe."""

import numpy as np

from .fill import panels
from .friction import circular_area
from .real import Real
from .tank import storage_per_pressure

_DRAIN_ORDER = 24


def discharge(pressure: Real, diameter: Real, discharge_coefficient: Real, density: Real) -> Real:
    """Flow q = C_d·A·√(2p/ρ) in m³/s out of a hole; none at or below zero pressure.

    ``pressure`` Pa inside above outside at the hole, ``diameter`` m, ``discharge_coefficient``
    dimensionless (0.62 for a sharp edge, about 0.80 where the hole is a few diameters long),
    ``density`` kg/m³.

    Source: orifice equation; coefficients in Brater & King, Handbook of Hydraulics, chapter 4
    (edition from memory).
    """
    head = np.maximum(pressure, 0.0) * (2.0 / density)
    flow: Real = discharge_coefficient * circular_area(diameter) * np.sqrt(head)
    return flow


def time_to_drain(
    tank_volume: Real,
    precharge: Real,
    start: Real,
    end: Real,
    diameter: Real,
    discharge_coefficient: Real,
    density: Real,
    atmospheric_pressure: Real,
    gas_exponent: Real = 1.0,
    static_pressure: Real = 0.0,
) -> Real:
    """Time in s in which a resting tank without a check valve falls from ``start`` to ``end``.

    t = ∫ (dV_w/dp)/q(p + ``static_pressure``) dp. ``tank_volume`` m³; ``precharge``, ``start``,
    ``end`` Pa gauge with start ≥ end; hole ``diameter`` m, ``discharge_coefficient`` dimensionless,
    ``density`` kg/m³, ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless,
    ``static_pressure`` Pa of the water column between tank and hole.

    Source: volume balance of the tank and orifice models of this package.
    """
    lower = np.maximum(end, precharge)
    upper = np.maximum(start, lower)

    def column(value: Real) -> Real:
        return np.asarray(value)[..., np.newaxis]

    # With the root of the pressure at the hole as variable the integrand stays finite down to zero.
    static = column(static_pressure)
    limits = np.stack(np.broadcast_arrays(lower + static_pressure, upper + static_pressure), axis=-1)
    roots, weights = panels(np.sqrt(limits), _DRAIN_ORDER)
    storage = storage_per_pressure(
        np.maximum(roots * roots - static, column(precharge)),
        column(tank_volume),
        column(precharge),
        column(atmospheric_pressure),
        column(gas_exponent),
    )
    unit_flow = discharge(1.0, column(diameter), column(discharge_coefficient), column(density))
    time: Real = np.sum(weights * storage * 2.0 / unit_flow, axis=-1)
    return time
