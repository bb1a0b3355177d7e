"""The cylinders to consider: from a catalogue, or the caller's own."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from .description import about
from .facts import Block, DropPipe, Identifier, PumpKind, Rod, Share, Text, WeepHole
from .quantities import Depth, Diameter, Force, Stroke


class Cylinder(Block, frozen=True, kw_only=True):
    """A cylinder of the caller's own, instead of one from a catalogue."""

    id: Annotated[Identifier, about("Name by which the answer refers to it; lower-case words and hyphens.")]
    kind: PumpKind
    bore: Annotated[Diameter, about("Inside diameter of the cylinder.")]
    stroke: Annotated[Stroke, about("Travel of the plunger.")]
    rated_lift: Annotated[Depth, about("Greatest total dynamic head that it is sold for.")]
    rod: Annotated[Rod, about("The pump rod.")]
    drop_pipe: Annotated[DropPipe, about("The drop pipe.")]
    handle_ratio: Annotated[
        float, Meta(ge=1.0, le=20.0, description="Travel of the hands over that of the plunger.")
    ]
    name: Annotated[Text, about("Name to show.")] | UnsetType = UNSET
    outside_diameter: (
        Annotated[Diameter, about("Greatest outside diameter, to fit the casing.")] | UnsetType
    ) = UNSET
    volumetric_efficiency: Annotated[Share, about("Water delivered over displacement.")] | UnsetType = UNSET
    seal_drag: Annotated[Force, about("Friction of seals and packing on the rod.")] | UnsetType = UNSET
    weep_hole: Annotated[WeepHole, about("The weep hole in its drop pipe.")] | UnsetType = UNSET


class Selection(Block, frozen=True, kw_only=True):
    """Which cylinders to consider: the whole of a catalogue where nothing is said."""

    catalogue: (
        Annotated[
            Identifier, about("Name of a catalogue of this deployment; its default one where left out.")
        ]
        | UnsetType
    ) = UNSET
    ids: (
        Annotated[
            list[Identifier],
            Meta(min_length=1, max_length=64, description="Only these cylinders of the catalogue."),
        ]
        | UnsetType
    ) = UNSET
    cylinders: (
        Annotated[
            list[Cylinder],
            Meta(min_length=1, max_length=64, description="The caller's own, instead of a catalogue."),
        ]
        | UnsetType
    ) = UNSET
