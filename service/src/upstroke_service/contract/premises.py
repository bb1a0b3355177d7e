"""The blocks of facts about tank, people and premises."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from .description import about
from .facts import Answer, Block
from .quantities import (
    AirTemperature,
    Cadence,
    Depth,
    Diameter,
    Duration,
    Force,
    GaugePressure,
    Power,
    Rise,
    RunLength,
    Volume,
)


class Tank(Block, frozen=True, kw_only=True):
    """The pressure tank, or several equal ones in parallel; or an open cistern, stock tank or trough."""

    kind: (
        Annotated[
            Literal["bladder", "diaphragm", "air_over_water", "open"],
            about(
                "How air and water are kept apart; in 'air_over_water' they touch. 'open': a cistern, stock tank or "
                "trough without pressure, filled at the end of the conduit."
            ),
        ]
        | UnsetType
    ) = UNSET
    total_volume: (
        Annotated[
            Volume, about("Volume of one tank, air and water together; of an open one the water to bring.")
        ]
        | UnsetType
    ) = UNSET
    count: Annotated[int, Meta(ge=1, le=20, description="Number of equal tanks.")] | UnsetType = UNSET
    precharge: (
        Annotated[GaugePressure, about("Air pressure of the tank when it is empty of water.")] | UnsetType
    ) = UNSET
    precharge_temperature: (
        Annotated[AirTemperature, about("Temperature of the tank when its precharge was set or read.")]
        | UnsetType
    ) = UNSET
    air_temperature: (
        Annotated[
            AirTemperature,
            about("Temperature of the tank's air now; as when the precharge was set, where left out."),
        ]
        | UnsetType
    ) = UNSET
    air_volume: (
        Annotated[
            Volume, about("Air in an 'air_over_water' tank at air_pressure; the whole tank's where left out.")
        ]
        | UnsetType
    ) = UNSET
    air_pressure: (
        Annotated[GaugePressure, about("Gauge pressure at which air_volume was found; 0 where left out.")]
        | UnsetType
    ) = UNSET
    condition: (
        Annotated[
            Literal["sound", "corroded", "unknown"],
            about("What the tank looks like from outside, fittings included."),
        ]
        | UnsetType
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
    """Who pumps. What is stated overrides what the profile sets."""

    profile: (
        Annotated[
            Literal["strong_adult", "ordinary_adult", "older_adult", "youth"],
            about("Sets sustainable power, hand force and cadence; GET /v1/operators lists the figures."),
        ]
        | UnsetType
    ) = UNSET
    people: Annotated[int, Meta(ge=1, le=12, description="How many such people take turns.")] | UnsetType = (
        UNSET
    )
    session: Annotated[Duration, about("Longest time that one session at the pump may take.")] | UnsetType = (
        UNSET
    )

    sustained_power: (
        Annotated[Power, about("Mechanical power of one person that can be kept up for the whole fill.")]
        | UnsetType
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
    distance: (
        Annotated[RunLength, about("From the pump outlet, along the way that a hose or pipe would take.")]
        | UnsetType
    ) = UNSET
    rise: Annotated[Rise, about("Height of the connection above the pump outlet.")] | UnsetType = UNSET
    sanitary: (
        Annotated[
            Answer, about("Whether a hydrant is of the sanitary kind, without a weep hole to the soil.")
        ]
        | UnsetType
    ) = UNSET


class Premises(Block, frozen=True, kw_only=True):
    """The site around the well."""

    freezes: Annotated[Answer, about("Whether pipes at the surface can freeze.")] | UnsetType = UNSET
    frost_depth: Annotated[Depth, about("Depth to which the ground can freeze.")] | UnsetType = UNSET
    discharge: (
        Annotated[
            Literal["pitless_adapter", "above_grade", "unknown"],
            about(
                "Where the electric pump's pipe leaves the casing: through a pitless adapter, or above ground."
            ),
        ]
        | UnsetType
    ) = UNSET
    well_pit: Annotated[Answer, about("Whether the well's head or the tank stands in a pit.")] | UnsetType = (
        UNSET
    )
    overhead_lines: (
        Annotated[Answer, about("Whether electric lines pass near or above the well.")] | UnsetType
    ) = UNSET
    water_heater: (
        Annotated[Literal["electric", "gas", "none", "unknown"], about("What heats the household's water.")]
        | UnsetType
    ) = UNSET
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


class UseCount(Block, frozen=True, kw_only=True):
    """How often a day water is used for one purpose."""

    kind: Annotated[
        Literal["toilet_flush", "hand_wash", "dishes", "short_shower"], about("What the water is used for.")
    ]
    count: Annotated[float, Meta(ge=0.0, le=1_000.0, description="How many of them a day.")]


class Herd(Block, frozen=True, kw_only=True):
    """Animals of one kind."""

    kind: Annotated[
        Literal[
            "beef_cow", "dairy_cow", "calf", "horse", "sheep", "goat", "sow", "pig", "laying_hen", "turkey",
        ],
        about("Kind of animal."),
    ]  # fmt: skip
    count: Annotated[int, Meta(ge=1, le=1_000_000, description="How many of them.")]


class Needs(Block, frozen=True, kw_only=True):
    """Who and what needs water every day."""

    people: Annotated[int, Meta(ge=0, le=10_000, description="People who live there.")] | UnsetType = UNSET
    level: (
        Annotated[
            Literal["survival", "basic", "ordinary"],
            about(
                "'survival': drinking and cooking for days; 'basic': hygiene too; 'ordinary': as with power."
            ),
        ]
        | UnsetType
    ) = UNSET
    uses: (
        Annotated[list[UseCount], Meta(max_length=12, description="Uses on top of what each person needs.")]
        | UnsetType
    ) = UNSET
    herds: Annotated[list[Herd], Meta(max_length=24, description="Animals to water.")] | UnsetType = UNSET
    floor_rise: (
        Annotated[Rise, about("Height above the tank's gauge of the floor where the water is used.")]
        | UnsetType
    ) = UNSET
