"""What moving the water costs in one upstroke, in plain terms: friction by Darcy and Churchill, and inertia.

For the walk alone: nothing here is shared with the core.
"""

import functools
import math
from dataclasses import dataclass

import numpy as np
from scipy.special import roots_legendre
from tests.sizing.cases import GRAVITY, Case

from upstroke_service.physics.real import Array


@functools.cache
def half_sine() -> tuple[Array, Array]:
    """Flow over peak flow through the rising half of the stroke, and the share of the volume at each."""
    points, weights = roots_legendre(48)
    sines = np.sin(math.pi / 4.0 * (points + 1.0))
    return sines, weights * sines * math.pi / 4.0


STEPS = 512

PHASES = np.linspace(0.0, math.pi / 2.0, 181)
"""From the start of the upstroke, where the water is pushed hardest, to its middle, where it is fastest."""


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
    """What moving the water costs at one cadence.

    Work-weighted heads in m in the riser, in pipes beyond the outlet and in fittings; at the worst phase
    of the upstroke the force in N on the rod of friction and inertia, and the head in m in the riser.
    """

    riser: float
    pipes: float
    fittings: float
    peak_force: float
    peak_riser: float

    def mixed(self, other: "Loss", share: float) -> "Loss":
        """``share`` of the way to another loss."""
        return Loss(
            self.riser + share * (other.riser - self.riser),
            self.pipes + share * (other.pipes - self.pipes),
            self.fittings + share * (other.fittings - self.fittings),
            self.peak_force + share * (other.peak_force - self.peak_force),
            self.peak_riser + share * (other.peak_riser - self.peak_riser),
        )

    @property
    def beyond(self) -> float:
        """Work-weighted head lost beyond the pump outlet."""
        return self.pipes + self.fittings


def area_of(diameter: float) -> float:
    """Area of a circle."""
    return math.pi / 4.0 * diameter**2


def churchill(reynolds: Array, relative_roughness: float) -> Array:
    """Darcy friction factor after Churchill (1977), as printed."""
    a = (2.457 * np.log(1.0 / ((7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness))) ** 16
    b = (37_530.0 / reynolds) ** 16
    factor: Array = 8.0 * ((8.0 / reynolds) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)
    return factor


class Losses:
    """Losses of a case's upstroke by its cadence, kept once they are known."""

    def __init__(self, case: Case, stroke: float, riser_length: float, slowest: float) -> None:
        self.case, self.slowest = case, slowest
        self.cycle_volume = case.volumetric_efficiency * area_of(case.bore) * stroke
        rod_share = (case.rod_diameter / case.bore) ** 2
        self.upstroke_volume = self.cycle_volume * (1.0 - rod_share)
        bore, rod = case.drop_pipe_inside_diameter, 0.0 if case.suction else case.rod_diameter
        # The riser's water stands above the plunger of a lift pump, on the annulus around the rod, and
        # below that of a suction pump, on the whole plunger.
        self.lifting = area_of(case.bore) - area_of(case.rod_diameter)
        self.on_riser = area_of(case.bore) if case.suction else self.lifting
        self.riser = Stretch(
            area_of(bore) - area_of(rod),
            bore - rod,
            riser_length,
            case.drop_pipe_roughness,
            self.cycle_volume if case.suction else self.upstroke_volume,
        )
        self.pipes = [Stretch(area_of(d), d, length, e, self.upstroke_volume) for d, length, e in case.runs]
        self._known: dict[int, Loss] = {}

    def at(self, cadence: float) -> Loss:
        """Losses at a cadence, on the straight line between the neighbouring ones of 512."""
        place = (cadence - self.slowest) / (self.case.cadence - self.slowest) * STEPS
        lower = min(max(math.floor(place), 0), STEPS - 1)
        return self._step(lower).mixed(self._step(lower + 1), place - lower)

    def _step(self, step: int) -> Loss:
        if step not in self._known:
            cadence = self.slowest + step / STEPS * (self.case.cadence - self.slowest)
            self._known[step] = self._evaluated(cadence)
        return self._known[step]

    def _evaluated(self, cadence: float) -> Loss:
        duration = self.case.upstroke_share / cadence
        riser, riser_by_phase = self._pulsating(self.riser, duration)
        pipes, fittings, beyond_by_phase = (
            self._evened(cadence) if self.case.air_chamber else self._beyond(duration)
        )
        force = self.on_riser * riser_by_phase + self.lifting * beyond_by_phase
        peak_force = self.case.specific_weight * float(force.max())
        return Loss(riser, pipes, fittings, peak_force, float(riser_by_phase.max()))

    def _darcy(self, stretch: Stretch, flow: Array) -> Array:
        velocity = np.maximum(flow, 1e-12) / stretch.area
        reynolds = self.case.density * velocity * stretch.hydraulic_diameter / self.case.viscosity
        factor = churchill(reynolds, stretch.roughness / stretch.hydraulic_diameter)
        return factor * stretch.length / stretch.hydraulic_diameter * velocity**2 / (2.0 * GRAVITY)

    def _fittings(self, flow: float) -> float:
        return sum(k * (flow / area_of(d)) ** 2 / (2.0 * GRAVITY) for k, d in self.case.fittings)

    def _pulsating(self, stretch: Stretch, duration: float) -> tuple[float, Array]:
        """Work-weighted friction, and friction and inertia together by phase."""
        sines, shares = half_sine()
        peak = math.pi / 2.0 * stretch.volume / duration
        friction = self._darcy(stretch, np.append(sines, np.sin(PHASES)) * peak)
        pushed = stretch.length / GRAVITY * math.pi / duration * peak / stretch.area
        return float(shares @ friction[: len(sines)]), friction[len(sines) :] + pushed * np.cos(PHASES)

    def _beyond(self, duration: float) -> tuple[float, float, Array]:
        """Work-weighted friction in pipes and fittings, and all heads together by phase."""
        sines, shares = half_sine()
        pipes = [self._pulsating(stretch, duration) for stretch in self.pipes]
        at_peak = self._fittings(math.pi / 2.0 * self.upstroke_volume / duration)
        by_phase = sum((phases for _, phases in pipes), at_peak * np.sin(PHASES) ** 2)
        return sum(mean for mean, _ in pipes), at_peak * float(shares @ sines**2), by_phase

    def _evened(self, cadence: float) -> tuple[float, float, Array]:
        """The same behind an air chamber: the mean flow of the whole cycle, all the time."""
        mean = self.cycle_volume * cadence
        pipes = sum(float(self._darcy(stretch, np.array([mean]))[0]) for stretch in self.pipes)
        return pipes, self._fittings(mean), np.full_like(PHASES, pipes + self._fittings(mean))
