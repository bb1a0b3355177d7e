"""What stands behind a cylinder's figures: inertia, stretch, suction head, and the plan of a session."""

from typing import Annotated

from msgspec import UNSET, UnsetType

from .answered import Answered, Finding, Series
from .description import about
from .quantities import FlowRate, HandForce, Head, Minutes, Pressure, Size, StrokeVolume, WaterVolume


class Remedy(Answered, frozen=True, kw_only=True):
    """A change that takes inertia away, and what it does here."""

    code: Annotated[str, about("Stable code; more may come.")]
    text: Annotated[str, about("The change and its effect in a sentence.")]
    hand_force: Annotated[HandForce, about("Peak force at the grip with it, at the same pressure.")]
    ceiling: Annotated[Pressure, about("The practical ceiling with it.")]


class Inertia(Answered, frozen=True, kw_only=True):
    """What it takes to accelerate the water in drop pipe, hose and service line, every stroke.

    A bound: it is what a crank would take, and a hand ramps up more gently. It peaks at the ends of the
    stroke and friction in the middle, so the two are combined by phase.
    """

    drop_pipe_head: Annotated[Head, about("Peak acceleration head of the water in the drop pipe.")]
    conduit_head: Annotated[Head, about("The same beyond the pump outlet; none behind an air chamber.")]
    hydraulic_institute_head: Annotated[
        Head, about("Cross-check: both by the Hydraulic Institute's formula, simplex single-acting.")
    ]
    hand_force: Annotated[
        HandForce, about("What inertia adds to the peak force at the grip at the end of the fill.")
    ]
    governs: Annotated[bool, about("Whether it adds enough to matter.")]
    remedies: Annotated[list[Remedy], about("What would help, where it governs.")]


class MaterialChoice(Answered, frozen=True, kw_only=True):
    """The same pump with another material of the same dimensions."""

    rod_material: Annotated[str, about("Material of the rod.")]
    drop_pipe_material: Annotated[str, about("Material of the drop pipe.")]
    effective_stroke: Annotated[Size, about("Stroke that is left at the target pressure.")]
    share: Annotated[float, about("The same as a share of the full stroke.")]


class Stretch(Answered, frozen=True, kw_only=True):
    """What rod and drop pipe take of the stroke as the load comes and goes, at the end of the fill."""

    rod: Annotated[Size, about("Stretch of the rod.")]
    drop_pipe: Annotated[Size, about("Stretch of the drop pipe.")]
    effective_stroke: Annotated[Size, about("Stroke that is left.")]
    share: Annotated[float, about("The same as a share of the full stroke.")]
    weep_hole_loss: Annotated[
        StrokeVolume,
        about("Water per stroke lost through the weep hole, what the drop pipe gives as it bleeds included."),
    ]
    choices: Annotated[list[MaterialChoice], about("Other materials compared, where the stretch matters.")]


class SuctionHead(Answered, frozen=True, kw_only=True):
    """Net positive suction head line by line, at the cadence kept at the target."""

    atmospheric_head: Annotated[Head, about("Pressure of the atmosphere at this altitude, as head of water.")]
    vapour_head: Annotated[Head, about("Vapour pressure of the water, as head.")]
    suction_lift: Annotated[Head, about("From the pumping water level up to the cylinder.")]
    friction: Annotated[Head, about("Friction in the suction pipe at the worst moment of the stroke.")]
    acceleration_head: Annotated[Head, about("Inertia of the water in it at that moment.")]
    available: Annotated[Head, about("NPSH available: the first less the others.")]
    required: Annotated[Head, about("What the pump needs.")]
    margin: Annotated[Head, about("Available less required; negative: the water column breaks.")]
    greatest_suction_lift: Annotated[Head, about("The most that a suction pump can lift at this site.")]


class SessionColumns(Answered, frozen=True, kw_only=True):
    """Each session, the first 40 where there are more; all columns have the same length."""

    pressure: Annotated[Series, about("Gauge pressure at its end.")]
    strokes: Annotated[Series, about("Strokes in it.")]
    time: Annotated[Series, about("Its time, rests between strokes included.")]
    water: Annotated[Series, about("Water that it brings.")]
    body_energy: Annotated[Series, about("What the body burns for it, all people together.")]


class SessionPlan(Answered, frozen=True, kw_only=True):
    """How a fill divides into sessions at the pump."""

    count: Annotated[int, about("Number of sessions.")]
    people: Annotated[int, about("People who take turns within each.")]
    longest: Annotated[Minutes, about("The longest that a session may take, all turns together.")]
    sessions: SessionColumns
    findings: list[Finding]
    well_recovery: (
        Annotated[
            Minutes,
            about(
                "Longest time for the well to recover after a session, where it yields less than is taken."
            ),
        ]
        | UnsetType
    ) = UNSET
    well_volume: (
        Annotated[WaterVolume, about("Water that the well gives before it runs dry.")] | UnsetType
    ) = UNSET
    flow: Annotated[FlowRate, about("Mean flow of the fill, rests included.")]
