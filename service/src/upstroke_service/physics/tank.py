"""Pressure tank: an air cushion over (or behind a bladder beside) water.

The air follows p_abs·Vⁿ = constant. Filling by hand is slow, so the default exponent is 1
(isothermal). An air-over-water tank without precharge is ``precharge`` 0; one that holds less air than
that has a precharge below 0 gauge, and holds water that no tap gets out. Several equal tanks in parallel
are one tank of their total volume.
"""

import numpy as np

from .real import Real


def precharge_of_air(
    air_share: Real, air_pressure: Real, atmospheric_pressure: Real, gas_exponent: Real = 1.0
) -> Real:
    """Gauge pressure in Pa that a tank's air would have if it filled the whole tank: its precharge.

    ``air_share`` of the total volume that the air takes up at ``air_pressure`` Pa gauge, dimensionless,
    above 0 and at most 1; ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless. Negative
    where the air would have to be drawn apart: there is less of it than fills the tank without pressure.

    Source: ideal gas, Boyle's law for n = 1.
    """
    pressure: Real = (air_pressure + atmospheric_pressure) * air_share**gas_exponent - atmospheric_pressure
    return pressure


def precharge_at_temperature(
    precharge: Real, temperature_when_set: Real, temperature: Real, atmospheric_pressure: Real
) -> Real:
    """Precharge in Pa gauge of an empty tank whose air has changed its temperature.

    ``precharge`` Pa gauge at ``temperature_when_set`` K, ``temperature`` K now, ``atmospheric_pressure``
    Pa absolute.

    Source: ideal gas at constant volume, Gay-Lussac's law.
    """
    absolute = (precharge + atmospheric_pressure) * (temperature / temperature_when_set)
    pressure: Real = absolute - atmospheric_pressure
    return pressure


def stored_volume(
    pressure: Real, total_volume: Real, precharge: Real, atmospheric_pressure: Real, gas_exponent: Real = 1.0
) -> Real:
    """Water stored in m³ at a gauge ``pressure`` in Pa; nothing at or below the precharge.

    V_w = V_t·[1 − ((p₀ + p_a)/(p + p_a))^(1/n)] with ``total_volume`` m³, ``precharge`` Pa gauge of
    the empty tank, ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless.

    Source: ideal gas, Boyle's law for n = 1.
    """
    ratio = (precharge + atmospheric_pressure) / (np.maximum(pressure, precharge) + atmospheric_pressure)
    stored: Real = total_volume * (1.0 - ratio ** (1.0 / gas_exponent))
    return stored


def storage_per_pressure(
    pressure: Real, total_volume: Real, precharge: Real, atmospheric_pressure: Real, gas_exponent: Real = 1.0
) -> Real:
    """Water gained per unit of pressure, dV_w/dp in m³/Pa, at a gauge ``pressure`` in Pa.

    Zero below the precharge; arguments as for ``stored_volume``: ``total_volume`` m³, ``precharge``
    Pa gauge, ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless.

    Source: derivative of ``stored_volume``.
    """
    absolute = np.maximum(pressure, precharge) + atmospheric_pressure
    ratio = (precharge + atmospheric_pressure) / absolute
    gained = total_volume * ratio ** (1.0 / gas_exponent) / (gas_exponent * absolute)
    storage: Real = np.where(np.asarray(pressure) < precharge, 0.0, gained)
    return storage


def drawdown_factor(
    start: Real, end: Real, precharge: Real, atmospheric_pressure: Real, gas_exponent: Real = 1.0
) -> Real:
    """Tank drawdown between two gauge pressures as a share of the tank's total volume, dimensionless.

    ``start`` and ``end`` Pa gauge (end above start), ``precharge`` Pa gauge, ``atmospheric_pressure``
    Pa absolute, ``gas_exponent`` dimensionless.

    Source: difference of ``stored_volume`` for a tank of 1 m³.
    """
    return stored_volume(end, 1.0, precharge, atmospheric_pressure, gas_exponent) - stored_volume(
        start, 1.0, precharge, atmospheric_pressure, gas_exponent
    )


def pressure_at_stored_volume(
    volume: Real, total_volume: Real, precharge: Real, atmospheric_pressure: Real, gas_exponent: Real = 1.0
) -> Real:
    """Gauge pressure in Pa at which a tank holds ``volume`` m³ of water.

    ``total_volume`` m³, ``precharge`` Pa gauge, ``atmospheric_pressure`` Pa absolute,
    ``gas_exponent`` dimensionless. Infinite where the volume is not below the total volume.

    Source: inverse of ``stored_volume``.
    """
    air = 1.0 - np.asarray(volume) / total_volume
    possible = air > 0.0
    absolute = (precharge + atmospheric_pressure) / np.where(possible, air, 1.0) ** gas_exponent
    pressure: Real = np.where(possible, absolute - atmospheric_pressure, np.inf)
    return pressure


def total_volume_for_drawdown(
    drawdown: Real,
    start: Real,
    end: Real,
    precharge: Real,
    atmospheric_pressure: Real,
    gas_exponent: Real = 1.0,
) -> Real:
    """Total tank volume in m³ that gives a wanted ``drawdown`` in m³ between two gauge pressures.

    ``start`` and ``end`` Pa gauge with end above start and precharge, ``precharge`` Pa gauge,
    ``atmospheric_pressure`` Pa absolute, ``gas_exponent`` dimensionless.

    Source: ``drawdown_factor``.
    """
    return drawdown / drawdown_factor(start, end, precharge, atmospheric_pressure, gas_exponent)


def gas_work(
    start: Real,
    end: Real,
    total_volume: Real,
    precharge: Real,
    atmospheric_pressure: Real,
    gas_exponent: Real = 1.0,
) -> Real:
    """Work in J, ∫p dV_w with p gauge, that pushes water into the tank from ``start`` to ``end``.

    ``start`` and ``end`` Pa gauge, ``total_volume`` m³, ``precharge`` Pa gauge,
    ``atmospheric_pressure`` Pa absolute (the atmosphere's own share of the compression is not the
    operator's), ``gas_exponent`` dimensionless.

    Source: compression work of an ideal gas.
    """
    empty = precharge + atmospheric_pressure
    upper = np.maximum(end, precharge) + atmospheric_pressure
    lower = np.maximum(start, precharge) + atmospheric_pressure
    gas_end = total_volume * (empty / upper) ** (1.0 / gas_exponent)
    gas_start = total_volume * (empty / lower) ** (1.0 / gas_exponent)
    excess = np.asarray(gas_exponent) - 1.0
    isothermal = excess == 0.0
    polytropic = (upper * gas_end - lower * gas_start) / np.where(isothermal, 1.0, excess)
    compression = np.where(isothermal, empty * total_volume * np.log(gas_start / gas_end), polytropic)
    work: Real = compression - atmospheric_pressure * (gas_start - gas_end)
    return work
