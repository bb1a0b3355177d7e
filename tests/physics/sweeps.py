"""Our values against independent libraries and independent numerics, point by point over a whole range.

Unlike the check values of tests/published, the references are computed at run time. Tests and
`python -m tests.validation` both take them from here.
"""

import functools
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version

import numpy as np
from iapws import IAPWS95
from tests.physics import comparisons
from tests.physics.comparisons import Compared

from upstroke_service.physics import water


@dataclass(frozen=True, slots=True)
class Sweep:
    """One quantity against one reference over a range."""

    id: str
    quantity: str
    reference: str
    over: str
    compare: Callable[[], Compared]
    why_tolerance: str


@dataclass(frozen=True, slots=True)
class Swept:
    """What a sweep found: how many points, the largest relative difference, the most of a tolerance used."""

    points: int
    largest_difference: float
    share_of_tolerance: float


def run(sweep: Sweep) -> Swept:
    """Compare every point of a sweep."""
    ours, reference, tolerance = sweep.compare()
    differences = np.abs(np.asarray(ours) / np.asarray(reference) - 1.0)
    return Swept(differences.size, float(np.max(differences)), float(np.max(differences / tolerance)))


def library(name: str, function: str) -> str:
    """Name a function of a library in the version that is installed."""
    return f"{name} {version(name)}, {function}"


_LIQUID = "0 to 40 °C in steps of 1 K"
_EXPONENTS = "gas exponents 1 to 1.4"

SWEEPS = (
    Sweep(
        "density-same-release",
        "water.density",
        library("iapws", "SR6-08"),
        _LIQUID,
        functools.partial(comparisons.same_release, water.density, "rho"),
        "the same equation: rounding only",
    ),
    Sweep(
        "density-equation-of-state",
        "water.density",
        library("iapws", "IAPWS-95"),
        _LIQUID,
        functools.partial(
            comparisons.over_temperature, water.density, lambda t: IAPWS95(T=t, P=0.1).rho, 1e-6
        ),
        "SR6-08 is a fit to IAPWS-95 within 1e-6",
    ),
    Sweep(
        "viscosity-same-release",
        "water.dynamic_viscosity",
        library("iapws", "SR6-08"),
        _LIQUID,
        functools.partial(comparisons.same_release, water.dynamic_viscosity, "mu"),
        "the same equation: rounding only",
    ),
    Sweep(
        "viscosity-full-formulation",
        "water.dynamic_viscosity",
        library("iapws", "R12-08"),
        _LIQUID,
        functools.partial(
            comparisons.over_temperature, water.dynamic_viscosity, lambda t: IAPWS95(T=t, P=0.1).mu, 1e-4
        ),
        "SR6-08 is a fit to R12-08",
    ),
    Sweep(
        "saturation-same-equation",
        "water.saturation_pressure",
        library("iapws", "auxiliary equation 2.5"),
        _LIQUID,
        functools.partial(
            comparisons.over_temperature,
            water.saturation_pressure,
            lambda t: IAPWS95._Vapor_Pressure(t) * 1e6,  # noqa: SLF001 - it has no public name there
            1e-9,
        ),
        "the same equation: rounding only",
    ),
    Sweep(
        "saturation-equation-of-state",
        "water.saturation_pressure",
        library("iapws", "IAPWS-95"),
        _LIQUID,
        functools.partial(
            comparisons.over_temperature, water.saturation_pressure, lambda t: IAPWS95(T=t, x=0).P * 1e6, 1e-4
        ),
        "measured 7.2e-5 at 12 °C: an auxiliary equation against the equation of state",
    ),
    Sweep(
        "standard-atmosphere",
        "atmosphere.pressure",
        library("fluids", "ATMOSPHERE_1976"),
        "-400 to 5000 m in steps of 20 m",
        comparisons.standard_atmosphere,
        "the same formula: rounding only",
    ),
    Sweep(
        "barometric-head",
        "suction.barometric_head",
        f"fluids {version('fluids')} and iapws {version('iapws')}",
        "-400 to 5000 m by 0 to 40 °C",
        comparisons.barometric_head,
        "vapour pressure within 1e-4, of which 7 % of the head is made at most",
    ),
    Sweep(
        "churchill",
        "friction.churchill_friction_factor",
        library("fluids", "Churchill_1977"),
        "Re 1 to 1e7 by roughness 0 to 0.05",
        comparisons.churchill,
        "the same formula: rounding only",
    ),
    Sweep(
        "colebrook",
        "friction.churchill_friction_factor",
        library("fluids", "Colebrook"),
        "Re 4000 to 1e7 by roughness 0 to 0.05",
        comparisons.colebrook,
        "what Churchill's explicit form is known to differ by: 1 to 2.2 % above Re 10 000, up to 3.2 % below",
    ),
    Sweep(
        "half-sine",
        "pulsation.work_weighted",
        library("scipy", "integrate.quad"),
        "losses as flow to the 1, 1.75 and 2",
        comparisons.half_sine,
        "four nodes against the exact integral",
    ),
    Sweep(
        "half-sine-friction",
        "pulsation.work_weighted",
        library("numpy", "trapezoid of 20 001 points"),
        "peaks of Re 1700 to 170 000 in a hose",
        comparisons.half_sine_friction,
        "2.5 % where the peak lies in the transition, whose bend four nodes can't follow; else 1e-4 to 2e-3",
    ),
    Sweep(
        "slope-of-storage",
        "tank.storage_per_pressure",
        library("numpy", "central difference"),
        f"28.5 to 150 psi, {_EXPONENTS}",
        comparisons.slope_of_storage,
        "a difference over 2 Pa keeps about seven digits",
    ),
    Sweep(
        "gas-work",
        "tank.gas_work",
        library("scipy", "integrate.quad"),
        f"4 spans of 28 to 100 psi, {_EXPONENTS}",
        comparisons.gas_work,
        "the quadrature's own tolerance is 1e-11",
    ),
    Sweep(
        "tube-under-pressure",
        "stretch.riser_compliance",
        library("scipy", "integrate.solve_bvp"),
        "outside diameter 1.05 to 2 times the inside by Poisson's ratio 0.25 to 0.45",
        comparisons.tube_under_pressure,
        "the solver's own tolerance is 1e-8",
    ),
    Sweep(
        "return-leak",
        "weep_hole.return_leak",
        library("scipy", "integrate.solve_ivp"),
        "compliance 1e-10 to 5e-9 m³/Pa, 0.5 to 3 s, inflow 0 to 0.8 of what the hole takes, 2 to 6 bar",
        comparisons.return_leak,
        "2.3 % where a stiff riser runs down in a slow return and √p bends; under 1 % in a springy one",
    ),
    Sweep(
        "time-to-drain",
        "weep_hole.time_to_drain",
        library("scipy", "integrate.solve_ivp"),
        f"3 spans of 28 to 60 psi, {_EXPONENTS}",
        comparisons.time_to_drain,
        "the solver's own tolerance is 1e-9 a step",
    ),
)
"""Every sweep, in the order of the models."""
