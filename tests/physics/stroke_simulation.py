"""Whole cycles of a lift pump in small steps of time, by forces and volumes alone. Shares no formula with the service.

The handle moves the top of the rod through half a sine wave up, half a sine wave down, and may rest. Rod
and drop pipe are elastic, the pipe hangs free and is thick-walled, the water is compressible. Plunger
valve, standing valve and check valve are small resistances that let water through in one direction. The
hole in the drop pipe is an orifice; where the pressure there falls below that outside, air comes in. The
tank keeps its pressure, and the way to it costs a loss in proportion to the flow. Left out: the water's
inertia, friction along the pipe, slip past plunger and valves.

Unknown are the pressures above and below the plunger, both counted from that of the well at the same
depth. Water above and water below the plunger balance: two linear equations for their rates.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

WATER_DENSITY = 999.1
SPECIFIC_WEIGHT = WATER_DENSITY * 9.80665
BULK_MODULUS = 2.2e9
WATER_PER_AIR = 28.0
"""How much faster air flows through a hole than water does: the root of the ratio of densities."""

_SMOOTHING = 20.0  # Pa in which the flow through the hole turns round
_VALVE_LOSS = 300.0  # Pa at the greatest flow
_MOST_CYCLES = 15


@dataclass(frozen=True, slots=True)
class Pump:
    """A lift pump at a site; m, Pa, s, and Poisson's ratio. Pressures are gauge."""

    bore: float
    stroke: float
    depth: float
    lift: float
    inside_diameter: float
    outside_diameter: float
    pipe_modulus: float
    poisson_ratio: float
    rod_diameter: float
    rod_modulus: float
    hole_diameter: float
    check_valve: bool
    tank_pressure: float
    upstroke: float
    downstroke: float
    rest: float = 0.0
    loss: float = 200.0
    hole_depth: float = 1.2
    hole_coefficient: float = 0.8
    cracking_pressure: float = 3447.0

    @property
    def plunger_area(self) -> float:
        """Area of the plunger."""
        return _circle(self.bore)

    @property
    def rod_area(self) -> float:
        """Area of the rod."""
        return _circle(self.rod_diameter)

    @property
    def outlet_pressure(self) -> float:
        """Pressure at the pump head that lets water into the tank."""
        return self.tank_pressure + (self.cracking_pressure if self.check_valve else 0.0)

    @property
    def plunger_pressure(self) -> float:
        """Pressure above the plunger that does."""
        return self.outlet_pressure + SPECIFIC_WEIGHT * self.lift

    @property
    def hole_pressure(self) -> float:
        """Pressure at the hole then."""
        return self.outlet_pressure + SPECIFIC_WEIGHT * self.hole_depth

    @property
    def swept(self) -> float:
        """Volume of one stroke of the plunger if nothing stretched."""
        return self.plunger_area * self.stroke


@dataclass(frozen=True, slots=True)
class Cycle:
    """One cycle of a steady operation: m³, J, Pa. ``leak`` is water, ``air`` what came in at the hole."""

    taken_in: float
    delivered: float
    leak: float
    air: float
    upstroke_work: float
    fall: float


def _circle(diameter: float) -> float:
    return math.pi / 4.0 * diameter**2


@dataclass(frozen=True, slots=True)
class Balance:
    """Water above and below the plunger by the pressures there and the position of the rod: [p₁, p₂, u]."""

    above: tuple[float, float, float]
    below: tuple[float, float, float]

    @classmethod
    def of(cls, pump: Pump) -> "Balance":
        """From the stresses in the pipe's wall at unit pressure, and at unit pull."""
        plunger, rod = pump.plunger_area, pump.rod_area
        inside, outside = _circle(pump.inside_diameter), _circle(pump.outside_diameter)
        wall, volume = outside - inside, inside * pump.depth
        modulus, poisson = pump.pipe_modulus, pump.poisson_ratio
        # Stresses at the bore: around (outside + inside)/wall and radially −1 by pressure, along 1/wall by pull.
        around, radial = (outside + inside) / wall, -1.0
        widened = np.array([around - poisson * radial, -poisson / wall]) / modulus
        lengthened = np.array([-poisson * (around + radial), 1.0 / wall]) / modulus
        held = volume * (2.0 * widened + lengthened)
        held[0] += (volume - rod * pump.depth) / BULK_MODULUS
        longer = pump.depth * lengthened
        # By the two pressures: pull on the rod, and on the pipe, which carries what the rod does not.
        on_rod = plunger * np.array([1.0, -1.0])
        on_pipe = np.array([inside, 0.0]) - on_rod
        by_pressure = np.array([1.0, 0.0])
        grown = held[0] * by_pressure + held[1] * on_pipe
        pipe = longer[0] * by_pressure + longer[1] * on_pipe
        # Of the plunger in the cylinder: the rod's top, less the rod's stretch, plus the cylinder's descent.
        position = pipe - on_rod * pump.depth / (pump.rod_modulus * rod)
        compressed = 1.2 * plunger * pump.stroke / BULK_MODULUS
        above = grown - plunger * position
        below = plunger * position + np.array([0.0, compressed])
        return cls((*above, rod - plunger), (*below, plunger))


_State = tuple[float, ...]
_Slopes = Callable[[float, _State], _State]


def _flows(pump: Pump) -> Callable[[float, float], _State]:
    """Flows through plunger, standing valve, outlet and hole, and of air at the hole, by both pressures."""
    greatest = math.pi / 2.0 * pump.swept / pump.upstroke
    valve, outlet = greatest / _VALVE_LOSS, greatest / pump.loss
    hole = pump.hole_coefficient * _circle(pump.hole_diameter) * math.sqrt(2.0 / WATER_DENSITY)
    to_hole = pump.hole_pressure - pump.plunger_pressure

    def flows(above: float, below: float) -> _State:
        through = max(above - pump.plunger_pressure, 0.0 if pump.check_valve else -math.inf)
        at_hole = above + to_hole
        leak = hole * at_hole / math.sqrt(abs(at_hole) + _SMOOTHING)
        air = max(-WATER_PER_AIR * leak, 0.0)
        return (
            valve * max(below - above, 0.0),
            valve * max(-below, 0.0),
            outlet * through,
            max(leak, 0.0),
            air,
        )

    return flows


def _slopes(pump: Pump, speed: Callable[[float], float]) -> _Slopes:
    """Rates of both pressures, of the volumes in the order of Cycle, and of the work done on the rod."""
    balance, flows = Balance.of(pump), _flows(pump)
    (a, b, moved_above), (c, d, moved_below) = balance.above, balance.below
    determinant = a * d - b * c
    plunger, rod = pump.plunger_area, pump.rod_area
    to_head = pump.outlet_pressure - pump.plunger_pressure

    def slopes(time: float, state: _State) -> _State:
        above, below = state[0], state[1]
        plunger_flow, standing, out, leak, air = flows(above, below)
        velocity = speed(time)
        first = plunger_flow + air - leak - out - moved_above * velocity
        second = standing - plunger_flow - moved_below * velocity
        force = plunger * (above - below) - rod * (above + to_head)
        return (
            (d * first - b * second) / determinant,
            (a * second - c * first) / determinant,
            standing,
            out,
            leak,
            air,
            force * velocity,
        )

    return slopes


def _half_sine(travel: float, duration: float) -> Callable[[float], float]:
    return lambda time: travel * math.pi / (2.0 * duration) * math.sin(math.pi * time / duration)


def _phases(pump: Pump) -> Iterable[tuple[float, _Slopes]]:
    yield pump.upstroke, _slopes(pump, _half_sine(pump.stroke, pump.upstroke))
    yield pump.downstroke, _slopes(pump, _half_sine(-pump.stroke, pump.downstroke))
    if pump.rest > 0.0:
        yield pump.rest, _slopes(pump, lambda _: 0.0)


def simulate(pump: Pump) -> Cycle:
    """Run cycles until one ends at the pressure at which it began, and return the last."""
    phases = list(_phases(pump))
    pressures = np.full(2, pump.plunger_pressure)
    for _ in range(_MOST_CYCLES):
        begun = pressures[0]
        state, work = np.concatenate([pressures, np.zeros(5)]), []
        for duration, slopes in phases:
            found = solve_ivp(
                slopes,
                (0.0, duration),
                state,
                method="BDF",
                rtol=1e-6,
                atol=[3.0, 3.0, 1e-9, 1e-9, 1e-9, 1e-9, 1e-4],
            )
            assert found.success
            state = found.y[:, -1]
            work.append(float(state[6]))
        pressures = state[:2]
        if abs(pressures[0] - begun) < 30.0 + 1e-4 * pump.plunger_pressure:
            taken_in, delivered, leak, air = (float(value) for value in state[2:6])
            fall = pump.plunger_pressure - float(pressures[0])
            return Cycle(taken_in, delivered, leak, air, work[0], fall)
    message = f"no steady operation in {_MOST_CYCLES} cycles: {pump}"
    raise ArithmeticError(message)
