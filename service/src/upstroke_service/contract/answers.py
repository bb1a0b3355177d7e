"""The answers. They may grow: clients accept fields and words that they don't know."""

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

from .answered import Answered, Assumption, Finding, Series, Source
from .description import about
from .details import Inertia, SessionPlan, Stretch, SuctionHead
from .facts import PumpKind
from .hookup_ways import HookupStep, HookupWay
from .household import DailyNeeds, Reserve
from .quantities import (
    Exertion,
    FoodEnergy,
    HandForce,
    Head,
    Minutes,
    Pressure,
    Size,
    StrokeRate,
    StrokeVolume,
    WaterVolume,
    Work,
)


class Question(Answered, frozen=True, kw_only=True):
    """A fact worth asking the customer for, the most useful first."""

    pointer: Annotated[str, about("JSON Pointer of the fact in the request.")]
    text: Annotated[str, about("The question.")]
    why: Annotated[str, about("Why it matters.")]
    effect: Annotated[
        Literal["verdict", "recommendation", "safety", "figures"],
        about(
            "What the answer can change: the verdict, the recommended cylinder, what is safe, or the figures."
        ),
    ]
    consequence: (
        Annotated[str, about("What follows from which answer, where the verdict or the choice hangs on it.")]
        | UnsetType
    ) = UNSET


class Caution(Answered, frozen=True, kw_only=True):
    """What could hurt someone or break something here."""

    code: Annotated[str, about("Stable code; more may come.")]
    signal: Annotated[
        Literal["danger", "warning", "caution", "notice"], about("Signal word as defined by ANSI Z535.6.")
    ]
    text: Annotated[str, about("What to do or leave.")]
    why: Annotated[str, about("Why it applies here.")]
    who: Annotated[str, about("Who may do the work, and where local code or a licensed trade decides.")]
    basis: Annotated[list[Source], about("What it rests on.")]


class Envelope(Answered, frozen=True, kw_only=True):
    """What every calculation's answer carries."""

    calculation_id: Annotated[
        str, about("The same for the same facts, catalogue, units, language and model version.")
    ]
    model_version: Annotated[str, about("Version of the models and their coefficients.")]
    scope: Annotated[str, about("What this answer is, and what it is not.")]
    client_reference: Annotated[str, about("The caller's own reference, as sent.")] | UnsetType = UNSET


class CatalogueUsed(Answered, frozen=True, kw_only=True):
    """The catalogue that an answer is built on."""

    name: Annotated[str, about("Its name, or 'request' for the caller's own cylinders.")]
    invented: Annotated[bool, about("True where products, figures and prices are made up.")]
    notice: Annotated[str, about("What a reader must know about it.")]


class LiftBudget(Answered, frozen=True, kw_only=True):
    """The total dynamic head line by line, at the target pressure, against the cylinder's rated lift.

    The lines from static_water_level to check_valve add up to total_head.
    """

    static_water_level: Annotated[Head, about("Depth to the water at rest, below ground at the well.")]
    well_drawdown: Annotated[Head, about("How far pumping lowers the water.")]
    outlet_height: Annotated[Head, about("Height of the pump outlet above ground.")]
    rise: Annotated[Head, about("Height of the tank's gauge above the pump outlet.")]
    pressure_head: Annotated[Head, about("The target pressure as head.")]
    drop_pipe_friction: Annotated[Head, about("Friction in the drop pipe, averaged over the stroke by work.")]
    conduit_friction: Annotated[Head, about("Friction in pipes and hoses, averaged likewise.")]
    fitting_losses: Annotated[Head, about("Losses in fittings and valves, averaged likewise.")]
    check_valve: Annotated[Head, about("What opens the check valve.")]
    total_head: Annotated[Head, about("Total dynamic head.")]
    rated_lift: Annotated[Head, about("Greatest total dynamic head that the cylinder is sold for.")]
    margin: Annotated[Head, about("Rated lift less total head; negative: too much head.")]
    pressure_room: Annotated[
        Pressure, about("Gauge pressure at which the total head would reach the rated lift; negative: none.")
    ]
    target: Annotated[Pressure, about("The target pressure.")]
    cadence: Annotated[StrokeRate, about("Cadence while pumping at the target pressure.")]


class CylinderRef(Answered, frozen=True, kw_only=True):
    """A cylinder of the answer."""

    id: Annotated[str, about("Its id in the catalogue or in the request.")]
    name: Annotated[str, about("Its name.")]
    kind: PumpKind
    bore: Annotated[Size, about("Inside diameter.")]
    stroke: Annotated[Size, about("Travel of the plunger as used here.")]


class LiftBudgetEntry(Answered, frozen=True, kw_only=True):
    """One cylinder's lift budget."""

    cylinder: CylinderRef
    lift_budget: LiftBudget
    findings: list[Finding]


class LiftBudgets(Envelope, frozen=True, kw_only=True):
    """Lift budgets, in the order of the cylinders' ids."""

    catalogue: CatalogueUsed
    lift_budgets: list[LiftBudgetEntry]
    assumptions: list[Assumption]


class FillTotals(Answered, frozen=True, kw_only=True):
    """A whole fill."""

    start: Annotated[Pressure, about("Gauge pressure at which pumping begins to store water.")]
    end: Annotated[Pressure, about("Gauge pressure at which it ends: the target, or a limit before it.")]
    reaches_target: Annotated[bool, about("Whether the end is the target.")]
    water: Annotated[WaterVolume, about("Water stored.")]
    strokes: Annotated[float, about("Full cycles of the handle.")]
    time: Annotated[Minutes, about("Time, rests included.")]
    work: Annotated[Work, about("Mechanical work at the handle.")]
    body_energy: Annotated[FoodEnergy, about("What the body burns for it, all people together.")]


class Effort(Answered, frozen=True, kw_only=True):
    """What pumping feels like."""

    hand_force: Annotated[HandForce, about("Peak force at the grip at the end of the fill.")]
    hand_force_at_start: Annotated[HandForce, about("The same at its start.")]
    return_force: Annotated[
        HandForce, about("Force on the return stroke at the end; negative: it falls by itself.")
    ]
    hand_travel: Annotated[Size, about("Travel of the hands per stroke.")]
    cadence_at_start: Annotated[StrokeRate, about("Strokes per minute at the start.")]
    cadence_at_end: Annotated[StrokeRate, about("Strokes per minute at the end, averaged over any rests.")]
    power: Annotated[Exertion, about("Mechanical power at the end of the fill.")]
    net_per_stroke: Annotated[StrokeVolume, about("Water per stroke that reaches the tank at the end.")]
    efficiency: Annotated[float, about("Hydraulic power delivered over power at the handle, at the end.")]


class Limit(Answered, frozen=True, kw_only=True):
    """A pressure that something can't or shouldn't be taken beyond."""

    code: Annotated[str, about("What limits; more may come.")]
    pressure: Annotated[Pressure, about("Gauge pressure; negative: not even an open discharge is possible.")]


class Ceiling(Answered, frozen=True, kw_only=True):
    """The practical ceiling: the highest gauge pressure worth pumping to."""

    pressure: Annotated[Pressure, about("The least of the limits.")]
    governed_by: Annotated[str, about("The limit that sets it.")]
    limits: Annotated[list[Limit], about("Every limit that applies, lowest first.")]


class FillColumns(Answered, frozen=True, kw_only=True):
    """Points along a fill; all columns have the same length."""

    pressure: Annotated[Series, about("Gauge pressure at the tank.")]
    water: Annotated[Series, about("Water stored since the start.")]
    strokes: Annotated[Series, about("Strokes since the start.")]
    time: Annotated[Series, about("Time since the start, rests included.")]
    hand_force: Annotated[Series, about("Peak force at the grip.")]
    cadence: Annotated[Series, about("Strokes per minute, averaged over any rests.")]


class StrokeEstimate(Answered, frozen=True, kw_only=True):
    """One cylinder's estimate."""

    cylinder: CylinderRef
    fill: FillTotals
    effort: Effort
    ceiling: Ceiling
    curve: FillColumns
    inertia: Inertia
    stretch: Stretch
    suction: Annotated[SuctionHead, about("Of a suction pump.")] | UnsetType = UNSET
    sessions: SessionPlan
    findings: list[Finding]


class StrokeEstimates(Envelope, frozen=True, kw_only=True):
    """Stroke estimates, in the order of the cylinders' ids."""

    catalogue: CatalogueUsed
    stroke_estimates: list[StrokeEstimate]
    assumptions: list[Assumption]


class Cautions(Envelope, frozen=True, kw_only=True):
    """The cautions that the facts call for, worst first."""

    cautions: list[Caution]
    assumptions: list[Assumption]


class Candidate(Answered, frozen=True, kw_only=True):
    """One cylinder, assessed."""

    cylinder: CylinderRef
    outcome: Annotated[
        Literal["fits", "fits_with_limits", "does_not_fit"],
        about(
            "Whether it reaches the target; with limits: at least half of the wanted water at a lower pressure."
        ),
    ]
    governed_by: Annotated[str, about("What sets its ceiling or rules it out.")]
    reasons: Annotated[list[Finding], about("Why, in sentences.")]
    lift_budget: LiftBudget
    ceiling: Ceiling
    fill: FillTotals
    effort: Effort


class Part(Answered, frozen=True, kw_only=True):
    """A part to quote."""

    sku: Annotated[str, about("The catalogue's number for it.")]
    name: Annotated[str, about("What it is, for a reader.")]
    quantity: Annotated[int, about("How many of it.")]
    price: Annotated[float, about("Price of one; left out where the catalogue has none.")] | UnsetType = UNSET
    currency: Annotated[str, about("Currency of the price, ISO 4217.")] | UnsetType = UNSET
    lead_time_days: (
        Annotated[int, about("Days until it can be delivered; left out where the catalogue does not say.")]
        | UnsetType
    ) = UNSET


class DepthTable(Answered, frozen=True, kw_only=True):
    """What would fit at each static water level, where nobody knows it; columns of the same length."""

    static_water_level: Annotated[Series, about("The depths, below ground at the well.")]
    fitting: Annotated[Series, about("Number of cylinders that fit, with or without limits.")]
    best: Annotated[list[str], about("Id of the best one; empty where none fits.")]
    hand_force: Annotated[Series, about("Its hand force at the end of a fill; 0 where none fits.")]
    time: Annotated[Series, about("Its time for a fill; 0 where none fits.")]


class Sizing(Envelope, frozen=True, kw_only=True):
    """The whole sizing."""

    verdict: Annotated[
        Literal["fits", "fits_with_limits", "nothing_fits", "needs_facts"],
        about("'needs_facts': no honest answer without the facts that the questions ask for."),
    ]
    summary: Annotated[str, about("The verdict in a sentence or two.")]
    recommended: Annotated[str, about("Id of the recommended cylinder.")] | UnsetType = UNSET
    catalogue: CatalogueUsed
    candidates: Annotated[list[Candidate], about("Best first; empty where facts are needed.")]
    cautions: list[Caution]
    assumptions: list[Assumption]
    questions: list[Question]
    curve: Annotated[FillColumns, about("The recommended cylinder's fill.")] | UnsetType = UNSET
    inertia: Annotated[Inertia, about("Of the recommended cylinder.")] | UnsetType = UNSET
    stretch: Annotated[Stretch, about("Of the recommended cylinder.")] | UnsetType = UNSET
    suction: Annotated[SuctionHead, about("Of the recommended cylinder, a suction pump.")] | UnsetType = UNSET
    sessions: Annotated[SessionPlan, about("Of the recommended cylinder.")] | UnsetType = UNSET
    reserve: Annotated[Reserve, about("What one fill gives.")] | UnsetType = UNSET
    needs: (
        Annotated[DailyNeeds, about("What every day asks for, where the request states needs.")] | UnsetType
    ) = UNSET
    hookup: (
        Annotated[HookupWay, about("The best way to connect it; left out where nothing is advised.")]
        | UnsetType
    ) = UNSET
    procedure: Annotated[list[HookupStep], about("What to do, in order.")] | UnsetType = UNSET
    parts: Annotated[list[Part], about("What to quote.")] | UnsetType = UNSET
    depth_table: DepthTable | UnsetType = UNSET
