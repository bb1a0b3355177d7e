"""The answer of a tank curve."""

from typing import Annotated

from msgspec import UNSET, UnsetType

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


class GasBand(Answered, frozen=True, kw_only=True):
    """How far water and pressure lie apart between a slow fill and a fast one.

    Slow: the air keeps its temperature, a gas exponent of 1. Fast: it gives off no heat, 1.4. Every fill
    lies in between; one by hand lies close to the slow one.
    """

    text: Annotated[str, about("The band in words.")]
    gas_exponent: Annotated[float, about("The exponent that the rest of the answer counts with.")]
    slow_drawdown: Annotated[WaterVolume, about("Water between start and end in a slow fill.")]
    fast_drawdown: Annotated[WaterVolume, about("The same in a fast one.")]
    slow_pressure: Annotated[
        Pressure, about("Where a slow fill brings the gauge with the water that the curve ends with.")
    ]
    fast_pressure: Annotated[
        Pressure, about("Where a fast one brings it; it falls back to slow_pressure as the air cools.")
    ]


class TankCurve(Envelope, frozen=True, kw_only=True):
    """How much water a tank holds at each pressure."""

    curve: TankColumns
    start: Annotated[Pressure, about("Where the curve begins.")]
    end: Annotated[Pressure, about("Where it ends: the target, or a limit that comes first.")]
    precharge: Annotated[
        Pressure,
        about(
            "Air pressure of the empty tank, at the temperature of its air now; negative where its air would "
            "not fill it without pressure."
        ),
    ]
    atmospheric_pressure: Annotated[
        Pressure, about("Absolute pressure of the air around, at the site's elevation.")
    ]
    usable_drawdown: Annotated[WaterVolume, about("Water between start and end.")]
    total_volume: Annotated[WaterVolume, about("All tanks, air and water together.")]
    gas_band: GasBand
    pressure_at_stored_volume: (
        Annotated[
            Pressure, about("Where the tank holds the stored_volume asked about; left out where it can't.")
        ]
        | UnsetType
    ) = UNSET
    total_volume_for_drawdown: (
        Annotated[
            WaterVolume,
            about(
                "Total volume that gives the wanted_drawdown between start and end; left out where none does."
            ),
        ]
        | UnsetType
    ) = UNSET
    tanks_for_drawdown: Annotated[int, about("How many tanks like this one do.")] | UnsetType = UNSET
    findings: list[Finding]
    assumptions: list[Assumption]
