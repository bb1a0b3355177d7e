"""Quantities on the wire: a value with a unit from a closed list.

What comes in is typed by what it measures and within which bounds it is believable; what goes out by
the unit that each unit system gives it.
"""

from typing import Annotated, ClassVar, Literal

from msgspec import Meta, Struct

Number = Annotated[float, Meta(ge=-1e9, le=1e9, description="Value in the given unit.")]

LengthUnit = Annotated[Literal["ft", "in", "m", "cm", "mm"], Meta(description="Unit of length.")]
PressureUnit = Annotated[Literal["psi", "kPa", "bar"], Meta(description="Unit of gauge pressure.")]
VolumeUnit = Annotated[
    Literal["gal", "fl_oz", "L", "mL", "m3"], Meta(description="Unit of volume; US gallons.")
]
ForceUnit = Annotated[Literal["lbf", "N"], Meta(description="Unit of force.")]
PowerUnit = Annotated[Literal["W", "hp"], Meta(description="Unit of power.")]
CadenceUnit = Annotated[Literal["1/min"], Meta(description="Strokes per minute.")]
TemperatureUnit = Annotated[Literal["degF", "degC"], Meta(description="Unit of temperature.")]
SpecificCapacityUnit = Annotated[Literal["gpm/ft", "L/s/m"], Meta(description="Unit of specific capacity.")]
DensityUnit = Annotated[Literal["kg/m3", "lb/ft3"], Meta(description="Unit of density.")]


class Quantity(Struct, frozen=True, forbid_unknown_fields=True, gc=False):
    """A value with its unit."""

    dimension: ClassVar[str]
    lowest: ClassVar[float]
    highest: ClassVar[float]

    value: Number


class Length(Quantity, frozen=True, forbid_unknown_fields=True):
    """A length."""

    dimension = "length"

    unit: LengthUnit


class Depth(Length, frozen=True, forbid_unknown_fields=True):
    """A depth below ground at the well, or another vertical distance that can't be negative."""

    lowest = 0.0
    highest = 600.0


class Rise(Length, frozen=True, forbid_unknown_fields=True):
    """A difference in height, positive upwards."""

    lowest = -100.0
    highest = 150.0


class Elevation(Length, frozen=True, forbid_unknown_fields=True):
    """Height above sea level."""

    lowest = -400.0
    highest = 5_000.0


class RunLength(Length, frozen=True, forbid_unknown_fields=True):
    """Length of a pipe or hose."""

    lowest = 0.0
    highest = 2_000.0


class Diameter(Length, frozen=True, forbid_unknown_fields=True):
    """A diameter of a pipe, hose, rod, cylinder, cable or casing."""

    lowest = 0.003
    highest = 1.0


class HoleDiameter(Length, frozen=True, forbid_unknown_fields=True):
    """Diameter of a small hole."""

    lowest = 0.0002
    highest = 0.02


class Stroke(Length, frozen=True, forbid_unknown_fields=True):
    """Travel of the plunger in one direction."""

    lowest = 0.02
    highest = 1.0


class Roughness(Length, frozen=True, forbid_unknown_fields=True):
    """Absolute roughness of a pipe's or hose's inside."""

    lowest = 0.0
    highest = 0.003


class GaugePressure(Quantity, frozen=True, forbid_unknown_fields=True):
    """A gauge pressure."""

    dimension = "pressure"
    lowest = 0.0
    highest = 2_000_000.0

    unit: PressureUnit


class Volume(Quantity, frozen=True, forbid_unknown_fields=True):
    """A volume."""

    dimension = "volume"
    lowest = 0.0001
    highest = 50.0

    unit: VolumeUnit


class SpecificCapacity(Quantity, frozen=True, forbid_unknown_fields=True):
    """Flow of a well per unit of its drawdown."""

    dimension = "specific_capacity"
    lowest = 1e-6
    highest = 1.0

    unit: SpecificCapacityUnit


class Force(Quantity, frozen=True, forbid_unknown_fields=True):
    """A force."""

    dimension = "force"
    lowest = 1.0
    highest = 2_000.0

    unit: ForceUnit


class Power(Quantity, frozen=True, forbid_unknown_fields=True):
    """Mechanical power of the people who pump."""

    dimension = "power"
    lowest = 5.0
    highest = 1_000.0

    unit: PowerUnit


class Cadence(Quantity, frozen=True, forbid_unknown_fields=True):
    """Strokes per minute; one stroke is one full cycle of the handle."""

    dimension = "cadence"
    lowest = 5.0 / 60.0
    highest = 2.0

    unit: CadenceUnit


class WaterTemperature(Quantity, frozen=True, forbid_unknown_fields=True):
    """Temperature of liquid well water."""

    dimension = "temperature"
    lowest = 273.15
    highest = 313.15

    unit: TemperatureUnit


class Density(Quantity, frozen=True, forbid_unknown_fields=True):
    """Density of a rod's material."""

    dimension = "density"
    lowest = 500.0
    highest = 20_000.0

    unit: DensityUnit


class Measured(Struct, frozen=True, gc=False):
    """A value of an answer with its unit."""

    dimension: ClassVar[str]
    units: ClassVar[tuple[str, str]]
    """The unit in the 'us' and in the 'si' system."""

    value: Annotated[float, Meta(description="Value in the given unit, to 6 significant digits.")]


class Head(Measured, frozen=True):
    """A head, a depth or a height."""

    dimension = "length"
    units = ("ft", "m")

    unit: Annotated[Literal["ft", "m"], Meta(description="ft in the 'us' system, m in 'si'.")]


class Size(Measured, frozen=True):
    """A diameter, a stroke or the travel of the hands."""

    dimension = "length"
    units = ("in", "mm")

    unit: Annotated[Literal["in", "mm"], Meta(description="in in the 'us' system, mm in 'si'.")]


class Pressure(Measured, frozen=True):
    """A gauge pressure."""

    dimension = "pressure"
    units = ("psi", "kPa")

    unit: Annotated[Literal["psi", "kPa"], Meta(description="psi in the 'us' system, kPa in 'si'.")]


class WaterVolume(Measured, frozen=True):
    """A volume of water."""

    dimension = "volume"
    units = ("gal", "L")

    unit: Annotated[Literal["gal", "L"], Meta(description="US gal in the 'us' system, L in 'si'.")]


class StrokeVolume(Measured, frozen=True):
    """A volume of water per stroke."""

    dimension = "volume"
    units = ("fl_oz", "mL")

    unit: Annotated[Literal["fl_oz", "mL"], Meta(description="US fl_oz in the 'us' system, mL in 'si'.")]


class HandForce(Measured, frozen=True):
    """A force at the handle's grip."""

    dimension = "force"
    units = ("lbf", "N")

    unit: Annotated[Literal["lbf", "N"], Meta(description="lbf in the 'us' system, N in 'si'.")]


class Minutes(Measured, frozen=True):
    """A duration."""

    dimension = "duration"
    units = ("min", "min")

    unit: Annotated[Literal["min"], Meta(description="Minutes in both systems.")]


class StrokeRate(Measured, frozen=True):
    """Strokes per minute; one stroke is one full cycle of the handle."""

    dimension = "cadence"
    units = ("1/min", "1/min")

    unit: Annotated[Literal["1/min"], Meta(description="Per minute in both systems.")]


class Work(Measured, frozen=True):
    """Mechanical work at the handle (a body burns about six times as much)."""

    dimension = "energy"
    units = ("kcal", "kJ")

    unit: Annotated[Literal["kcal", "kJ"], Meta(description="kcal in the 'us' system, kJ in 'si'.")]


class Exertion(Measured, frozen=True):
    """Mechanical power at the handle."""

    dimension = "power"
    units = ("W", "W")

    unit: Annotated[Literal["W"], Meta(description="Watt in both systems.")]


class Temperature(Measured, frozen=True):
    """A temperature."""

    dimension = "temperature"
    units = ("degF", "degC")

    unit: Annotated[Literal["degF", "degC"], Meta(description="degF in the 'us' system, degC in 'si'.")]


INPUTS: tuple[type[Quantity], ...] = (
    Depth, Rise, Elevation, RunLength, Diameter, HoleDiameter, Stroke, Roughness, GaugePressure, Volume,
    SpecificCapacity, Force, Power, Cadence, WaterTemperature, Density,
)  # fmt: skip
"""Every quantity that a request can hold."""

OUTPUTS: tuple[type[Measured], ...] = (
    Head, Size, Pressure, WaterVolume, StrokeVolume, HandForce, Minutes, StrokeRate, Work, Exertion, Temperature,
)  # fmt: skip
"""Every quantity that an answer can hold."""
