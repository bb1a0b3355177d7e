"""A hanging drop pipe, its rod and its weep hole over one cycle, in small steps of time. For the walk alone.

Elastic, slow against sound, free to hang. With the tension T in the rod and the pressure p in the drop
pipe, Lamé's solution for the thick wall gives

    water held        C·p − α·T
    rod and pipe      the plunger lags behind the handle by T·(1/k_rod + 1/k_pipe) − α·p

with α = (1 − 2ν)·A_i/k_pipe: pressure pulls the closed pipe long, but makes it wide and thereby shorter.
Both have the same α, as Maxwell and Betti ask for.

Going up, the rod first takes the load over while the plunger stands still in its cylinder; then the plunger
brings the pipe back to the pressure at which the check valve opens; then it delivers, until it is so slow
near the top that the hole takes all. Coming down, the pipe takes the load back, then the rod sinks through
the water. Then it may rest.
"""

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Self

from tests.sizing.cases import Case
from tests.sizing.walked_losses import area_of

BULK_MODULUS = 2.2e9
STEPS = 32
"""Of the way up, and of the way down."""
RESTING_STEPS = 8
MOST_CYCLES = 8

TRAVELLED: list[float] = [0.5 * (1.0 - math.cos(math.pi * step / STEPS)) for step in range(STEPS + 1)]
"""Share of the stroke behind the handle, evenly in time: half a sine wave of speed."""


@dataclass(frozen=True, slots=True)
class Springs:
    """How rod and drop pipe give way: ``compliance`` C in m³/Pa, ``coupling`` α in m³/N, the other two in m/N."""

    compliance: float
    coupling: float
    rod_give: float
    pipe_give: float

    @property
    def give(self) -> float:
        """Of rod and pipe together."""
        return self.rod_give + self.pipe_give

    @classmethod
    def of(cls, case: Case, length: float) -> Self:
        """Those of a case; a suction pump's pipe carries nothing and is under no pressure."""
        if case.suction:
            return cls(0.0, 0.0, 0.0, 0.0)
        inside = area_of(case.drop_pipe_inside_diameter)
        wall = area_of(case.drop_pipe_outside_diameter) - inside
        poisson, modulus = case.drop_pipe_poisson_ratio, case.drop_pipe_modulus
        across = inside / wall
        hoop = (1.0 + 2.0 * across) + poisson - poisson * across
        axial = across - 2.0 * poisson * across
        return cls(
            compliance=inside * length * ((2.0 * hoop + axial) / modulus + 1.0 / BULK_MODULUS),
            coupling=(1.0 - 2.0 * poisson) * inside * length / (modulus * wall),
            rod_give=length / (case.rod_modulus * area_of(case.rod_diameter)),
            pipe_give=length / (modulus * wall),
        )


@dataclass(frozen=True, slots=True)
class Stroke:
    """A plunger at work: areas in m², stroke in m, durations in s.

    ``load`` is the pressure that the plunger lifts against while water reaches the tank, ``held`` that in the
    drop pipe at the weep hole then, ``flowing`` the same with what the flow to the tank costs, Pa. ``hole`` is
    the hole's flow at 1 Pa, ``tightness`` the share of the plunger's volume that does not slip past it.
    """

    plunger: float
    rod: float
    length: float
    tightness: float
    load: float
    held: float
    flowing: float
    hole: float
    upstroke: float
    downstroke: float
    rest: float


@dataclass(slots=True)
class Delivery:
    """What a cycle does: m³, and by ``fall`` Pa the pressure in the drop pipe is lower before the next.

    ``taken_in`` is what the plunger sweeps in its cylinder; ``delivered`` is water, without the ``air`` that
    came in at the hole; ``lifted`` J is the work of the load on the rod, over the travel of its upper end.
    """

    taken_in: float = 0.0
    delivered: float = 0.0
    leaked: float = 0.0
    air: float = 0.0
    lifted: float = 0.0
    fall: float = 0.0


def open_above(springs: Springs, stroke: Stroke) -> Delivery:
    """Where no check valve shuts the drop pipe off from the tank: its pressure stays, and the hole always leaks."""
    load = stroke.plunger * stroke.load
    lag = min(load * springs.give, stroke.length)
    taken_in = stroke.plunger * (stroke.length - lag)
    period = stroke.upstroke + stroke.downstroke + stroke.rest
    leaked = stroke.hole * math.sqrt(stroke.held) * period
    return Delivery(
        taken_in=taken_in,
        delivered=stroke.tightness * taken_in - leaked,
        leaked=leaked,
        lifted=load * (stroke.length - lag / 2.0),
    )


class ShutAbove:
    """The same pump behind a check valve, which opens and shuts by itself as the pressure reaches the tank's."""

    def __init__(self, springs: Springs, stroke: Stroke) -> None:
        self.springs, self.stroke, self.found = springs, stroke, Delivery()
        self.pressure, self.tension = stroke.held, self._carried(stroke.held)
        self.water = stroke.tightness * stroke.plunger - stroke.rod
        # What presses the water in the pipe: while the load shifts, and while the plunger lifts.
        coupling, give, plunger = springs.coupling, springs.give, stroke.plunger
        self.lengthening = coupling / give if give > 0.0 else 0.0
        self.shifting = springs.compliance - coupling * self.lengthening
        self.lagging = give * plunger - coupling
        self.lifting = springs.compliance - coupling * plunger + stroke.tightness * plunger * self.lagging

    def cycle(self) -> Delivery:
        """From the middle of an upstroke to that of the next, until a cycle ends as it began."""
        for _ in range(MOST_CYCLES):
            self.found, pressure, tension = Delivery(), self.pressure, self.tension
            self._go_up(TRAVELLED[STEPS // 2 :])
            self._come_down()
            self.found.fall = self.stroke.held - self.pressure
            self._go_up(TRAVELLED[: STEPS // 2 + 1])
            same_pressure = math.isclose(self.pressure, pressure, rel_tol=1e-6, abs_tol=1e-3)
            if same_pressure and math.isclose(self.tension, tension, rel_tol=1e-6, abs_tol=1e-3):
                break
        # Air that came in goes out by the same way; without water the valve stays shut.
        self.found.delivered = max(self.found.delivered - self.found.air, 0.0)
        return self.found

    def _carried(self, pressure: float) -> float:
        """Tension in N that the rod has once the plunger lifts."""
        stroke = self.stroke
        return stroke.plunger * (stroke.load - stroke.held + pressure)

    def _go_up(self, travelled: list[float]) -> None:
        stroke = self.stroke
        time = stroke.upstroke / STEPS
        for before, after in pairwise(travelled):
            up, begun = (after - before) * stroke.length, self.pressure
            part = self._shift_load(up, time)
            if part < 1.0:
                self._lift((1.0 - part) * up, (1.0 - part) * time)
            mean = 0.5 * (begun + self.pressure)
            self.found.lifted += stroke.rod * (stroke.held - mean) * up

    def _lift(self, up: float, time: float) -> None:
        """The plunger moves in its cylinder, all but what rod and pipe give way."""
        before, tension = self.pressure, self.tension
        self._settle(self.lifting, self.water * up, time, self.stroke.flowing)
        self.tension = self._carried(self.pressure)
        self.found.taken_in += self.stroke.plunger * (up - self.lagging * (self.pressure - before))
        self.found.lifted += 0.5 * (tension + self.tension) * up

    def _come_down(self) -> None:
        stroke, springs = self.stroke, self.springs
        time = stroke.downstroke / STEPS
        for before, after in pairwise(TRAVELLED):
            down = (after - before) * stroke.length
            part = self._shift_load(-down, time)
            if part < 1.0:
                self.tension = 0.0
                entering = (1.0 - part) * stroke.rod * down
                self._settle(springs.compliance, entering, (1.0 - part) * time)
        for _ in range(RESTING_STEPS):
            self._settle(springs.compliance, 0.0, stroke.rest / RESTING_STEPS)

    def _shift_load(self, up: float, time: float) -> float:
        """Move the upper end of the rod while the plunger stands still: the part of the step until it needn't."""
        springs, left = self.springs, self._left_to_shift(up)
        if springs.give == 0.0 or left <= 0.0:
            return 0.0
        part, pressure, tension = 1.0, self.pressure, self.tension
        kept = replace(self.found)
        for _ in range(2):
            self._settle(self.shifting, (self.lengthening - self.stroke.rod) * part * up, part * time)
            moved = springs.coupling * (self.pressure - pressure)
            self.tension = tension + (part * up + moved) / springs.give
            over = -self._left_to_shift(up)
            if over <= 0.0 or part < 1.0:
                break
            part = left / (left + over)
            self.found, self.pressure, self.tension = replace(kept), pressure, tension
        if up > 0.0:
            self.found.lifted += 0.5 * (tension + self.tension) * part * up
        return part

    def _left_to_shift(self, up: float) -> float:
        """Tension in N that the rod has yet to take on while its end goes ``up``, or to lose."""
        return self._carried(self.pressure) - self.tension if up > 0.0 else self.tension

    def _settle(self, spring: float, volume: float, time: float, flowing: float | None = None) -> None:
        """Let ``volume`` into a pipe that takes ``spring`` m³/Pa, while the hole leaks.

        The hole's flow is that at the mean of the roots of both pressures. Where it would overtake the
        steady pressure, at which all that comes in leaks, it ends there. Above what is held the check valve
        opens; ``flowing`` is the pressure at the hole while it is open, unless that is what is held.
        """
        held, found = self.stroke.held, self.found
        there = spring * self.pressure + volume
        if there <= 0.0:
            found.air -= there
            self.pressure = 0.0
            return
        before, half = math.sqrt(self.pressure), 0.5 * self.stroke.hole * time
        wanted = there - half * before
        after = 0.0
        if wanted > 0.0:
            after = 2.0 * wanted / (half + math.sqrt(half**2 + 4.0 * spring * wanted))
        if volume > 0.0 and half > 0.0:
            steady = 0.5 * volume / half
            after = max(after, steady) if before > steady else min(after, steady)
        pressure, out = after**2, 0.0
        if pressure >= held:
            opening = self.pressure < held
            pressure = held
            last = math.sqrt(held)
            leaked = half * (before + last) if opening or flowing is None else 2.0 * half * math.sqrt(flowing)
            out = max(there - spring * held - leaked, 0.0)
        found.leaked += there - spring * pressure - out
        found.delivered += out
        self.pressure = pressure
