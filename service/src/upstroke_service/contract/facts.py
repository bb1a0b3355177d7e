"""The blocks of facts that requests are made of. Each is one schema, used by every resource that needs it."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from .description import about
from .quantities import (
    Cadence,
    Density,
    Depth,
    Diameter,
    Elevation,
    Force,
    GaugePressure,
    HoleDiameter,
    Power,
    Rise,
    Roughness,
    RunLength,
    SpecificCapacity,
    Stroke,
    Volume,
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
        Literal["steel", "stainless_steel", "fibreglass", "pvc"], about("Material, which sets the density.")
    ]
    density: (
        Annotated[Density, about("Density, where it is known better than by the material.")] | UnsetType
    ) = UNSET


class DropPipe(Block, frozen=True, kw_only=True):
    """The drop pipe (riser) in the well; for a suction pump the suction pipe."""

    inside_diameter: Annotated[Diameter, about("Inside diameter.")]
    material: Annotated[
        Literal["steel", "stainless_steel", "fibreglass", "pvc"],
        about("Material, which sets the roughness."),
    ]


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


class Tank(Block, frozen=True, kw_only=True):
    """The pressure tank, or several equal ones in parallel."""

    kind: (
        Annotated[
            Literal["bladder", "diaphragm", "air_over_water"],
            about("How air and water are kept apart; 'air_over_water' touches and has no precharge."),
        ]
        | UnsetType
    ) = UNSET
    total_volume: Annotated[Volume, about("Volume of one tank, air and water together.")] | UnsetType = UNSET
    count: Annotated[int, Meta(ge=1, le=20, description="Number of equal tanks.")] | UnsetType = UNSET
    precharge: (
        Annotated[GaugePressure, about("Air pressure of the tank when it is empty of water.")] | UnsetType
    ) = UNSET
    maximum_working_pressure: Annotated[GaugePressure, about("Stamped on the tank.")] | UnsetType = UNSET
    maximum_acceptance: (
        Annotated[
            float, Meta(ge=0.05, le=0.95, description="Greatest share of its total volume that may be water.")
        ]
        | UnsetType
    ) = UNSET
    gas_exponent: (
        Annotated[
            float,
            Meta(ge=1.0, le=1.4, description="1: slow, isothermal filling; 1.4: no heat leaves the air."),
        ]
        | UnsetType
    ) = UNSET


class Pressures(Block, frozen=True, kw_only=True):
    """Gauge pressures at the tank between which the fill takes place."""

    start: Annotated[GaugePressure, about("Where pumping begins.")] | UnsetType = UNSET
    target: Annotated[GaugePressure, about("Where it should end.")] | UnsetType = UNSET


class Operator(Block, frozen=True, kw_only=True):
    """Who pumps."""

    sustained_power: (
        Annotated[Power, about("Mechanical power that can be kept up for the whole fill.")] | UnsetType
    ) = UNSET
    hand_force_limit: Annotated[Force, about("Greatest force at the grip.")] | UnsetType = UNSET
    cadence: (
        Annotated[Cadence, about("Preferred strokes per minute; one stroke is a full cycle.")] | UnsetType
    ) = UNSET


class PressureSwitch(Block, frozen=True, kw_only=True, tag_field="kind", tag="pressure_switch"):
    """The usual supply: an electric pump on a pressure switch."""

    cut_in: Annotated[GaugePressure, about("Pressure at which the switch starts the pump.")] | UnsetType = (
        UNSET
    )
    cut_out: Annotated[GaugePressure, about("Pressure at which it stops the pump.")] | UnsetType = UNSET


class ConstantPressure(Block, frozen=True, kw_only=True, tag_field="kind", tag="constant_pressure"):
    """The usual supply: an electric pump with a drive that holds one pressure."""

    set_pressure: Annotated[GaugePressure, about("Pressure that the drive holds.")] | UnsetType = UNSET


class ReliefValve(Block, frozen=True, kw_only=True):
    """The pressure relief valve at the tank."""

    fitted: Annotated[Answer, about("Whether one is fitted.")]
    set_pressure: Annotated[GaugePressure, about("Pressure at which it opens.")] | UnsetType = UNSET


class ElectricPump(Block, frozen=True, kw_only=True):
    """The electric pump that shares the well."""

    present: Annotated[Answer, about("Whether one hangs in the well.")]
    drop_pipe_outside_diameter: (
        Annotated[Diameter, about("Outside diameter of its drop pipe, couplings included.")] | UnsetType
    ) = UNSET
    cable_diameter: Annotated[Diameter, about("Diameter of its cable.")] | UnsetType = UNSET


class Connection(Block, frozen=True, kw_only=True):
    """A place where the pump's hose or pipe could join the household's pipes."""

    kind: Annotated[
        Literal["yard_hydrant", "spigot", "tank_drain", "tee"],
        about("Frost-free yard hydrant, outdoor spigot, drain valve at the tank, or a hard-plumbed tee."),
    ]
    vacuum_breaker: (
        Annotated[Answer, about("Whether it has a vacuum breaker, built in or screwed on.")] | UnsetType
    ) = UNSET
    sanitary: (
        Annotated[
            Answer, about("Whether a hydrant is of the sanitary kind, without a weep hole to the soil.")
        ]
        | UnsetType
    ) = UNSET


class Premises(Block, frozen=True, kw_only=True):
    """The site around the well."""

    freezes: Annotated[Answer, about("Whether pipes at the surface can freeze.")] | UnsetType = UNSET
    electric_pump: Annotated[ElectricPump, about("The electric pump in the same well.")] | UnsetType = UNSET
    connections: (
        Annotated[list[Connection], Meta(max_length=12, description="Where the hose could be connected.")]
        | UnsetType
    ) = UNSET
    public_water_connection: (
        Annotated[Answer, about("Whether any pipe of the house also connects to a public water main.")]
        | UnsetType
    ) = UNSET
    supply: (
        Annotated[PressureSwitch | ConstantPressure, about("What keeps the pressure while there is power.")]
        | UnsetType
    ) = UNSET
    relief_valve: Annotated[ReliefValve, about("The pressure relief valve.")] | UnsetType = UNSET


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
