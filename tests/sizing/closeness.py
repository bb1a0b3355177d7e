"""How close the core comes to the walk, by what it knowingly leaves out.

Measured on 1 900 ordinary cases. Where no weep hole bleeds the drop pipe and the well keeps its level, the
two agree within what a parabola through three cadences leaves of friction and inertia. Else the core

- takes the load that stretches rod and drop pipe at the preferred cadence's well drawdown, whatever the
  cadence: the water per stroke comes out low, and so does the work;
- has a closed form of what bleeds behind a check valve, where the walk takes small steps. It is widest of
  the mark where half of the stroke is lost to stretch, where next to nothing is delivered, and where a
  thick rod brings as much water on its way down as the hole takes;
- counts the saving by stretch as if the drop pipe did not bleed: the work comes out high, never low.
"""

from dataclasses import dataclass

from tests.sizing.walk import Pump

THICK_ROD = 0.13
"""Share of the plunger's area."""


@dataclass(frozen=True, slots=True)
class Closeness:
    """``net`` is the difference allowed in the water per stroke, as a share of the displacement.

    ``high`` and ``low`` are the shares by which the work of a cycle may be too high and too low.
    """

    net: float
    high: float
    low: float
    plain: bool

    @classmethod
    def of(cls, pump: Pump) -> "Closeness":
        """That of a case."""
        case = pump.case
        bleeds = case.check_valve and case.weep_hole_diameter > 0.0
        thick = bleeds and pump.rod > THICK_ROD * pump.plunger
        lowered = pump.drawdown(case.cadence) - pump.drawdown(pump.slowest)
        load = case.specific_weight * pump.plunger * lowered
        well = load * pump.springs.give / pump.stroke
        return cls(
            net=0.002 + well + 0.09 * bleeds + 0.10 * thick,
            high=0.006 + 0.30 * bleeds,
            low=0.006 + 2.0 * well + 0.02 * bleeds,
            plain=not bleeds and well < 0.001,
        )

    def work(self, ratio: float, strokes: float = 0.0) -> bool:
        """Whether a ratio of the core's work, or time, to the walk's is allowed; ``strokes`` as below."""
        return (1.0 - self.low) * (1.0 - strokes) <= ratio <= (1.0 + self.high) * (1.0 + strokes)

    def strokes(self, net: float) -> float:
        """Share by which the number of strokes may differ where ``net`` of the displacement is delivered."""
        return self.net / max(net - self.net, 0.1 * self.net)
