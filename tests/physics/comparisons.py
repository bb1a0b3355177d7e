"""Points of a range, with our values and those of an independent library or of independent numerics."""

import functools
import itertools
import math
from collections.abc import Callable

import numpy as np
from fluids import ATMOSPHERE_1976
from fluids.friction import Churchill_1977, Colebrook
from iapws import IAPWS95
from iapws._iapws import _Liquid
from scipy.integrate import quad, solve_bvp, solve_ivp

from upstroke_service.physics import atmosphere, friction, pulsation, stretch, suction, tank, weep_hole
from upstroke_service.physics.real import Array, Real

SEA_LEVEL = 101_325.0
PSI = 6894.757293168361
GALLON = 3.785411784e-3
VOLUME, PRECHARGE = 20.0 * GALLON, 28.0 * PSI
EXPONENTS = (1.0, 1.05, 1.2, 1.4)
KELVIN = np.linspace(0.0, 40.0, 41) + 273.15
# IAPWS-95 begins at the triple point; 0 °C itself is left to the SR6-08 comparison.
KELVIN_LIQUID = np.concatenate([[273.1601], KELVIN[1:]])

Compared = tuple[Array, Array, float | Array]
"""Our values, the reference's, and the relative tolerance: one for all points, or one for each."""


def over_temperature(
    ours: Callable[[Array], Real], reference: Callable[[float], float], rel: float
) -> Compared:
    """Compare a property of water with the full equation of state, from the triple point to 40 °C."""
    return np.asarray(ours(KELVIN_LIQUID)), np.array([reference(kelvin) for kelvin in KELVIN_LIQUID]), rel


def same_release(ours: Callable[[Array], Real], name: str) -> Compared:
    """Compare a property of water with another implementation of SR6-08, from 0 to 40 °C."""
    return np.asarray(ours(KELVIN)), np.array([_Liquid(kelvin)[name] for kelvin in KELVIN]), 1e-9


def pointwise(reference: Callable[[float, float], float], first: Array, second: Array) -> Array:
    """Call a function that takes plain numbers at every point of two arrays."""
    points = np.broadcast(first, second)
    return np.array([reference(float(one), float(other)) for one, other in points]).reshape(points.shape)


def standard_atmosphere() -> Compared:
    """Compare the atmosphere at geometric altitudes."""
    elevations = np.linspace(-400.0, 5_000.0, 271)
    reference = np.array([ATMOSPHERE_1976(elevation).P for elevation in elevations])
    return np.asarray(atmosphere.pressure(elevations)), reference, 1e-9


def barometric_head() -> Compared:
    """Compare the barometric head with one that both libraries give together."""
    points = list(itertools.product((-400.0, 0.0, 2_500.0, 5_000.0), (273.1601, 285.15, 313.15)))

    def reference(elevation: float, kelvin: float) -> float:
        pressure = ATMOSPHERE_1976(elevation).P - IAPWS95(T=kelvin, x=0).P * 1e6
        return float(pressure / (IAPWS95(T=kelvin, P=0.1).rho * 9.80665))

    ours = np.array([suction.barometric_head(*point) for point in points])
    return ours, np.array([reference(*point) for point in points]), 1e-5


def churchill() -> Compared:
    """Compare Churchill's factor from creeping to fully rough flow."""
    reynolds, roughness = np.meshgrid(np.geomspace(1.0, 1e7, 141), [0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.05])
    ours = friction.churchill_friction_factor(reynolds, roughness)
    return np.asarray(ours), pointwise(Churchill_1977, reynolds, roughness), 1e-9


def colebrook() -> Compared:
    """Compare Churchill's factor with Colebrook's in turbulent flow."""
    # Measured: 1.7 % for smooth walls, 2.0 % at ε/D 0.001, 3.13 % at ε/D 0.02, all near Re 4 000 to 4 500;
    # above Re 10 000 within 1 % for smooth walls and within 2.2 % anywhere.
    rough = np.array([0.0, 1e-5, 1e-4, 1e-3, 1e-2, 0.02, 0.05])
    slow = np.array([0.018, 0.018, 0.018, 0.021, 0.031, 0.032, 0.026])
    fast = np.array([0.010, 0.010, 0.010, 0.010, 0.022, 0.022, 0.022])
    reynolds = np.geomspace(4_000.0, 1e7, 101)[:, np.newaxis]
    ours = friction.churchill_friction_factor(reynolds, rough)
    return np.asarray(ours), pointwise(Colebrook, reynolds, rough), np.where(reynolds > 1e4, fast, slow)


def half_sine() -> Compared:
    """Compare the work-weighted mean of a power of the flow."""
    peak, exponents = 7e-4, (1.0, 1.75, 2.0)

    def power(exponent: float, flow: Real) -> Real:
        return flow**exponent

    def lost(exponent: float) -> float:
        loss, _ = quad(lambda a: (peak * math.sin(a)) ** exponent * math.sin(a), 0.0, math.pi, epsrel=1e-12)
        return float(loss) / 2.0  # ∫ sin over the stroke is 2

    ours = [pulsation.work_weighted(functools.partial(power, exponent), peak) for exponent in exponents]
    return np.array(ours), np.array([lost(exponent) for exponent in exponents]), 1e-4


def half_sine_friction() -> Compared:
    """Compare the work-weighted friction of a hose from laminar to turbulent peaks."""
    peaks = np.array([4e-5, 6e-5, 8e-5, 1.2e-4, 2.5e-4, 4e-3])
    # Measured: 2.2 % where the peak itself lies in the transition, 0.1 % above Re 10 000.
    tolerance = np.array([1e-4, 0.025, 0.025, 0.025, 2e-3, 1e-4])
    area = friction.circular_area(0.0266)

    def loss(flow: Real) -> Real:
        return friction.head_loss(flow, area, 0.0266, 30.0, 1.5e-6, 999.1, 1.1376e-3)

    # A fine trapezium: adaptive quadrature stumbles over the bend at the end of laminar flow.
    shape = np.sin(np.linspace(0.0, np.pi / 2.0, 20_001))
    reference = np.trapezoid(loss(peaks[:, np.newaxis] * shape) * shape) / np.trapezoid(shape)
    return np.array([pulsation.work_weighted(loss, peak) for peak in peaks]), np.asarray(reference), tolerance


def slope_of_storage() -> Compared:
    """Compare the storage of a tank with the slope of its stored volume."""
    pressure, exponent = np.meshgrid(np.linspace(28.5, 150.0, 60) * PSI, EXPONENTS)

    def stored(at: Array) -> Array:
        return np.asarray(tank.stored_volume(at, VOLUME, PRECHARGE, SEA_LEVEL, exponent))

    ours = tank.storage_per_pressure(pressure, VOLUME, PRECHARGE, SEA_LEVEL, exponent)
    return np.asarray(ours), (stored(pressure + 1.0) - stored(pressure - 1.0)) / 2.0, 1e-6


def gas_work() -> Compared:
    """Compare the work on the cushion with the integral of pressure over volume."""
    spans = [(28.0, 50.0), (30.0, 50.0), (28.0, 100.0), (40.0, 41.0)]
    points = [
        (low * PSI, high * PSI, exponent) for (low, high), exponent in itertools.product(spans, EXPONENTS)
    ]

    def reference(low: float, high: float, exponent: float) -> float:
        def integrand(pressure: float) -> float:
            # Written out, so that only Boyle's law is shared with the code under test.
            ratio: float = ((PRECHARGE + SEA_LEVEL) / (pressure + SEA_LEVEL)) ** (1.0 / exponent)
            return pressure * VOLUME * ratio / (exponent * (pressure + SEA_LEVEL))

        return float(quad(integrand, low, high, epsrel=1e-11)[0])

    ours = [tank.gas_work(low, high, VOLUME, PRECHARGE, SEA_LEVEL, n) for low, high, n in points]
    return np.array(ours), np.array([reference(*point) for point in points]), 1e-9


def drained(start: float, end: float, static: float, exponent: float) -> float:
    """Return the time to drain a tank by its differential equation, s."""
    hole, coefficient, density = 1.5875e-3, 0.62, 999.7

    def pressure_slope(_: float, pressure: Array) -> Array:
        # Written out, so that only the physics is shared with the code under test.
        ratio = ((PRECHARGE + SEA_LEVEL) / (pressure + SEA_LEVEL)) ** (1.0 / exponent)
        storage = VOLUME * ratio / (exponent * (pressure + SEA_LEVEL))
        leak = coefficient * math.pi / 4.0 * hole**2 * np.sqrt(2.0 * (pressure + static) / density)
        slope: Array = -leak / storage
        return slope

    def reached(_: float, pressure: Array) -> float:
        return float(pressure[0]) - end

    reached.terminal = True  # type: ignore[attr-defined]
    solution = solve_ivp(pressure_slope, (0.0, 1e5), [start], events=reached, rtol=1e-9, atol=1e-3)
    return float(solution.t_events[0][0])


def time_to_drain() -> Compared:
    """Compare the time to drain with the solution of the differential equation."""
    spans = [(50.0, 30.0, 0.0), (60.0, 28.0, 2e4), (45.0, 40.0, 5e3)]
    points = [
        (start * PSI, end * PSI, static, exponent)
        for (start, end, static), exponent in itertools.product(spans, EXPONENTS)
    ]
    ours = [
        weep_hole.time_to_drain(
            VOLUME, PRECHARGE, start, end, 1.5875e-3, 0.62, 999.7, SEA_LEVEL, exponent, static
        )
        for start, end, static, exponent in points
    ]
    return np.array(ours), np.array([drained(*point) for point in points]), 1e-6


def shut_in(pressure: float, capacity: float, duration: float, inflow: float, compliance: float) -> float:
    """Return what a hole takes from a shut-in riser by its differential equation, m³."""

    def slopes(_: float, state: Array) -> Array:
        leak = capacity * math.sqrt(max(state[0], 0.0))
        return np.array([(inflow / duration - leak) / compliance, leak])

    solution = solve_ivp(
        slopes, (0.0, duration), [pressure, 0.0], method="LSODA", rtol=1e-10, atol=[1e-3, 1e-14]
    )
    return float(solution.y[1, -1])


def return_leak() -> Compared:
    """Compare the leak during a return with the solution of the differential equation."""
    capacity = 5.5e-8  # a hole of 1/16 in
    points = [
        (pressure, capacity, duration, fed * capacity * math.sqrt(pressure) * duration, compliance)
        for compliance, duration, fed, pressure in itertools.product(
            (1e-10, 1e-9, 5e-9), (0.5, 1.0, 3.0), (0.0, 0.3, 0.8), (2e5, 6e5)
        )
    ]
    ours = [weep_hole.return_leak(*point)[0] for point in points]
    return np.array(ours), np.array([shut_in(*point) for point in points]), 0.025


def strained(inside: float, outside: float, poisson_ratio: float) -> float:
    """Return the volume strain in a closed tube of unit modulus under unit pressure, by its equilibrium."""
    first = poisson_ratio / ((1.0 + poisson_ratio) * (1.0 - 2.0 * poisson_ratio))
    second = 1.0 / (1.0 + poisson_ratio)

    def slopes(radius: Array, state: Array, unknown: Array) -> Array:
        # Displacement, its slope, and the pull along the tube; the strain along the tube is unknown.
        moved, slope, _ = state
        along = first * (slope + moved / radius + unknown[0]) + second * unknown[0]
        return np.vstack([slope, moved / radius**2 - slope / radius, 2.0 * radius * along])

    def ends(inner: Array, outer: Array, unknown: Array) -> Array:
        def radial(state: Array, radius: float) -> float:
            return float(first * (state[1] + state[0] / radius + unknown[0]) + second * state[1])

        return np.array([radial(inner, inside) + 1.0, radial(outer, outside), inner[2], outer[2] - inside**2])

    radii = np.linspace(inside, outside, 50)
    solution = solve_bvp(slopes, ends, radii, np.zeros((3, radii.size)), p=[0.0], tol=1e-8)
    return float(2.0 * solution.y[0, 0] / inside + solution.p[0])


def tube_under_pressure() -> Compared:
    """Compare the compliance of a tube, without water in it, with its equations of elasticity."""
    points = list(itertools.product((1.05, 1.2, 1.5, 2.0), (0.25, 0.3, 0.4, 0.45)))
    ours = [
        stretch.riser_compliance(1.0, 2.0, 2.0 * ratio, 1.0, poisson, math.inf) / math.pi
        for ratio, poisson in points
    ]
    return np.array(ours), np.array([strained(1.0, *point) for point in points]), 1e-6
