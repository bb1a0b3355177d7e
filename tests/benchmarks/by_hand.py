"""What somebody would write who sizes one well after another: the same models, a quantity with its unit each.

    .venv/bin/python -m tests.benchmarks.by_hand WELLS [--plain]

A straight re-write of the models that decide the wells of ``registers``: a lift cylinder without a weep hole
behind a check valve, worked at a power that is kept up. It leaves out what does not happen there, and nearly all
that the service answers besides. The fill is stepped through in equal steps of pressure. ``--plain`` counts the
same lines in plain numbers of SI, to tell what units cost from what a loop costs.
"""

import argparse
import math
from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any, NamedTuple

import numpy as np
import pint
from tests.benchmarks.registers import BORE, varied

STEPS = 20
NEWTON_STEPS = 3
PHASES = 13
COMPARED = ("hand_force", "water", "strokes", "time")
"""Columns of a table's results that are compared, after the total head."""


def half_sine() -> list[tuple[float, float]]:
    """Flow over peak flow at four places of half a stroke, and the share of the volume at each."""
    points, weights = np.polynomial.legendre.leggauss(4)
    sines = [math.sin(math.pi / 4.0 * (point + 1.0)) for point in points]
    whole = sum(weight * sine for weight, sine in zip(weights, sines, strict=True))
    return [(sine, float(weight * sine / whole)) for weight, sine in zip(weights, sines, strict=True)]


NODES = half_sine()


class Sized(NamedTuple):
    """What is compared, as quantities: total head at the target, and what a fill takes and brings."""

    head: Any
    hand_force: Any
    water: Any
    strokes: Any
    time: Any


def plain_units() -> Any:
    """Units as plain factors to SI."""
    return SimpleNamespace(
        m=1.0, mm=1e-3, inch=0.0254, ft=0.3048, gal=3.785411784e-3, kg=1.0, s=1.0, minute=60.0,
        N=1.0, W=1.0, Pa=1.0, GPa=1e9, psi=6894.757293168361, gravity=9.80665, number=float,
    )  # fmt: skip


def pint_units() -> Any:
    """Units of pint, each as a quantity in SI, so that sums need no conversion: it is twice as fast."""
    names = ("m", "mm", "inch", "ft", "gallon", "kg", "s", "minute", "N", "W", "Pa", "GPa", "psi")
    registry: Any = pint.UnitRegistry()
    units = {name: registry.Quantity(1.0, name).to_base_units() for name in names}
    gravity = 9.80665 * units["m"] / units["s"] ** 2
    return SimpleNamespace(**units, gal=units["gallon"], gravity=gravity, number=lambda value: value.m_as(""))


class Pipe(NamedTuple):
    """A pipe, or the annulus between drop pipe and rod."""

    area: Any
    diameter: Any
    length: Any
    roughness: Any


class Well:
    """A well and its pump; every attribute is a quantity."""

    def __init__(self, units: Any, level: Any, hose: Any, tank: Any, target: Any) -> None:
        self.units = u = units
        self.density, self.viscosity = 999.70 * u.kg / u.m**3, 1.3059e-3 * u.Pa * u.s
        self.weight = self.density * u.gravity
        self.atmosphere = 101_325.0 * u.Pa
        self.level, self.target, self.tank = level, target, tank
        self.precharge, self.start = 28.0 * u.psi, 28.0 * u.psi
        self.power = 75.0 * u.W
        self.preferred, self.slowest = 40.0 / u.minute, 20.0 / u.minute
        self.stroke, self.handle_ratio, self.handle_efficiency = 8.0 * u.inch, 5.0, 0.9
        self.plunger, self.rod = self.circle(BORE * u.inch), self.circle(0.375 * u.inch)
        self.lifting = self.plunger - self.rod
        self.seal_drag, self.efficiency = 50.0 * u.N, 0.92
        self.depth = level + 15.0 * u.ft
        inside, outside = 1.278 * u.inch, 1.66 * u.inch
        self.riser = Pipe(self.circle(inside) - self.rod, inside - 0.375 * u.inch, self.depth, 1.5e-3 * u.mm)
        bore = 0.75 * u.inch
        self.hose = Pipe(self.circle(bore), bore, hose, 1.5e-3 * u.mm)
        self.rod_weight = self.rod * self.depth * (7900.0 * u.kg / u.m**3 - self.density) * u.gravity
        wall = self.circle(outside) - self.circle(inside)
        self.give = self.depth / (193.0 * u.GPa * self.rod) + self.depth / (2.758 * u.GPa * wall)
        self.outlet_pressure = self.weight * (4.0 * u.ft) + 0.5 * u.psi
        self.moving_slowest = self.moving_work(self.slowest)
        self.moving_preferred = self.moving_work(self.preferred)

    def circle(self, diameter: Any) -> Any:
        return math.pi / 4.0 * diameter**2

    # Water that moves

    def peak_flow(self, cadence: Any) -> Any:
        return math.pi / 2.0 * self.efficiency * self.lifting * self.stroke * cadence / 0.5

    def friction(self, pipe: Pipe, flow: Any) -> Any:
        """Darcy-Weisbach with Churchill's friction factor."""
        if flow <= 0.0 * flow:
            return 0.0 * self.units.m
        number = self.units.number
        velocity = flow / pipe.area
        reynolds = number(self.density * velocity * pipe.diameter / self.viscosity)
        rough = number(pipe.roughness / pipe.diameter)
        a = (2.457 * math.log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * rough))) ** 16
        b = (37_530.0 / reynolds) ** 16
        factor = 8.0 * ((8.0 / reynolds) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)
        return factor * (pipe.length / pipe.diameter) * velocity**2 / (2.0 * self.units.gravity)

    def exit_loss(self, flow: Any) -> Any:
        return (flow / self.hose.area) ** 2 / (2.0 * self.units.gravity)

    def losses(self, flow: Any) -> Any:
        return self.friction(self.riser, flow) + self.friction(self.hose, flow) + self.exit_loss(flow)

    def mean_loss(self, cadence: Any) -> Any:
        """Averaged by volume over the half sine of a stroke."""
        peak = self.peak_flow(cadence)
        loss = 0.0 * self.units.m
        for sine, share in NODES:
            loss = loss + share * self.losses(sine * peak)
        return loss

    def moving_work(self, cadence: Any) -> Any:
        return self.weight * self.lifting * self.mean_loss(cadence) * self.stroke / self.handle_efficiency

    def inertia(self, pipe: Pipe, cadence: Any) -> Any:
        """Peak acceleration head at the ends of a stroke."""
        rate = math.pi * cadence / 0.5
        return pipe.length / (self.units.gravity * pipe.area) * rate * self.peak_flow(cadence)

    # Forces and work at a pressure

    def load(self, pressure: Any) -> Any:
        """Of the water at rest, on the plunger."""
        return self.plunger * (self.weight * self.level + pressure + self.outlet_pressure)

    def rod_forces(self, pressure: Any) -> tuple[Any, Any]:
        held = (pressure + self.outlet_pressure) * self.rod
        up = self.load(pressure) - held + self.rod_weight + self.seal_drag
        return up, held + self.seal_drag - self.rod_weight

    def work_at_rest(self, pressure: Any) -> Any:
        up, down = self.rod_forces(pressure)
        eased = 0.5 * self.load(pressure) ** 2 * self.give
        return (self.stroke * (up + max(down, 0.0 * down)) - eased) / self.handle_efficiency

    def cadence(self, pressure: Any) -> Any:
        """What the power keeps up, rests counted: the work of a cycle grows with the square of the cadence."""
        span = self.preferred**2 - self.slowest**2
        growth = (self.moving_preferred - self.moving_slowest) / span
        fixed = self.work_at_rest(pressure) + self.moving_slowest - growth * self.slowest**2
        cadence = self.preferred
        for _ in range(NEWTON_STEPS):
            excess = (fixed + growth * cadence**2) * cadence - self.power
            cadence = min(cadence - excess / (fixed + 3.0 * growth * cadence**2), self.preferred)
        if cadence < self.slowest:
            return self.power / (fixed + growth * self.slowest**2)
        return cadence

    def net(self, pressure: Any) -> Any:
        """Water of a stroke, less what rod and pipe take up by stretching."""
        stroke = self.stroke - self.load(pressure) * self.give
        return self.efficiency * self.plunger * stroke

    def stored(self, pressure: Any) -> Any:
        return self.tank * (1.0 - (self.precharge + self.atmosphere) / (pressure + self.atmosphere))

    def hand_force(self, pressure: Any) -> Any:
        cadence = max(self.cadence(pressure), self.slowest)
        peak, columns = self.peak_flow(cadence), self.inertia(self.riser, cadence)
        columns = columns + self.inertia(self.hose, cadence)
        greatest = 0.0 * self.units.m
        for phase in range(PHASES):
            angle = math.pi / 2.0 * phase / (PHASES - 1)
            greatest = max(greatest, self.losses(math.sin(angle) * peak) + math.cos(angle) * columns)
        up, down = self.rod_forces(pressure)
        force = max(up + self.weight * self.lifting * greatest, down)
        return force / (self.handle_ratio * self.handle_efficiency)

    def head(self, pressure: Any) -> Any:
        cadence = max(self.cadence(pressure), self.slowest)
        return self.level + (pressure + self.outlet_pressure) / self.weight + self.mean_loss(cadence)

    def sized(self) -> Sized:
        """Step through the fill, each step at the pressure in its middle."""
        u = self.units
        start = max(self.start, self.precharge)
        step = (self.target - start) / STEPS
        strokes, time = 0.0, 0.0 * u.s
        for place in range(STEPS):
            low = start + place * step
            middle = low + 0.5 * step
            needed = u.number((self.stored(low + step) - self.stored(low)) / self.net(middle))
            strokes += needed
            time = time + needed / self.cadence(middle)
        water = self.stored(self.target) - self.stored(start)
        return Sized(self.head(self.target), self.hand_force(self.target), water, strokes, time)


def in_us_units(units: Any, sized: Sized) -> tuple[float, ...]:
    """Head in ft, force in lbf, water in gal, strokes, minutes."""
    number = units.number
    return (
        number(sized.head / units.ft),
        number(sized.hand_force / (4.4482216152605 * units.N)),
        number(sized.water / units.gal),
        float(sized.strokes),
        number(sized.time / units.minute),
    )


def wells(count: int, *, plain: bool) -> Iterator[tuple[float, ...]]:
    """The wells of a register, one after another."""
    units = plain_units() if plain else pint_units()
    factors = (units.ft, units.ft, units.gal, units.psi)
    for row in zip(*varied(count).values(), strict=True):
        facts = [float(value) * factor for value, factor in zip(row, factors, strict=True)]
        yield in_us_units(units, Well(units, *facts).sized())


def main() -> None:
    """Size the first wells of a register."""
    parser = argparse.ArgumentParser()
    parser.add_argument("wells", type=int)
    parser.add_argument("--plain", action="store_true")
    options = parser.parse_args()
    for figures in wells(options.wells, plain=options.plain):
        print(*figures)


if __name__ == "__main__":
    main()
