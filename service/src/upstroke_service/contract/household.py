"""What an answer says of a household's water: what one fill covers, and what every day needs."""

from typing import Annotated

from msgspec import UNSET, UnsetType

from .answered import Answered, Finding, Source
from .description import about
from .quantities import DailyVolume, FlowRate, Minutes, Pressure, WaterVolume


class Use(Answered, frozen=True, kw_only=True):
    """What the water of one fill covers."""

    code: Annotated[str, about("Stable code; more may come.")]
    text: Annotated[str, about("In words, to follow the whole number of `count`.")]
    count: Annotated[float, about("How many of them one fill covers.")]
    basis: Annotated[Source, about("Where the volume of one comes from.")]
    to_pressure: (
        Annotated[
            Pressure, about("Gauge pressure at the tank down to which this works; left out of an open tank.")
        ]
        | UnsetType
    ) = UNSET
    flow: (
        Annotated[FlowRate, about("Flow at the fixture right after a fill; left out of an open tank.")]
        | UnsetType
    ) = UNSET
    last_flow: (
        Annotated[
            FlowRate,
            about("Flow at the fixture at the pressure down to which it works; it falls with its root."),
        ]
        | UnsetType
    ) = UNSET


class Reserve(Answered, frozen=True, kw_only=True):
    """Usable water of one fill."""

    summary: Annotated[str, about("The whole in a sentence.")]
    water: Annotated[
        WaterVolume,
        about("Water above the pressure that the least demanding fixture needs; of an open tank all of it."),
    ]
    from_pressure: Annotated[Pressure, about("Where a fill ends.")]
    to_pressure: Annotated[Pressure, about("Precharge, or the least pressure that fixtures need if higher.")]
    covers: Annotated[list[Use], about("Alternatives, not a sum.")]
    serving_tank: (
        Annotated[
            WaterVolume,
            about(
                "Total volume of the tank, air and water together, whose fill would be good for one toilet flush; "
                "left out where this one's is, or where no tank's would be."
            ),
        ]
        | UnsetType
    ) = UNSET
    findings: Annotated[list[Finding], about("What falls short.")]


class NeedLine(Answered, frozen=True, kw_only=True):
    """What one kind of people, use or animal needs every day."""

    code: Annotated[str, about("The level, the use or the kind of animal.")]
    text: Annotated[str, about("In words.")]
    varies: (
        Annotated[str, about("In words, what makes low and high differ; left out where they don't.")]
        | UnsetType
    ) = UNSET
    count: Annotated[float, about("How many of them.")]
    each: Annotated[DailyVolume, about("Usual water of one.")]
    daily: Annotated[DailyVolume, about("Usual water of all of them.")]
    low: Annotated[DailyVolume, about("The same where little is needed: cool weather, dry animals.")]
    high: Annotated[DailyVolume, about("The same where much is needed: hot weather, nursing animals.")]
    basis: Annotated[list[Source], about("Where these figures come from, low to high.")]


class DailyNeeds(Answered, frozen=True, kw_only=True):
    """What people, uses and animals need every day, and how much pumping that is."""

    summary: Annotated[str, about("The whole in a sentence or two.")]
    lines: Annotated[list[NeedLine], about("One for each kind; empty where nothing needs water.")]
    total: Annotated[DailyVolume, about("Usual water of all lines.")]
    low: Annotated[DailyVolume, about("The same where little is needed.")]
    high: Annotated[DailyVolume, about("The same where much is needed.")]
    fills_a_day: (
        Annotated[float, about("Total over the water of one fill; left out where a fill gives none.")]
        | UnsetType
    ) = UNSET
    strokes_a_day: Annotated[float, about("Full cycles of the handle.")] | UnsetType = UNSET
    minutes_a_day: (
        Annotated[
            Minutes, about("Time at the handle, rests within a fill included, tiredness of a long day not.")
        ]
        | UnsetType
    ) = UNSET
    findings: Annotated[list[Finding], about("What a day of pumping asks for.")]
