"""A fill walked stroke by stroke in plain floats: the independent reference of the sizing core.

Written from the description of the models, not from the core. What differs on purpose: friction is
evaluated at 512 cadences (Darcy-Weisbach with Churchill's factor, averaged over the half sine with 48
nodes from SciPy) and is a straight line between two of them, peak forces are looked for on a fine grid
of phases, the pressure of a riser that bleeds through its weep hole follows from the exact solution of
its differential equation, the cadence is found by bisection, the tank's pressure follows from the
volume of water in it, and nothing is integrated: each stroke adds its water.
"""

import math
from dataclasses import dataclass

from tests.sizing.cases import GRAVITY, Case
from tests.sizing.walked_losses import Loss, Losses, area_of
from tests.sizing.walked_riser import Return, Riser

from upstroke_service.physics.suction import PRACTICAL_SHARE, REQUIRED_NPSH

LONGEST_HAND_TRAVEL = 1.1
SUBMERGENCE = 4.572
SLOWEST = 20.0 / 60.0
SPELL, LONGEST_SPELL = 900.0, 28_800.0
OPEN_SPAN = 1.0
BISECTIONS = 26


@dataclass(frozen=True, slots=True)
class Cycle:
    """One cycle at one tank pressure."""

    cadence: float
    effective: float
    work: float
    hand_force: float
    return_force: float
    stroke: float
    net: float
    total_head: float
    npsh_margin: float


@dataclass(frozen=True, slots=True)
class Walked:
    """What a walked fill took; the last stroke counts by the part of its water that was needed."""

    strokes: float
    seconds: float
    work: float
    power: float


def power_for(case: Case, seconds: float) -> float:
    """What each of the people, in turns, keeps up in a fill of so many seconds: Krendel's fall with time."""

    def krendel(time: float) -> float:
        return 0.35 - 0.092 * math.log10(time / 60.0)

    if not case.tires:
        return case.power
    turn = min(max(seconds / case.people, SPELL), LONGEST_SPELL)
    return case.power * krendel(turn) / krendel(SPELL)


class Pump:
    """A case's pump and site, ready to be worked at any tank pressure."""

    def __init__(self, case: Case, power: float | None = None) -> None:
        self.case = case
        self.power = case.power if power is None else power
        self.plunger = area_of(case.bore)
        self.rod = area_of(case.rod_diameter)
        self.lifting = self.plunger - self.rod
        self.stroke = min(case.stroke, LONGEST_HAND_TRAVEL / case.handle_ratio)
        self.displacement = self.plunger * self.stroke
        self.slowest = min(SLOWEST, case.cadence / 2.0)
        self.below_outlet = case.static_water_level + case.well_drawdown + case.outlet_height
        tank = Tank(case)
        self.wanted = tank.water(case.target) - tank.water(max(case.start, case.precharge))
        depth = case.cylinder_depth
        if depth is None:
            depth = case.static_water_level + case.well_drawdown + self.drawdown(case.cadence) + SUBMERGENCE
        self.riser_length = depth + case.outlet_height
        self.gives = Riser.of(case, self.riser_length)
        self.losses = Losses(case, self.stroke, self.riser_length, self.slowest)

    def drawdown(self, cadence: float) -> float:
        """Well drawdown that the mean flow adds, but no more than the wanted water empties of the casing."""
        case = self.case
        fall = case.volumetric_efficiency * self.displacement * cadence * case.drawdown_per_flow
        return min(fall, self.wanted / case.casing_area) if case.casing_area > 0.0 else fall

    def loss(self, cadence: float) -> Loss:
        """What moving the water costs at a cadence."""
        return self.losses.at(cadence)

    # Pressures, and what they do to rod and riser

    def outlet_pressure(self, pressure: float) -> float:
        """Pressure at the pump head while water moves so slowly that nothing is lost."""
        case = self.case
        opening = case.cracking_pressure if case.check_valve else 0.0
        return pressure + case.specific_weight * case.rise + opening

    def plunger_load(self, pressure: float, cadence: float) -> float:
        """Force of the water at rest on the plunger, less the well's own level."""
        column = self.case.specific_weight * (self.below_outlet + self.drawdown(cadence))
        return self.plunger * (column + self.outlet_pressure(pressure))

    def hole_pressure(self, pressure: float) -> float:
        """Pressure inside the riser at the weep hole while nothing is lost."""
        case = self.case
        return max(self.outlet_pressure(pressure) + case.specific_weight * case.weep_hole_depth, 0.0)

    @property
    def hole_capacity(self) -> float:
        """Flow through the weep hole in m³/s at 1 Pa."""
        case = self.case
        area = area_of(case.weep_hole_diameter)
        return case.weep_hole_coefficient * area * math.sqrt(2.0 / case.density)

    def return_stroke(self, pressure: float, cadence: float, effective: float) -> Return:
        """The plunger's way down, rests included, while the check valve keeps the riser shut."""
        case, held, hole = self.case, self.hole_pressure(pressure), self.hole_capacity
        if not case.check_valve or (case.suction and hole == 0.0):
            return Return(0.0, 0.0)
        time = 1.0 / effective - case.upstroke_share / cadence
        load = self.plunger_load(pressure, cadence)
        return self.gives.coming_down(load, held, self.rod * self.stroke / time, time, hole)

    # A cycle

    def rod_forces(self, pressure: float, cadence: float) -> tuple[float, float]:
        """Rod force up, of what doesn't depend on the flow, and down (pushing positive)."""
        case = self.case
        held_up = self.outlet_pressure(pressure) * self.rod
        buoyant = self.rod * self.riser_length * (case.rod_density - case.density) * GRAVITY
        weight = 0.0 if case.suction else buoyant
        up = self.plunger_load(pressure, cadence) - held_up + weight + case.seal_drag
        return up, held_up + case.seal_drag - weight

    def work(self, pressure: float, cadence: float, effective: float | None = None) -> float:
        """Work of one cycle at the handle; less is needed while rod and drop pipe stretch.

        At least what one stroke takes of the seals alone. Without ``effective``: no rests.
        """
        case, loss = self.case, self.loss(cadence)
        up, down = self.rod_forces(pressure, cadence)
        friction = case.specific_weight * (self.losses.on_riser * loss.riser + self.lifting * loss.beyond)
        fall = self.return_stroke(pressure, cadence, effective or cadence).fall
        spared = self.gives.spared(self.plunger_load(pressure, cadence), fall)
        given = self.stroke * (up + friction + max(down, 0.0)) - spared
        return max(given, self.stroke * case.seal_drag) / case.handle_efficiency

    def hand_forces(self, pressure: float, cadence: float) -> tuple[float, float]:
        """At the grip: greatest force of the upstroke, and of the return."""
        up, down = self.rod_forces(pressure, cadence)
        leverage = self.case.handle_ratio * self.case.handle_efficiency
        return (up + self.loss(cadence).peak_force) / leverage, down / leverage

    @property
    def barometric(self) -> float:
        """Height to which the atmosphere pushes this water."""
        case = self.case
        return (case.atmospheric_pressure - case.saturation_pressure) / case.specific_weight

    def suction_lift(self, cadence: float) -> float:
        """From the pumping level up to the outlet, where a suction cylinder stands."""
        return self.below_outlet + self.drawdown(cadence)

    def npsh_margin(self, cadence: float) -> float:
        """What the atmosphere has left for a suction cylinder, beyond what it needs."""
        left = self.barometric - self.suction_lift(cadence) - self.loss(cadence).peak_riser
        return left - REQUIRED_NPSH

    def _bearable(self, pressure: float, cadence: float) -> bool:
        case = self.case
        if self.work(pressure, cadence) * cadence > self.power:
            return False
        if self.hand_forces(pressure, cadence)[0] > case.hand_force_limit:
            return False
        practical = self.suction_lift(cadence) <= PRACTICAL_SHARE * self.barometric
        return not case.suction or (practical and self.npsh_margin(cadence) >= 0.0)

    def cadences(self, pressure: float) -> tuple[float, float]:
        """Cadence while pumping and, rests counted, on the whole."""
        low, high = self.slowest, self.case.cadence
        if self._bearable(pressure, high):
            return high, high
        if self._bearable(pressure, low):
            for _ in range(BISECTIONS):
                middle = 0.5 * (low + high)
                low, high = (middle, high) if self._bearable(pressure, middle) else (low, middle)
            return low, low
        effective = low
        for _ in range(12):  # a longer rest lets the riser bleed a little further
            effective = min(low, self.power / self.work(pressure, low, effective))
        return low, effective

    def leak(self, pressure: float, cadence: float, effective: float) -> float:
        """Water lost through the weep hole in one cycle."""
        case = self.case
        if not case.check_valve:
            return self.hole_capacity * math.sqrt(self.hole_pressure(pressure)) / effective
        moving = self.hole_pressure(pressure) + case.specific_weight * self.loss(cadence).beyond
        upstroke = self.hole_capacity * math.sqrt(moving) * case.upstroke_share / cadence
        return upstroke + self.return_stroke(pressure, cadence, effective).leak

    def cycle(self, pressure: float) -> Cycle:
        """One cycle at a tank pressure."""
        case = self.case
        cadence, effective = self.cadences(pressure)
        loss = self.loss(cadence)
        up, down = self.hand_forces(pressure, cadence)
        fall = self.return_stroke(pressure, cadence, effective).fall
        stretched = self.gives.stretch(self.plunger_load(pressure, cadence), fall)
        stroke = max(self.stroke - stretched, 0.0)
        delivered = case.volumetric_efficiency * self.plunger * stroke
        head = self.below_outlet + self.drawdown(cadence) + loss.riser + loss.beyond
        return Cycle(
            cadence=cadence,
            effective=effective,
            work=self.work(pressure, cadence, effective),
            hand_force=max(up, down),
            return_force=down,
            stroke=stroke,
            net=delivered - self.leak(pressure, cadence, effective),
            total_head=head + self.outlet_pressure(pressure) / case.specific_weight,
            npsh_margin=self.npsh_margin(cadence),
        )


class Tank:
    """The air cushion: p_abs·Vⁿ stays what it was when the tank was empty of water. An open one: no cushion."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def pressure(self, water: float) -> float:
        """Gauge pressure with a volume of water inside."""
        case = self.case
        if case.open:
            return OPEN_SPAN * water / case.tank_volume
        squeezed = case.tank_volume / (case.tank_volume - water)
        empty = case.precharge + case.atmospheric_pressure
        pressed: float = squeezed**case.gas_exponent
        return empty * pressed - case.atmospheric_pressure

    def water(self, pressure: float) -> float:
        """Volume of water at a gauge pressure, by bisection on ``pressure``."""
        low, high = 0.0, self.case.tank_volume
        for _ in range(100):
            middle = 0.5 * (low + high)
            if middle >= self.case.tank_volume or self.pressure(middle) > pressure:
                high = middle
            else:
                low = middle
        return low


def walked(case: Case, end: float, power: float, most_strokes: int = 3_000) -> Walked:
    """Walk a fill from the case's start (or precharge, where that is higher) to ``end`` at one power.

    A stroke is worked against the pressure at which half of its water has arrived, estimated from the
    stroke before. Raises RuntimeError where no more water arrives.
    """
    pump, tank = Pump(case, power), Tank(case)
    water, wanted = tank.water(max(case.start, case.precharge)), tank.water(end)
    strokes = seconds = work = 0.0
    last = 0.0
    while water < wanted:
        cycle = pump.cycle(tank.pressure(water + 0.5 * min(last, wanted - water)))
        if cycle.net <= 0.0 or strokes > most_strokes:
            message = f"stalled at {tank.pressure(water):.0f} Pa"
            raise RuntimeError(message)
        part = min(1.0, (wanted - water) / cycle.net)
        strokes += part
        seconds += part / cycle.effective
        work += part * cycle.work
        water += part * cycle.net
        last = cycle.net
    return Walked(strokes, seconds, work, power)


def fill(case: Case, end: float) -> Walked:
    """Walk a fill at the power that is kept up for as long as the fill takes."""
    found = walked(case, end, case.power)
    for _ in range(60):
        power = power_for(case, found.seconds)
        if abs(power / found.power - 1.0) < 1e-6:
            break
        found = walked(case, end, power)
    return found
