"""How a hanging drop pipe and the rod in it give way over a cycle. For the walk alone.

Elastic, slow against sound, free to hang. With the tension T in the rod and the pressure p in the drop
pipe, whose bottom is closed while the plunger comes down, Lamé's solution for the thick wall gives

    water held        C·p − α·T
    rod and pipe      the plunger lags behind the handle by T·(1/k_rod + 1/k_pipe) − α·p

with α = (1 − 2ν)·A_i/k_pipe: pressure pulls the closed pipe long, but makes it wide and thereby shorter.
Both have the same α, as Maxwell and Betti ask for.
"""

import math
from dataclasses import dataclass
from typing import Self

from scipy.special import lambertw, wrightomega
from tests.sizing.cases import Case
from tests.sizing.walked_losses import area_of

BULK_MODULUS = 2.2e9


@dataclass(frozen=True, slots=True)
class Return:
    """The return stroke: water that leaks, and by how much the pressure in the drop pipe is lower at its end."""

    leak: float
    fall: float


@dataclass(frozen=True, slots=True)
class Riser:
    """``compliance`` C in m³/Pa, ``coupling`` α in m³/N, the other two in m/N."""

    compliance: float
    coupling: float
    rod_give: float
    pipe_give: float

    @classmethod
    def of(cls, case: Case, length: float) -> Self:
        """That of a case; a suction pump's hangs on nothing and is under no pressure."""
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

    def stretch(self, load: float, fall: float) -> float:
        """How much of the stroke the plunger loses, m, where the pressure falls by ``fall`` on the return."""
        return load * (self.rod_give + self.pipe_give) - self.coupling * fall

    def spared(self, load: float, fall: float) -> float:
        """Work in J by which an upstroke falls short of ``load`` times the whole stroke of the handle.

        From the elastic energy ½·T²·(1/k_rod + 1/k_pipe) + ½·C·p² − α·p·T at both ends of the upstroke.
        """
        bent = 0.5 * load**2 * (self.rod_give + self.pipe_give)
        return bent + 0.5 * self.compliance * fall**2 - self.coupling * load * fall

    def coming_down(self, load: float, held: float, entering: float, time: float, hole: float) -> Return:
        """A return stroke of ``time`` in s between closed valves.

        ``held`` Pa stands at the weep hole when it begins, whose flow is ``hole`` times √p; the rod brings
        ``entering`` m³/s. First the pipe takes the ``load`` over and lengthens; then C·dp/dt = a − b·√p,
        until the check valve opens at ``held`` again.
        """
        begun = held - self.coupling * load / self.compliance if self.compliance > 0.0 else held
        begun = max(begun, 0.0)
        steady = hole * math.sqrt(held)
        if entering >= steady:
            opening = self._until(begun, held, entering, hole)
            if opening <= time:
                leak = entering * opening + self.compliance * (begun - held) + steady * (time - opening)
                return Return(leak, 0.0)
        end = self._after(begun, entering, time, hole)
        return Return(entering * time + self.compliance * (begun - end), held - end)

    def _until(self, begun: float, held: float, entering: float, hole: float) -> float:
        """Time that the pressure takes to rise from ``begun`` to ``held``, s."""
        if begun >= held:
            return 0.0
        if hole == 0.0:
            return self.compliance * (held - begun) / entering
        first, last = (hole * math.sqrt(p) / entering - 1.0 for p in (begun, held))
        if last >= 0.0:
            return math.inf
        unit = 2.0 * self.compliance * entering / hole**2
        return unit * (first + math.log(-first) - last - math.log(-last))

    def _after(self, begun: float, entering: float, time: float, hole: float) -> float:
        """Pressure after ``time``: with √p = (a/b)·(1 + u), u + ln|u| falls evenly with time."""
        if hole == 0.0:
            return begun + entering * time / self.compliance
        even = entering / hole
        if self.compliance == 0.0:
            return even**2
        excess = math.sqrt(begun) / even - 1.0
        if excess == 0.0:
            return begun
        fallen = excess + math.log(abs(excess)) - hole**2 * time / (2.0 * self.compliance * entering)
        later = wrightomega(fallen) if excess > 0.0 else lambertw(-math.exp(fallen))
        return float((even * (1.0 + later.real)) ** 2)
