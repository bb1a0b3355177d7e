"""A fill walked stroke by stroke in plain floats: the independent reference of the sizing core.

Written from the description of the models, not from the core. What differs on purpose: friction is
evaluated at each stroke's own cadence (Darcy-Weisbach with Churchill's factor, averaged over the half
sine with 48 nodes from SciPy), the cadence is found by bisection, the tank's pressure follows from the
volume of water in it, and nothing is integrated: each stroke adds its water.
"""

import functools
import math
from dataclasses import dataclass

import numpy as np
from scipy.special import roots_legendre
from tests.sizing.cases import GRAVITY, Case

from upstroke_service.physics.real import Array

LONGEST_HAND_TRAVEL = 1.1
SUBMERGENCE = 4.572
SLOWEST = 20.0 / 60.0


@functools.cache
def half_sine() -> tuple[Array, Array]:
    """Flow over peak flow through the rising half of the stroke, and the share of the volume at each."""
    points, weights = roots_legendre(48)
    sines = np.sin(math.pi / 4.0 * (points + 1.0))
    return sines, weights * sines * math.pi / 4.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A pipe, hose or annulus with the volume that one upstroke sends through it."""

    area: float
    hydraulic_diameter: float
    length: float
    roughness: float
    volume: float


@dataclass(frozen=True, slots=True)
class Loss:
    """Losses of one upstroke in m: work-weighted and at the peak, in the riser and beyond the outlet."""

    riser: float
    riser_peak: float
    pipes: float
    pipes_peak: float
    fittings: float
    fittings_peak: float


@dataclass(frozen=True, slots=True)
class Cycle:
    """One cycle at one tank pressure."""

    cadence: float
    effective: float
    work: float
    hand_force: float
    net: float
    total_head: float


@dataclass(frozen=True, slots=True)
class Walked:
    """What a walked fill took; the last stroke counts by the part of its water that was needed."""

    strokes: float
    seconds: float
    work: float


def area_of(diameter: float) -> float:
    """Area of a circle."""
    return math.pi / 4.0 * diameter**2


def churchill(reynolds: Array, relative_roughness: float) -> Array:
    """Darcy friction factor after Churchill (1977), as printed."""
    a = (2.457 * np.log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness))) ** 16
    b = (37_530.0 / reynolds) ** 16
    factor: Array = 8.0 * ((8.0 / reynolds) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)
    return factor


class Pump:
    """A case's pump and site, ready to be worked at any tank pressure."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.plunger = area_of(case.bore)
        self.rod = area_of(case.rod_diameter)
        self.lifting = self.plunger - self.rod
        self.stroke = min(case.stroke, LONGEST_HAND_TRAVEL / case.handle_ratio)
        self.displacement = self.plunger * self.stroke
        self.slowest = min(SLOWEST, case.cadence / 2.0)
        self.below_outlet = case.static_water_level + case.well_drawdown + case.outlet_height
        self.riser, self.pipes = self._stretches()
        self._losses: dict[float, Loss] = {}

    def _stretches(self) -> tuple[Stretch, list[Stretch]]:
        case = self.case
        depth = case.cylinder_depth
        if depth is None:
            depth = case.static_water_level + case.well_drawdown + self.drawdown(case.cadence) + SUBMERGENCE
        self.riser_length = depth + case.outlet_height
        delivered = case.volumetric_efficiency * self.stroke
        bore, rod = case.drop_pipe_inside_diameter, 0.0 if case.suction else case.rod_diameter
        through = self.plunger if case.suction else self.lifting
        riser = Stretch(
            area_of(bore) - area_of(rod),
            bore - rod,
            self.riser_length,
            case.drop_pipe_roughness,
            delivered * through,
        )
        pipes = [Stretch(area_of(d), d, length, e, delivered * self.lifting) for d, length, e in case.runs]
        return riser, pipes

    def drawdown(self, cadence: float) -> float:
        """Well drawdown that the mean flow adds."""
        case = self.case
        return case.volumetric_efficiency * self.displacement * cadence * case.drawdown_per_flow

    def _darcy(self, stretch: Stretch, flow: Array) -> Array:
        velocity = flow / stretch.area
        reynolds = self.case.density * velocity * stretch.hydraulic_diameter / self.case.viscosity
        factor = churchill(reynolds, stretch.roughness / stretch.hydraulic_diameter)
        return factor * stretch.length / stretch.hydraulic_diameter * velocity**2 / (2.0 * GRAVITY)

    def loss(self, cadence: float) -> Loss:
        """Losses of an upstroke at a cadence."""
        if cadence not in self._losses:
            self._losses[cadence] = self._evaluated(cadence)
        return self._losses[cadence]

    def _evaluated(self, cadence: float) -> Loss:
        case = self.case
        sines, shares = half_sine()
        phases = np.append(sines, 1.0)
        duration = case.upstroke_share / cadence

        def mean_and_peak(stretch: Stretch) -> tuple[float, float]:
            loss = self._darcy(stretch, phases * (math.pi / 2.0 * stretch.volume / duration))
            return float(shares @ loss[:-1]), float(loss[-1])

        riser = mean_and_peak(self.riser)
        pipes = [mean_and_peak(stretch) for stretch in self.pipes]
        peak = math.pi / 2.0 * case.volumetric_efficiency * self.lifting * self.stroke / duration
        fittings = sum(k * (peak / area_of(d)) ** 2 / (2.0 * GRAVITY) for k, d in case.fittings)
        return Loss(
            riser=riser[0],
            riser_peak=riser[1],
            pipes=sum(mean for mean, _ in pipes),
            pipes_peak=sum(high for _, high in pipes),
            fittings=fittings * float(shares @ sines**2),
            fittings_peak=fittings,
        )

    def outlet_pressure(self, pressure: float) -> float:
        """Pressure at the pump head while water moves so slowly that nothing is lost."""
        case = self.case
        opening = case.cracking_pressure if case.check_valve else 0.0
        return pressure + case.specific_weight * case.rise + opening

    def _forces(self, pressure: float, cadence: float, *, peak: bool) -> tuple[float, float]:
        """Rod force up, averaged over the stroke by volume or at its peak, and down (pushing positive)."""
        case, loss = self.case, self.loss(cadence)
        gamma = case.specific_weight
        riser = loss.riser_peak if peak else loss.riser
        beyond = loss.pipes_peak + loss.fittings_peak if peak else loss.pipes + loss.fittings
        head_pressure = self.outlet_pressure(pressure)
        buoyant = self.rod * self.riser_length * (case.rod_density - case.density) * GRAVITY
        weight = 0.0 if case.suction else buoyant
        # The riser's friction stands above the plunger of a lift pump, on the annulus around the rod, and
        # below that of a suction pump, on the whole plunger.
        on_riser = self.plunger if case.suction else self.lifting
        up = gamma * (self.below_outlet + self.drawdown(cadence)) * self.plunger
        up += (head_pressure + gamma * beyond) * self.lifting + gamma * riser * on_riser
        up += weight + case.seal_drag
        return up, head_pressure * self.rod + case.seal_drag - weight

    def work(self, pressure: float, cadence: float) -> float:
        """Work of one cycle at the handle."""
        up, down = self._forces(pressure, cadence, peak=False)
        return self.stroke * (up + max(down, 0.0)) / self.case.handle_efficiency

    def cadences(self, pressure: float) -> tuple[float, float]:
        """Cadence while pumping and, rests counted, on the whole."""
        power, low, high = self.case.power, self.slowest, self.case.cadence
        if self.work(pressure, high) * high <= power:
            return high, high
        if self.work(pressure, low) * low >= power:
            return low, power / self.work(pressure, low)
        for _ in range(22):
            middle = 0.5 * (low + high)
            if self.work(pressure, middle) * middle > power:
                high = middle
            else:
                low = middle
        return low, low

    def leak(self, pressure: float, cadence: float, effective: float) -> float:
        """Water lost through the weep hole in one cycle."""
        case, loss = self.case, self.loss(cadence)
        inside = self.outlet_pressure(pressure) + case.specific_weight * case.weep_hole_depth
        if case.check_valve:
            inside += case.specific_weight * (loss.pipes + loss.fittings)
        speed = math.sqrt(2.0 * max(inside, 0.0) / case.density)
        flow = case.weep_hole_coefficient * area_of(case.weep_hole_diameter) * speed
        if not case.check_valve:
            return flow / effective
        # While the rod goes down it pushes its own volume out; the hole can't take more than that, since
        # the check valve lets nothing back.
        rising, falling = case.upstroke_share / cadence, (1.0 - case.upstroke_share) / cadence
        return flow * rising + min(flow * falling, self.rod * self.stroke)

    def cycle(self, pressure: float) -> Cycle:
        """One cycle at a tank pressure."""
        case = self.case
        cadence, effective = self.cadences(pressure)
        loss = self.loss(cadence)
        up, down = self._forces(pressure, cadence, peak=True)
        delivered = case.volumetric_efficiency * self.displacement
        head = self.below_outlet + self.drawdown(cadence) + loss.riser + loss.pipes + loss.fittings
        return Cycle(
            cadence=cadence,
            effective=effective,
            work=self.work(pressure, cadence),
            hand_force=max(up, down) / (case.handle_ratio * case.handle_efficiency),
            net=delivered - self.leak(pressure, cadence, effective),
            total_head=head + self.outlet_pressure(pressure) / case.specific_weight,
        )


class Tank:
    """The air cushion: p_abs·Vⁿ stays what it was when the tank was empty of water."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def pressure(self, water: float) -> float:
        """Gauge pressure with a volume of water inside."""
        case = self.case
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


def fill(case: Case, end: float, most_strokes: int = 100_000) -> Walked:
    """Walk a fill from the case's start (or precharge, where that is higher) to ``end``.

    A stroke is worked against the pressure at which half of its water has arrived, estimated from the
    stroke before. Raises RuntimeError where no more water arrives.
    """
    pump, tank = Pump(case), Tank(case)
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
    return Walked(strokes, seconds, work)
