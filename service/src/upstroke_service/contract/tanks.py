"""The answer of a tank curve."""

from typing import Annotated

from .answered import Answered, Assumption, Finding, Series
from .answers import Envelope
from .description import about
from .quantities import Pressure, WaterVolume


class TankColumns(Answered, frozen=True, kw_only=True):
    """Points along a fill; all columns have the same length."""

    pressure: Annotated[Series, about("Gauge pressure.")]
    stored_water: Annotated[Series, about("Water in the tank.")]
    drawdown: Annotated[Series, about("Water gained since the start.")]
    drawdown_factor: Annotated[Series, about("The same as a share of the tank's total volume.")]
    water_per_pressure: Annotated[Series, about("Water gained per unit of pressure at this point.")]


class TankCurve(Envelope, frozen=True, kw_only=True):
    """How much water a tank holds at each pressure."""

    curve: TankColumns
    start: Annotated[Pressure, about("Where the curve begins.")]
    end: Annotated[Pressure, about("Where it ends: the target, or a limit that comes first.")]
    precharge: Annotated[Pressure, about("Air pressure of the empty tank.")]
    usable_drawdown: Annotated[WaterVolume, about("Water between start and end.")]
    total_volume: Annotated[WaterVolume, about("All tanks, air and water together.")]
    findings: list[Finding]
    assumptions: list[Assumption]
