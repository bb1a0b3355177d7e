"""Liquid water at atmospheric pressure, 0 to 40 °C.

Below 0 °C there is ice and above 40 °C water scalds before it reaches a tap, so temperatures
outside that range are refused. A well's water under a few hundred metres of head is denser by up
to 0.1 %, which is neglected.
"""

import numpy as np

from .constants import STANDARD_GRAVITY
from .errors import require_within
from .real import Real

LOWEST_TEMPERATURE = 273.15
HIGHEST_TEMPERATURE = 313.15

# IAPWS SR6-08(2011), equation 4 with table 2: specific volume at 0.1 MPa.
_GAS_CONSTANT = 461.51805
_REFERENCE_PRESSURE = 1e5
_VOLUME_CONSTANT = 1.93763157e-2
_VOLUME_LOW = (
    (6.74458446e3, 4),
    (-2.22521604e5, 5),
    (1.00231247e8, 7),
    (-1.63552118e9, 8),
    (8.32299658e9, 9),
)
_VOLUME_HIGH = (
    (5.78545292e-3, 1),
    (-1.53195665e-2, 2),
    (3.11337859e-2, 3),
    (-4.23546241e-2, 4),
    (3.38713507e-2, 5),
    (-1.19946761e-2, 6),
)

# IAPWS SR6-08(2011), equation 7 with table 5: viscosity at 0.1 MPa, µPa·s over (T / 300 K).
_VISCOSITY = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))

# Wagner & Pruß (2002), equation 2.5: saturation pressure.
_CRITICAL_TEMPERATURE = 647.096
_CRITICAL_PRESSURE = 22.064e6
_SATURATION = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


def _require_liquid(temperature: Real) -> None:
    require_within("water temperature", temperature, LOWEST_TEMPERATURE, HIGHEST_TEMPERATURE, "K")


def density(temperature: Real) -> Real:
    """Density of water in kg/m³ at ``temperature`` in K and 0.1 MPa.

    v = (R·10 K/p₀)·(a₅ + Σ aᵢ αⁿⁱ + Σ bᵢ βᵐⁱ), α = 10 K/(593 K − T), β = 10 K/(T − 232 K).
    Raises OutsideValidity outside 273.15 to 313.15 K.

    Source: IAPWS SR6-08(2011), Revised Supplementary Release on Properties of Liquid Water at 0.1 MPa.
    """
    _require_liquid(temperature)
    alpha = 10.0 / (593.0 - temperature)
    beta = 10.0 / (temperature - 232.0)
    total = (
        _VOLUME_CONSTANT
        + sum(a * alpha**n for a, n in _VOLUME_LOW)
        + sum(b * beta**m for b, m in _VOLUME_HIGH)
    )
    return _REFERENCE_PRESSURE / (_GAS_CONSTANT * 10.0 * total)


def dynamic_viscosity(temperature: Real) -> Real:
    """Dynamic viscosity of water in Pa·s at ``temperature`` in K and 0.1 MPa.

    µ = Σ aᵢ (T/300 K)^bᵢ in µPa·s. Raises OutsideValidity outside 273.15 to 313.15 K.

    Source: IAPWS SR6-08(2011), equation for the viscosity at 0.1 MPa.
    """
    _require_liquid(temperature)
    reduced = temperature / 300.0
    return 1e-6 * sum((a * reduced**b for a, b in _VISCOSITY), start=0.0)


def saturation_pressure(temperature: Real) -> Real:
    """Vapour pressure of water in Pa, absolute, at ``temperature`` in K.

    ln(p/p_c) = (T_c/T)·Σ aᵢ (1 − T/T_c)^bᵢ. Raises OutsideValidity outside 273.15 to 313.15 K.

    Source: Wagner & Pruß, J. Phys. Chem. Ref. Data 31 (2002) 387, auxiliary equation 2.5.
    """
    _require_liquid(temperature)
    below_critical = 1.0 - temperature / _CRITICAL_TEMPERATURE
    exponent = sum((a * below_critical**b for a, b in _SATURATION), start=0.0)
    pressure: Real = _CRITICAL_PRESSURE * np.exp(_CRITICAL_TEMPERATURE / temperature * exponent)
    return pressure


def specific_weight(temperature: Real) -> Real:
    """Specific weight γ = ρ·g of water in N/m³ at ``temperature`` in K and standard gravity.

    Raises OutsideValidity outside 273.15 to 313.15 K.

    Source: density as above; standard gravity of the 3rd CGPM (1901).
    """
    return density(temperature) * STANDARD_GRAVITY
