"""Answers that depend on the deployment alone: catalogues, units, defaults, health."""

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

from .answered import Answered, Source
from .description import about
from .facts import PumpKind
from .quantities import Exertion, HandForce, Head, Minutes, Size, StrokeRate


class CylinderListing(Answered, frozen=True, kw_only=True):
    """A cylinder as a catalogue lists it."""

    id: Annotated[str, about("Its id, for selection.ids.")]
    name: Annotated[str, about("Its name.")]
    kind: PumpKind
    bore: Annotated[Size, about("Inside diameter.")]
    stroke: Annotated[Size, about("Travel of the plunger.")]
    rated_lift: Annotated[Head, about("Greatest total dynamic head that it is sold for.")]
    outside_diameter: Annotated[Size, about("Greatest outside diameter, to fit the casing.")]
    volumetric_efficiency: Annotated[float, about("Water delivered over displacement.")]
    seal_drag: Annotated[HandForce, about("Friction of seals and packing on the rod.")]
    handle_ratio: Annotated[float, about("Travel of the hands over travel of the plunger.")]
    rod_diameter: Annotated[Size, about("Outside diameter of the pump rod.")]
    rod_material: Annotated[str, about("Material of the pump rod.")]
    drop_pipe_inside_diameter: Annotated[Size, about("Inside diameter of the drop pipe or suction pipe.")]
    drop_pipe_material: Annotated[str, about("Material of the drop pipe or suction pipe.")]
    weep_hole_diameter: Annotated[Size, about("0: none.")]


class CatalogueSummary(Answered, frozen=True, kw_only=True):
    """A catalogue of this deployment."""

    name: Annotated[str, about("Its name, for selection.catalogue.")]
    title: Annotated[str, about("What to call it.")]
    invented: Annotated[bool, about("True where products, figures and prices are made up.")]
    notice: Annotated[str, about("What a reader must know about it.")]
    digest: Annotated[str, about("Changes whenever its content does.")]
    default: Annotated[bool, about("Whether requests that name none use this one.")]


class CatalogueList(Answered, frozen=True, kw_only=True):
    """The catalogues of this deployment."""

    catalogues: list[CatalogueSummary]


class CatalogueDetail(CatalogueSummary, frozen=True, kw_only=True):
    """A catalogue with its cylinders."""

    cylinders: list[CylinderListing]


class UnitEntry(Answered, frozen=True, kw_only=True):
    """A unit: SI value = scale × value + offset."""

    unit: Annotated[str, about("Name of the unit in requests and answers.")]
    scale: Annotated[float, about("SI value of one of the unit.")]
    offset: Annotated[float, about("SI value of zero of the unit; 0 except for temperatures.")]


class DimensionEntry(Answered, frozen=True, kw_only=True):
    """A dimension with its accepted units."""

    dimension: Annotated[str, about("Name of the dimension.")]
    si_unit: Annotated[str, about("Unit that scale and offset lead to.")]
    units: Annotated[list[UnitEntry], about("Every unit of the dimension that the service knows.")]


class InputEntry(Answered, frozen=True, kw_only=True):
    """A kind of input with its bounds in each unit."""

    name: Annotated[str, about("Name of the schema of this kind of input.")]
    dimension: Annotated[str, about("Its dimension.")]
    unit: Annotated[str, about("Unit of the bounds.")]
    lowest: Annotated[float, about("Least value that is accepted in this unit.")]
    highest: Annotated[float, about("Greatest value that is accepted in this unit.")]


class OutputEntry(Answered, frozen=True, kw_only=True):
    """A kind of output with its unit in each system."""

    name: Annotated[str, about("Name of the schema of this kind of output.")]
    dimension: Annotated[str, about("Its dimension.")]
    us: Annotated[str, about("Its unit in the 'us' system.")]
    si: Annotated[str, about("Its unit in the 'si' system.")]


class UnitList(Answered, frozen=True, kw_only=True):
    """Units, the bounds of inputs, and the units of answers."""

    dimensions: list[DimensionEntry]
    inputs: Annotated[list[InputEntry], about("Every kind of input, once for each of its units.")]
    outputs: Annotated[list[OutputEntry], about("Every kind of output.")]


class DefaultEntry(Answered, frozen=True, kw_only=True):
    """What is assumed where a fact is left out."""

    field: Annotated[str, about("JSON Pointer of the fact in a request.")]
    text: Annotated[str, about("What is assumed.")]
    basis: Annotated[Source, about("What it rests on.")]
    low: Annotated[float, about("Low end of the plausible range.")] | UnsetType = UNSET
    high: Annotated[float, about("High end of the plausible range.")] | UnsetType = UNSET
    unit: Annotated[str, about("Unit of the range.")] | UnsetType = UNSET


class DefaultList(Answered, frozen=True, kw_only=True):
    """Every default."""

    defaults: list[DefaultEntry]


class FigureBasis(Answered, frozen=True, kw_only=True):
    """What one figure of a profile rests on."""

    figure: Annotated[str, about("Name of the figure's field.")]
    text: Annotated[str, about("How it follows from what is published.")]
    sources: Annotated[list[Source], about("What it rests on.")]


class OperatorEntry(Answered, frozen=True, kw_only=True):
    """A profile: what one kind of person can do at the handle."""

    profile: Annotated[str, about("Its name, for operator.profile.")]
    name: Annotated[str, about("What to call such a person.")]
    description: Annotated[str, about("Whom it means.")]
    default: Annotated[bool, about("Whether requests that name none use this one.")]
    sustained_power: Annotated[
        Exertion, about("Mechanical power of one person for up to a quarter of an hour; less for longer.")
    ]
    hand_force_limit: Annotated[HandForce, about("Greatest force at the grip, for short work.")]
    repeated_hand_force: Annotated[HandForce, about("Force at the grip that is comfortable again and again.")]
    cadence: Annotated[StrokeRate, about("Preferred strokes per minute.")]
    session: Annotated[Minutes, about("Longest time that one session at the pump may take.")]
    basis: Annotated[list[FigureBasis], about("What each figure rests on.")]


class OperatorList(Answered, frozen=True, kw_only=True):
    """Every profile of an operator."""

    operators: list[OperatorEntry]


class Health(Answered, frozen=True, kw_only=True):
    """Whether the service can answer."""

    status: Annotated[Literal["ok"], about("Always 'ok': a service that is not does not answer so.")]
    model_version: Annotated[str, about("Version of the models and their coefficients.")]
