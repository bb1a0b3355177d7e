"""The blocks of facts about well, pump and conduit. Each is one schema, used by every resource that needs it."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from .description import about
from .quantities import (
    Density,
    Depth,
    Diameter,
    Elevation,
    Flow,
    GaugePressure,
    HoleDiameter,
    Modulus,
    Rise,
    Roughness,
    RunLength,
    SpecificCapacity,
    WaterTemperature,
)

Answer = Annotated[
    Literal["yes", "no", "unknown"],
    Meta(description="'unknown' is an answer, the same as leaving the field out."),
]
Identifier = Annotated[
    str,
    Meta(
        pattern="^[a-z0-9][a-z0-9-]*$",
        min_length=1,
        max_length=64,
        description="Lower-case words and hyphens.",
    ),
]
Text = Annotated[str, Meta(min_length=1, max_length=200)]
Share = Annotated[float, Meta(ge=0.05, le=1.0)]
PumpKind = Annotated[
    Literal["lift", "suction"],
    Meta(
        description="'lift': the cylinder hangs below the water and pushes. 'suction': it stands at the surface, "
        "where the atmosphere limits it."
    ),
]


class Block(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """A block of facts; whatever is left out is assumed, and the answer says what was assumed."""


class Well(Block, frozen=True, kw_only=True):
    """The well and its water."""

    static_water_level: (
        Annotated[Depth, about("Depth to the water at rest, below ground at the well.")] | UnsetType
    ) = UNSET
    well_drawdown: (
        Annotated[Depth, about("How far pumping lowers the water below the static water level.")] | UnsetType
    ) = UNSET
    specific_capacity: (
        Annotated[
            SpecificCapacity, about("Flow per unit of well drawdown; used where well_drawdown is left out.")
        ]
        | UnsetType
    ) = UNSET
    casing_inside_diameter: Annotated[Diameter, about("Inside diameter of the well casing.")] | UnsetType = (
        UNSET
    )
    well_depth: Annotated[Depth, about("Depth of the well below ground.")] | UnsetType = UNSET
    water_temperature: Annotated[WaterTemperature, about("Temperature of the well water.")] | UnsetType = (
        UNSET
    )
    sustained_yield: (
        Annotated[Flow, about("Flow that the well gives for hours; the driller's log states it.")] | UnsetType
    ) = UNSET
    site_elevation: Annotated[Elevation, about("Height of the site above sea level.")] | UnsetType = UNSET


class MeasuredWell(Well, frozen=True, kw_only=True):
    """The well and its water, with the one fact that can't be assumed."""

    static_water_level: Annotated[  # pyright: ignore[reportGeneralTypeIssues] - required here
        Depth, about("Depth to the water at rest, below ground at the well.")
    ]


class Rod(Block, frozen=True, kw_only=True):
    """The pump rod."""

    diameter: Annotated[Diameter, about("Outside diameter of the rod.")]
    material: Annotated[
        Literal["steel", "stainless_steel", "fibreglass", "pvc"],
        about("Material, which sets density and stiffness."),
    ]
    density: (
        Annotated[Density, about("Density, where it is known better than by the material.")] | UnsetType
    ) = UNSET
    elastic_modulus: (
        Annotated[Modulus, about("Young's modulus, where it is known better than by the material.")]
        | UnsetType
    ) = UNSET


class DropPipe(Block, frozen=True, kw_only=True):
    """The drop pipe (riser) in the well; for a suction pump the suction pipe."""

    inside_diameter: Annotated[Diameter, about("Inside diameter.")]
    material: Annotated[
        Literal["steel", "stainless_steel", "fibreglass", "pvc"],
        about("Material, which sets roughness and stiffness."),
    ]
    outside_diameter: (
        Annotated[Diameter, about("Outside diameter, which sets how far it stretches.")] | UnsetType
    ) = UNSET
    elastic_modulus: (
        Annotated[Modulus, about("Young's modulus, where it is known better than by the material.")]
        | UnsetType
    ) = UNSET


class WeepHole(Block, frozen=True, kw_only=True):
    """A hole in the drop pipe that drains it back below frost depth."""

    present: Annotated[bool, about("Whether there is such a hole.")]
    diameter: Annotated[HoleDiameter, about("Diameter of the hole.")] | UnsetType = UNSET
    depth_below_outlet: Annotated[Depth, about("Depth of the hole below the pump outlet.")] | UnsetType = (
        UNSET
    )
    discharge_coefficient: (
        Annotated[
            float,
            Meta(ge=0.4, le=1.0, description="0.62 for a sharp edge, about 0.80 through a thick wall."),
        ]
        | UnsetType
    ) = UNSET


class Pump(Block, frozen=True, kw_only=True):
    """What is the same for every candidate cylinder; each overrides the catalogue where given."""

    kind: Annotated[PumpKind, about("Consider only pumps of this kind.")] | UnsetType = UNSET
    outlet_height: Annotated[Depth, about("Height of the pump outlet above ground.")] | UnsetType = UNSET
    cylinder_depth: (
        Annotated[Depth, about("Depth of the cylinder (or of a suction pipe's intake) below ground.")]
        | UnsetType
    ) = UNSET
    rod: Annotated[Rod, about("The pump rod.")] | UnsetType = UNSET
    drop_pipe: Annotated[DropPipe, about("The drop pipe.")] | UnsetType = UNSET
    weep_hole: Annotated[WeepHole, about("The weep hole in the drop pipe.")] | UnsetType = UNSET
    handle_ratio: (
        Annotated[float, Meta(ge=1.0, le=20.0, description="Travel of the hands over travel of the plunger.")]
        | UnsetType
    ) = UNSET
    handle_efficiency: Annotated[Share, about("Efficiency of the handle's linkage.")] | UnsetType = UNSET
    upstroke_share: (
        Annotated[float, Meta(ge=0.2, le=0.8, description="Share of a cycle's time taken by the upstroke.")]
        | UnsetType
    ) = UNSET


class Run(Block, frozen=True, kw_only=True):
    """A stretch of pipe or hose between the pump outlet and the tank."""

    inside_diameter: Annotated[Diameter, about("Inside diameter.")]
    length: Annotated[RunLength, about("Length.")]
    material: Annotated[
        Literal["hose", "pvc", "polyethylene", "copper", "pex", "galvanized_steel", "steel"],
        about("What it is made of, which sets the roughness."),
    ] = "hose"
    roughness: (
        Annotated[Roughness, about("Absolute roughness, where it is known better than by the material.")]
        | UnsetType
    ) = UNSET
    description: Annotated[Text, about("What this run is, in the caller's words.")] | UnsetType = UNSET


class Fitting(Block, frozen=True, kw_only=True):
    """Fittings or valves of one kind."""

    kind: Annotated[
        Literal[
            "elbow_90",
            "elbow_45",
            "tee_run",
            "tee_branch",
            "gate_valve",
            "ball_valve",
            "globe_valve",
            "swing_check_valve",
            "yard_hydrant",
            "exit",
        ],
        about("Kind of fitting."),
    ]
    count: Annotated[int, Meta(ge=1, le=100, description="How many of them.")] = 1
    inside_diameter: (
        Annotated[Diameter, about("Bore; the first run's inside diameter where left out.")] | UnsetType
    ) = UNSET


class Conduit(Block, frozen=True, kw_only=True):
    """The way from the pump outlet to the tank."""

    runs: (
        Annotated[list[Run], Meta(max_length=12, description="Pipes and hoses in order; empty: none.")]
        | UnsetType
    ) = UNSET
    fittings: (
        Annotated[list[Fitting], Meta(max_length=24, description="Fittings and valves; empty: none.")]
        | UnsetType
    ) = UNSET
    rise: Annotated[Rise, about("Height of the tank's gauge above the pump outlet.")] | UnsetType = UNSET
    hose_pressure_rating: (
        Annotated[GaugePressure, about("Lowest working-pressure rating of any hose.")] | UnsetType
    ) = UNSET
    check_valve: (
        Annotated[Answer, about("Whether a check valve stands between pump outlet and tank.")] | UnsetType
    ) = UNSET
    cracking_pressure: Annotated[GaugePressure, about("Pressure that opens the check valve.")] | UnsetType = (
        UNSET
    )
    air_chamber: (
        Annotated[
            Answer,
            about(
                "Whether an air chamber at the pump outlet evens the flow out beyond it; 'unknown' counts as no."
            ),
        ]
        | UnsetType
    ) = UNSET
