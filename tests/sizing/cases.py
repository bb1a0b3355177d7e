"""One pump at one site in plain numbers, and how to hand it to the service's core.

The independent walk reads these numbers; only ``site`` and ``lineup`` know the core's structures.
Everything is SI, pressures are gauge.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from upstroke_service.physics.real import Array, Real
from upstroke_service.sizing.facts import UNLIMITED, Lineup, Run, Site, Water

PSI = 6894.757293168361
GALLON = 3.785411784e-3
FOOT = 0.3048
INCH = 0.0254
GRAVITY = 9.80665


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """A 1.75 in cylinder 25 m above which a person fills a 20 gal tank from 28 to 50 psi, unless changed.

    ``runs`` holds (inside diameter, length, roughness), ``fittings`` (K, inside diameter). Invented, of
    the size that the trade sells.
    """

    density: float = 999.7
    viscosity: float = 1.3059e-3
    saturation_pressure: float = 1228.2
    atmospheric_pressure: float = 101_325.0
    static_water_level: float = 25.0
    well_drawdown: float = 0.0
    drawdown_per_flow: float = 0.0
    casing_area: float = 0.0
    sustained_yield: float = UNLIMITED
    outlet_height: float = 0.0
    rise: float = 0.0
    cylinder_depth: float | None = None
    runs: tuple[tuple[float, float, float], ...] = ((0.75 * INCH, 50 * FOOT, 1.5e-6),)
    fittings: tuple[tuple[float, float], ...] = ((4.0, 0.75 * INCH),)
    check_valve: bool = True
    cracking_pressure: float = 0.0
    air_chamber: bool = False
    open: bool = False
    tank_volume: float = 20 * GALLON
    precharge: float = 28 * PSI
    gas_exponent: float = 1.0
    start: float = 28 * PSI
    target: float = 50 * PSI
    power: float = 75.0
    tires: bool = False
    people: float = 1.0
    session: float = UNLIMITED
    hand_force_limit: float = 150.0
    comfortable_hand_force: float = 100.0
    cadence: float = 40.0 / 60.0
    tank_rating: float = UNLIMITED
    tank_acceptance: float = 1.0
    relief_valve: float = UNLIMITED
    hose_rating: float = UNLIMITED
    highest_known_safe: float = UNLIMITED
    casing_room: float = 0.1

    suction: bool = False
    bore: float = 1.75 * INCH
    stroke: float = 9 * INCH
    rated_lift: float = 100.0
    outside_diameter: float = 0.06
    volumetric_efficiency: float = 0.92
    seal_drag: float = 50.0
    handle_ratio: float = 4.5
    handle_efficiency: float = 0.9
    upstroke_share: float = 0.5
    rod_diameter: float = 0.375 * INCH
    rod_density: float = 7900.0
    rod_modulus: float = 193e9
    drop_pipe_inside_diameter: float = 1.278 * INCH
    drop_pipe_outside_diameter: float = 1.660 * INCH
    drop_pipe_roughness: float = 1.5e-6
    drop_pipe_modulus: float = 2.758e9
    drop_pipe_poisson_ratio: float = 0.38
    weep_hole_diameter: float = 0.0
    weep_hole_depth: float = 4 * FOOT
    weep_hole_coefficient: float = 0.8

    @property
    def specific_weight(self) -> float:
        """γ in N/m³."""
        return self.density * GRAVITY


def scalar(value: Real) -> float:
    """The one number that an array of any shape holds."""
    return float(np.asarray(value).item())


_COMPOSED = ("runs", "fittings")
_SITE = tuple(name for name in Site.__struct_fields__ if name not in (*_COMPOSED, "water"))
_LINEUP = Lineup.__struct_fields__


def _water(case: Case) -> Water:
    return Water(
        density=case.density,
        viscosity=case.viscosity,
        specific_weight=case.specific_weight,
        saturation_pressure=case.saturation_pressure,
        atmospheric_pressure=case.atmospheric_pressure,
    )


def _fittings(case: Case) -> float:
    return sum(k / (2.0 * GRAVITY * (np.pi / 4.0 * d**2) ** 2) for k, d in case.fittings)


def site(case: Case) -> Site:
    """The case's site as the core takes it: every value a float."""
    plain: dict[str, Any] = {name: getattr(case, name) for name in _SITE}
    return Site(
        water=_water(case), runs=tuple(Run(*run) for run in case.runs), fittings=_fittings(case), **plain
    )


def site_axis(cases: Sequence[Case]) -> Site:
    """The sites of many cases along the first axis; all have the same number of runs."""

    def along(values: Sequence[float]) -> Array:
        return np.array(values, dtype=np.float64).reshape(-1, 1, 1)

    def gathered(name: str) -> Any:
        values = [getattr(case, name) for case in cases]
        if isinstance(values[0], bool):
            return np.array(values).reshape(-1, 1, 1)
        return None if values[0] is None else along(values)

    waters = [_water(case) for case in cases]
    return Site(
        water=Water(*(along([getattr(water, name) for water in waters]) for name in Water.__struct_fields__)),
        runs=tuple(
            Run(*(along(values) for values in zip(*stretch, strict=True)))
            for stretch in zip(*(case.runs for case in cases), strict=True)
        ),
        fittings=along([_fittings(case) for case in cases]),
        **{name: gathered(name) for name in _SITE},
    )


def lineup(*cases: Case) -> Lineup:
    """The pumps of some cases as the core takes them: columns of (candidates, 1)."""
    return Lineup(**{name: np.array([[getattr(case, name)] for case in cases]) for name in _LINEUP})
