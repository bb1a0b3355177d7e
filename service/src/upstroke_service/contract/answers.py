"""The answers. They may grow: clients accept fields and words that they don't know."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from .facts import PumpKind
from .quantities import (
    Exertion,
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


def _about(description: str) -> Meta:
    return Meta(description=description)


class Answered(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Part of an answer."""


class Series(Answered, frozen=True, kw_only=True):
    """A column of numbers with one unit."""

    unit: Annotated[str, _about("Unit of every value; '1' where the numbers are counts.")]
    values: Annotated[list[float], _about("Values in order, to 6 significant digits.")]


class Source(Answered, frozen=True, kw_only=True):
    """What a number or a rule rests on."""

    key: Annotated[str, _about("Stable key.")]
    citation: Annotated[str, _about("Author, title, edition and table; or 'common practice, no source'.")]


class Assumption(Answered, frozen=True, kw_only=True):
    """A fact that the caller did not give, and what was used instead."""

    pointer: Annotated[str, _about("JSON Pointer of the missing fact in the request.")]
    text: Annotated[str, _about("The assumption in words, with its value.")]
    basis: Annotated[str, _about("How it was chosen, and its source.")]
    value: Annotated[float, _about("The number used, where it is one.")] | UnsetType = UNSET
    unit: Annotated[str, _about("Unit of the value.")] | UnsetType = UNSET


class Finding(Answered, frozen=True, kw_only=True):
    """A reason in a sentence that can be forwarded, with its numbers beside it."""

    code: Annotated[str, _about("Stable code; more may come.")]
    text: Annotated[str, _about("The sentence.")]
    value: Annotated[float, _about("The number found.")] | UnsetType = UNSET
    limit: Annotated[float, _about("What it is held against.")] | UnsetType = UNSET
    unit: Annotated[str, _about("Unit of both.")] | UnsetType = UNSET


class Question(Answered, frozen=True, kw_only=True):
    """A fact worth asking the customer for, the most useful first."""

    pointer: Annotated[str, _about("JSON Pointer of the fact in the request.")]
    text: Annotated[str, _about("The question.")]
    why: Annotated[str, _about("Why it matters.")]


class Caution(Answered, frozen=True, kw_only=True):
    """What could hurt someone or break something here."""

    code: Annotated[str, _about("Stable code; more may come.")]
    signal: Annotated[
        Literal["danger", "warning", "caution", "notice"], _about("Signal word as defined by ANSI Z535.6.")
    ]
    text: Annotated[str, _about("What to do or leave.")]
    why: Annotated[str, _about("Why it applies here.")]
    who: Annotated[str, _about("Who may do the work, and where local code or a licensed trade decides.")]
    basis: Annotated[list[Source], _about("What it rests on.")]


class Envelope(Answered, frozen=True, kw_only=True):
    """What every calculation's answer carries."""

    calculation_id: Annotated[
        str, _about("The same for the same facts, catalogue, units, language and model version.")
    ]
    model_version: Annotated[str, _about("Version of the models and their coefficients.")]
    scope: Annotated[str, _about("What this answer is, and what it is not.")]
    client_reference: Annotated[str, _about("The caller's own reference, as sent.")] | UnsetType = UNSET


class CatalogueUsed(Answered, frozen=True, kw_only=True):
    """The catalogue that an answer is built on."""

    name: Annotated[str, _about("Its name, or 'request' for the caller's own cylinders.")]
    invented: Annotated[bool, _about("True where products, figures and prices are made up.")]
    notice: Annotated[str, _about("What a reader must know about it.")]


class LiftBudget(Answered, frozen=True, kw_only=True):
    """The total dynamic head line by line, at the target pressure, against the cylinder's rated lift.

    The lines from static_water_level to check_valve add up to total_head.
    """

    static_water_level: Annotated[Head, _about("Depth to the water at rest, below ground at the well.")]
    well_drawdown: Annotated[Head, _about("How far pumping lowers the water.")]
    outlet_height: Annotated[Head, _about("Height of the pump outlet above ground.")]
    rise: Annotated[Head, _about("Height of the tank's gauge above the pump outlet.")]
    pressure_head: Annotated[Head, _about("The target pressure as head.")]
    drop_pipe_friction: Annotated[
        Head, _about("Friction in the drop pipe, averaged over the stroke by work.")
    ]
    conduit_friction: Annotated[Head, _about("Friction in pipes and hoses, averaged likewise.")]
    fitting_losses: Annotated[Head, _about("Losses in fittings and valves, averaged likewise.")]
    check_valve: Annotated[Head, _about("What opens the check valve.")]
    total_head: Annotated[Head, _about("Total dynamic head.")]
    rated_lift: Annotated[Head, _about("Greatest total dynamic head that the cylinder is sold for.")]
    margin: Annotated[Head, _about("Rated lift less total head; negative: too much head.")]
    pressure_room: Annotated[
        Pressure, _about("Gauge pressure at which the total head would reach the rated lift; negative: none.")
    ]
    target: Annotated[Pressure, _about("The target pressure.")]
    cadence: Annotated[StrokeRate, _about("Cadence while pumping at the target pressure.")]


class CylinderRef(Answered, frozen=True, kw_only=True):
    """A cylinder of the answer."""

    id: Annotated[str, _about("Its id in the catalogue or in the request.")]
    name: Annotated[str, _about("Its name.")]
    kind: PumpKind
    bore: Annotated[Size, _about("Inside diameter.")]
    stroke: Annotated[Size, _about("Travel of the plunger as used here.")]


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


class TankColumns(Answered, frozen=True, kw_only=True):
    """Points along a fill; all columns have the same length."""

    pressure: Annotated[Series, _about("Gauge pressure.")]
    stored_water: Annotated[Series, _about("Water in the tank.")]
    drawdown: Annotated[Series, _about("Water gained since the start.")]
    drawdown_factor: Annotated[Series, _about("The same as a share of the tank's total volume.")]
    water_per_pressure: Annotated[Series, _about("Water gained per unit of pressure at this point.")]


class TankCurve(Envelope, frozen=True, kw_only=True):
    """How much water a tank holds at each pressure."""

    curve: TankColumns
    start: Annotated[Pressure, _about("Where the curve begins.")]
    end: Annotated[Pressure, _about("Where it ends: the target, or a limit that comes first.")]
    precharge: Annotated[Pressure, _about("Air pressure of the empty tank.")]
    usable_drawdown: Annotated[WaterVolume, _about("Water between start and end.")]
    total_volume: Annotated[WaterVolume, _about("All tanks, air and water together.")]
    findings: list[Finding]
    assumptions: list[Assumption]


class FillTotals(Answered, frozen=True, kw_only=True):
    """A whole fill."""

    start: Annotated[Pressure, _about("Gauge pressure at which pumping begins to store water.")]
    end: Annotated[Pressure, _about("Gauge pressure at which it ends: the target, or a limit before it.")]
    reaches_target: Annotated[bool, _about("Whether the end is the target.")]
    water: Annotated[WaterVolume, _about("Water stored.")]
    strokes: Annotated[float, _about("Full cycles of the handle.")]
    time: Annotated[Minutes, _about("Time, rests included.")]
    work: Annotated[Work, _about("Mechanical work at the handle.")]


class Effort(Answered, frozen=True, kw_only=True):
    """What pumping feels like."""

    hand_force: Annotated[HandForce, _about("Peak force at the grip at the end of the fill.")]
    hand_force_at_start: Annotated[HandForce, _about("The same at its start.")]
    return_force: Annotated[
        HandForce, _about("Force on the return stroke at the end; negative: it falls by itself.")
    ]
    hand_travel: Annotated[Size, _about("Travel of the hands per stroke.")]
    cadence_at_start: Annotated[StrokeRate, _about("Strokes per minute at the start.")]
    cadence_at_end: Annotated[StrokeRate, _about("Strokes per minute at the end, averaged over any rests.")]
    power: Annotated[Exertion, _about("Mechanical power at the end of the fill.")]
    net_per_stroke: Annotated[StrokeVolume, _about("Water per stroke that reaches the tank at the end.")]
    efficiency: Annotated[float, _about("Hydraulic power delivered over power at the handle, at the end.")]


class Limit(Answered, frozen=True, kw_only=True):
    """A pressure that something can't or shouldn't be taken beyond."""

    code: Annotated[str, _about("What limits; more may come.")]
    pressure: Annotated[Pressure, _about("Gauge pressure; negative: not even an open discharge is possible.")]


class Ceiling(Answered, frozen=True, kw_only=True):
    """The practical ceiling: the highest gauge pressure worth pumping to."""

    pressure: Annotated[Pressure, _about("The least of the limits.")]
    governed_by: Annotated[str, _about("The limit that sets it.")]
    limits: Annotated[list[Limit], _about("Every limit that applies, lowest first.")]


class FillColumns(Answered, frozen=True, kw_only=True):
    """Points along a fill; all columns have the same length."""

    pressure: Annotated[Series, _about("Gauge pressure at the tank.")]
    water: Annotated[Series, _about("Water stored since the start.")]
    strokes: Annotated[Series, _about("Strokes since the start.")]
    time: Annotated[Series, _about("Time since the start, rests included.")]
    hand_force: Annotated[Series, _about("Peak force at the grip.")]
    cadence: Annotated[Series, _about("Strokes per minute, averaged over any rests.")]


class StrokeEstimate(Answered, frozen=True, kw_only=True):
    """One cylinder's estimate."""

    cylinder: CylinderRef
    fill: FillTotals
    effort: Effort
    ceiling: Ceiling
    curve: FillColumns
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
        _about(
            "Whether it reaches the target; with limits: at least half of the wanted water at a lower pressure."
        ),
    ]
    governed_by: Annotated[str, _about("What sets its ceiling or rules it out.")]
    reasons: Annotated[list[Finding], _about("Why, in sentences.")]
    lift_budget: LiftBudget
    ceiling: Ceiling
    fill: FillTotals
    effort: Effort


class Part(Answered, frozen=True, kw_only=True):
    """A part to quote."""

    sku: str
    name: str
    quantity: int
    price: float | UnsetType = UNSET
    currency: str | UnsetType = UNSET
    lead_time_days: int | UnsetType = UNSET


class Use(Answered, frozen=True, kw_only=True):
    """What the water of one fill covers."""

    code: Annotated[str, _about("Stable code; more may come.")]
    text: Annotated[str, _about("In words.")]
    count: Annotated[float, _about("How many of them one fill covers.")]
    basis: Source


class Reserve(Answered, frozen=True, kw_only=True):
    """Usable water of one fill."""

    water: Annotated[WaterVolume, _about("Water above the pressure that fixtures need.")]
    from_pressure: Annotated[Pressure, _about("Where a fill ends.")]
    to_pressure: Annotated[Pressure, _about("Precharge, or the least pressure that fixtures need if higher.")]
    covers: Annotated[list[Use], _about("Alternatives, not a sum.")]


class DepthTable(Answered, frozen=True, kw_only=True):
    """What would fit at each static water level, where nobody knows it; columns of the same length."""

    static_water_level: Series
    fitting: Annotated[Series, _about("Number of cylinders that fit, with or without limits.")]
    best: Annotated[list[str], _about("Id of the best one; empty where none fits.")]
    hand_force: Annotated[Series, _about("Its hand force at the end of a fill; 0 where none fits.")]
    time: Annotated[Series, _about("Its time for a fill; 0 where none fits.")]


class Sizing(Envelope, frozen=True, kw_only=True):
    """The whole sizing."""

    verdict: Annotated[
        Literal["fits", "fits_with_limits", "nothing_fits", "needs_facts"],
        _about("'needs_facts': no honest answer without the facts that the questions ask for."),
    ]
    summary: Annotated[str, _about("The verdict in a sentence or two.")]
    catalogue: CatalogueUsed
    candidates: Annotated[list[Candidate], _about("Best first; empty where facts are needed.")]
    cautions: list[Caution]
    assumptions: list[Assumption]
    questions: list[Question]
    recommended: Annotated[str, _about("Id of the recommended cylinder.")] | UnsetType = UNSET
    curve: Annotated[FillColumns, _about("The recommended cylinder's fill.")] | UnsetType = UNSET
    reserve: Annotated[Reserve, _about("What one fill gives.")] | UnsetType = UNSET
    parts: Annotated[list[Part], _about("What to quote.")] | UnsetType = UNSET
    depth_table: DepthTable | UnsetType = UNSET


class CylinderListing(Answered, frozen=True, kw_only=True):
    """A cylinder as a catalogue lists it."""

    id: str
    name: str
    kind: PumpKind
    bore: Size
    stroke: Size
    rated_lift: Head
    outside_diameter: Size
    volumetric_efficiency: float
    seal_drag: Annotated[HandForce, _about("Friction of seals and packing on the rod.")]
    handle_ratio: float
    rod_diameter: Size
    rod_material: str
    drop_pipe_inside_diameter: Size
    drop_pipe_material: str
    weep_hole_diameter: Annotated[Size, _about("0: none.")]


class CatalogueSummary(Answered, frozen=True, kw_only=True):
    """A catalogue of this deployment."""

    name: str
    title: str
    invented: bool
    notice: str
    digest: Annotated[str, _about("Changes whenever its content does.")]
    default: Annotated[bool, _about("Whether requests that name none use this one.")]


class CatalogueList(Answered, frozen=True, kw_only=True):
    """The catalogues of this deployment."""

    catalogues: list[CatalogueSummary]


class CatalogueDetail(CatalogueSummary, frozen=True, kw_only=True):
    """A catalogue with its cylinders."""

    cylinders: list[CylinderListing]


class UnitEntry(Answered, frozen=True, kw_only=True):
    """A unit: SI value = scale × value + offset."""

    unit: str
    scale: float
    offset: float


class DimensionEntry(Answered, frozen=True, kw_only=True):
    """A dimension with its accepted units."""

    dimension: str
    si_unit: str
    units: list[UnitEntry]


class InputEntry(Answered, frozen=True, kw_only=True):
    """A kind of input with its bounds in each unit."""

    name: str
    dimension: str
    unit: str
    lowest: float
    highest: float


class OutputEntry(Answered, frozen=True, kw_only=True):
    """A kind of output with its unit in each system."""

    name: str
    dimension: str
    us: str
    si: str


class UnitList(Answered, frozen=True, kw_only=True):
    """Units, the bounds of inputs, and the units of answers."""

    dimensions: list[DimensionEntry]
    inputs: list[InputEntry]
    outputs: list[OutputEntry]


class DefaultEntry(Answered, frozen=True, kw_only=True):
    """What is assumed where a fact is left out."""

    field: Annotated[str, _about("JSON Pointer of the fact in a request.")]
    text: Annotated[str, _about("What is assumed.")]
    basis: Annotated[Source, _about("What it rests on.")]
    low: Annotated[float, _about("Low end of the plausible range.")] | UnsetType = UNSET
    high: Annotated[float, _about("High end of the plausible range.")] | UnsetType = UNSET
    unit: Annotated[str, _about("Unit of the range.")] | UnsetType = UNSET


class DefaultList(Answered, frozen=True, kw_only=True):
    """Every default."""

    defaults: list[DefaultEntry]


class Health(Answered, frozen=True, kw_only=True):
    """Whether the service can answer."""

    status: Literal["ok"]
    model_version: str


class ProblemError(Answered, frozen=True, kw_only=True):
    """One fault."""

    pointer: Annotated[str, _about("JSON Pointer to the faulty field of the body; empty: the whole body.")]
    detail: Annotated[str, _about("What is wrong and what would be accepted.")]


class Problem(Answered, frozen=True, kw_only=True):
    """A problem as RFC 9457 defines it."""

    type: Annotated[str, _about("Path of a short page about this kind of problem.")]
    title: Annotated[str, _about("The kind of problem.")]
    status: Annotated[int, _about("HTTP status.")]
    code: Annotated[str, _about("Stable code of the kind of problem.")]
    detail: Annotated[str, _about("What happened and what to do.")]
    request_id: Annotated[str, _about("Quote this when asking for help.")]
    errors: Annotated[list[ProblemError], _about("Every fault of the body at once.")] | UnsetType = UNSET
