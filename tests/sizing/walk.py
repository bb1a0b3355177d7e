"""A fill walked stroke by stroke in plain floats: the independent reference of the sizing core.

Written from the description of the models, not from the core. What differs on purpose: friction is
evaluated at 512 cadences (Darcy-Weisbach with Churchill's factor, averaged over the half sine with 48
nodes from SciPy) and is a straight line between two of them, peak forces are looked for on a fine grid
of phases, what rod, drop pipe and weep hole do is stepped through each cycle, the cadence is found by
looking for a root, the tank's pressure follows from the volume of water in it, and nothing is
integrated: each stroke adds its water.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from scipy.optimize import brentq
from tests.sizing.cases import GRAVITY, Case
from tests.sizing.walked_losses import Loss, Losses, area_of
from tests.sizing.walked_riser import Delivery, ShutAbove, Springs, Stroke, open_above

from upstroke_service.physics.suction import PRACTICAL_SHARE, REQUIRED_NPSH

LONGEST_HAND_TRAVEL = 1.1
SUBMERGENCE = 4.572
SLOWEST = 20.0 / 60.0
SPELL, LONGEST_SPELL = 900.0, 28_800.0
OPEN_SPAN = 1.0


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


def _fastest(left: Callable[[float], float], low: float, high: float) -> float:
    """Fastest cadence at which nothing is exceeded, so that ``left`` is not negative; ``low`` where none is."""
    if low >= high or left(high) >= 0.0:
        return high
    return low if left(low) <= 0.0 else float(brentq(left, low, high, xtol=1e-9, rtol=1e-7))


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
        self.springs = Springs.of(case, self.riser_length)
        self.losses = Losses(case, self.stroke, self.riser_length, self.slowest)
        self._delivered: dict[tuple[float, float, float], Delivery] = {}

    def drawdown(self, cadence: float) -> float:
        """Well drawdown that the mean flow adds, but no more than the wanted water empties of the casing."""
        case = self.case
        if self.wanted <= 0.0:
            return 0.0
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

    def delivery(self, pressure: float, cadence: float, effective: float) -> Delivery:
        """What plunger, rod, drop pipe and weep hole do in one cycle, the rest after it included."""
        known = (pressure, cadence, effective)
        if known not in self._delivered:
            self._delivered = {known: self._delivery(pressure, cadence, effective)}
        return self._delivered[known]

    def _delivery(self, pressure: float, cadence: float, effective: float) -> Delivery:
        case, held = self.case, self.hole_pressure(pressure)
        stroke = Stroke(
            plunger=self.plunger,
            rod=self.rod,
            length=self.stroke,
            tightness=case.volumetric_efficiency,
            load=self.plunger_load(pressure, cadence) / self.plunger,
            held=held,
            flowing=held + case.specific_weight * self.loss(cadence).beyond,
            hole=self.hole_capacity,
            upstroke=case.upstroke_share / cadence,
            downstroke=(1.0 - case.upstroke_share) / cadence,
            rest=max(1.0 / effective - 1.0 / cadence, 0.0),
        )
        gives_nowhere = self.springs.give == 0.0 and stroke.hole == 0.0
        if not case.check_valve or gives_nowhere:
            return open_above(self.springs, stroke)
        return ShutAbove(self.springs, stroke).cycle()

    # A cycle

    def rod_forces(self, pressure: float) -> tuple[float, float]:
        """Rod force up but for the plunger's load and what depends on the flow; and down (pushing positive)."""
        case = self.case
        held_up = self.outlet_pressure(pressure) * self.rod
        buoyant = self.rod * self.riser_length * (case.rod_density - case.density) * GRAVITY
        weight = 0.0 if case.suction else buoyant
        return weight + case.seal_drag - held_up, held_up + case.seal_drag - weight

    def work(self, pressure: float, cadence: float, effective: float | None = None) -> float:
        """Work of one cycle at the handle, at least what one stroke takes of the seals alone.

        Without ``effective``: no rests.
        """
        case, loss = self.case, self.loss(cadence)
        up, down = self.rod_forces(pressure)
        friction = case.specific_weight * (self.losses.on_riser * loss.riser + self.lifting * loss.beyond)
        lifted = self.delivery(pressure, cadence, effective or cadence).lifted
        given = lifted + self.stroke * (up + friction + max(down, 0.0))
        return max(given, self.stroke * case.seal_drag) / case.handle_efficiency

    def hand_forces(self, pressure: float, cadence: float) -> tuple[float, float]:
        """At the grip: greatest force of the upstroke, and of the return."""
        up, down = self.rod_forces(pressure)
        leverage = self.case.handle_ratio * self.case.handle_efficiency
        greatest = self.plunger_load(pressure, cadence) + up + self.loss(cadence).peak_force
        return greatest / leverage, down / leverage

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

    def _atmosphere_left(self, cadence: float) -> float:
        """What is left of the practical suction lift, or of the atmosphere itself; the lesser."""
        practical = PRACTICAL_SHARE * self.barometric - self.suction_lift(cadence)
        return min(practical, self.npsh_margin(cadence))

    def cadences(self, pressure: float) -> tuple[float, float]:
        """Cadence while pumping and, rests counted, on the whole.

        The least of the preferred one, the one at which the hand's peak force meets its limit, that at
        which a suction pump just gets its water, and that at which the power is just kept up. None is below
        the slowest; where that takes more power, there are rests.
        """
        case, low = self.case, self.slowest

        def strength_left(cadence: float) -> float:
            return case.hand_force_limit - self.hand_forces(pressure, cadence)[0]

        def power_left(cadence: float) -> float:
            return self.power - self.work(pressure, cadence) * cadence

        pumping = _fastest(strength_left, low, case.cadence)
        if case.suction:
            pumping = _fastest(self._atmosphere_left, low, pumping)
        pumping = _fastest(power_left, low, pumping)
        effective = pumping
        if pumping == low:
            for _ in range(12):  # a longer rest lets the riser bleed a little further
                before = effective
                effective = min(low, self.power / self.work(pressure, low, effective))
                if abs(effective - before) < 1e-7 * low:
                    break
        return pumping, effective

    def cycle(self, pressure: float) -> Cycle:
        """One cycle at a tank pressure."""
        case = self.case
        cadence, effective = self.cadences(pressure)
        loss = self.loss(cadence)
        up, down = self.hand_forces(pressure, cadence)
        delivery = self.delivery(pressure, cadence, effective)
        head = self.below_outlet + self.drawdown(cadence) + loss.riser + loss.beyond
        return Cycle(
            cadence=cadence,
            effective=effective,
            work=self.work(pressure, cadence, effective),
            hand_force=max(up, down),
            return_force=down,
            stroke=delivery.taken_in / self.plunger,
            net=delivery.delivered,
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
