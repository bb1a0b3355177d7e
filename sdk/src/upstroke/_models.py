"""The facts that go in and the answers that come out.

Written by sdk/generate.py from openapi/openapi.json; change the service's contract, not this file.
"""

from collections.abc import Mapping, Sequence
from typing import Annotated, Literal, Required, TypeAlias, TypedDict

from msgspec import UNSET, Meta, Struct, UnsetType

from ._columns import Series, Table
from ._display import Displayed
from ._quantity import Quantity, QuantityInput

Depth: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""A depth below ground at the well, or another vertical distance that can't be negative."""

SpecificCapacity: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("gpm/ft", "L/s/m")})]
"""Flow of a well per unit of its drawdown."""

Diameter: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""A diameter of a pipe, hose, rod, cylinder, cable or casing."""

WaterTemperature: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("degF", "degC")})]
"""Temperature of liquid well water."""

Flow: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("gpm", "L/min", "L/s")})]
"""A flow of water."""

Elevation: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""Height above sea level."""

Density: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("kg/m3", "lb/ft3")})]
"""Density of a rod's material."""

Modulus: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("GPa", "Mpsi")})]
"""Young's modulus of a rod or a pipe."""

HoleDiameter: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""Diameter of a small hole."""

RunLength: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""Length of a pipe or hose."""

Roughness: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""Absolute roughness of a pipe's or hose's inside."""

Rise: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""A difference in height, positive upwards."""

GaugePressure: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("psi", "kPa", "bar")})]
"""A gauge pressure."""

Volume: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("gal", "L", "fl_oz", "mL", "m3")})]
"""A volume."""

AirTemperature: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("degF", "degC")})]
"""Temperature of the air in a tank."""

Duration: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("s", "min", "h")})]
"""A time that a person spends at the pump."""

Power: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("W", "hp")})]
"""Mechanical power of the people who pump."""

Force: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("lbf", "N")})]
"""A force."""

Cadence: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("1/min",)})]
"""Strokes per minute; one stroke is one full cycle of the handle."""

Stroke: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""Travel of the plunger in one direction."""


class Well(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The well and its water."""

    static_water_level: Depth | UnsetType = UNSET
    """Depth to the water at rest, below ground at the well."""
    well_drawdown: Depth | UnsetType = UNSET
    """How far pumping lowers the water below the static water level."""
    specific_capacity: SpecificCapacity | UnsetType = UNSET
    """Flow per unit of well drawdown; used where well_drawdown is left out."""
    casing_inside_diameter: Diameter | UnsetType = UNSET
    """Inside diameter of the well casing."""
    well_depth: Depth | UnsetType = UNSET
    """Depth of the well below ground."""
    water_temperature: WaterTemperature | UnsetType = UNSET
    """Temperature of the well water."""
    sustained_yield: Flow | UnsetType = UNSET
    """Flow that the well gives for hours; the driller's log states it."""
    site_elevation: Elevation | UnsetType = UNSET
    """Height of the site above sea level."""


class Rod(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The pump rod."""

    diameter: Diameter
    """Outside diameter of the rod."""
    material: Literal["fibreglass", "pvc", "stainless_steel", "steel"]
    """Material, which sets density and stiffness."""
    density: Density | UnsetType = UNSET
    """Density, where it is known better than by the material."""
    elastic_modulus: Modulus | UnsetType = UNSET
    """Young's modulus, where it is known better than by the material."""


class DropPipe(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The drop pipe (riser) in the well; for a suction pump the suction pipe."""

    inside_diameter: Diameter
    """Inside diameter."""
    material: Literal["fibreglass", "pvc", "stainless_steel", "steel"]
    """Material, which sets roughness and stiffness."""
    outside_diameter: Diameter | UnsetType = UNSET
    """Outside diameter, which sets how far it stretches."""
    elastic_modulus: Modulus | UnsetType = UNSET
    """Young's modulus, where it is known better than by the material."""


class WeepHole(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A hole in the drop pipe that drains it back below frost depth."""

    present: bool
    """Whether there is such a hole."""
    diameter: HoleDiameter | UnsetType = UNSET
    """Diameter of the hole."""
    depth_below_outlet: Depth | UnsetType = UNSET
    """Depth of the hole below the pump outlet."""
    discharge_coefficient: float | UnsetType = UNSET
    """0.62 for a sharp edge, about 0.80 through a thick wall."""


class Pump(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is the same for every candidate cylinder; each overrides the catalogue where given."""

    kind: Literal["lift", "suction"] | UnsetType = UNSET
    """Consider only pumps of this kind."""
    outlet_height: Depth | UnsetType = UNSET
    """Height of the pump outlet above ground."""
    cylinder_depth: Depth | UnsetType = UNSET
    """Depth of the cylinder (or of a suction pipe's intake) below ground."""
    rod: Rod | UnsetType = UNSET
    """The pump rod."""
    drop_pipe: DropPipe | UnsetType = UNSET
    """The drop pipe."""
    weep_hole: WeepHole | UnsetType = UNSET
    """The weep hole in the drop pipe."""
    handle_ratio: float | UnsetType = UNSET
    """Travel of the hands over travel of the plunger."""
    handle_efficiency: float | UnsetType = UNSET
    """Efficiency of the handle's linkage."""
    upstroke_share: float | UnsetType = UNSET
    """Share of a cycle's time taken by the upstroke."""


class Run(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A stretch of pipe or hose between the pump outlet and the tank."""

    inside_diameter: Diameter
    """Inside diameter."""
    length: RunLength
    """Length."""
    material: (
        Literal["copper", "galvanized_steel", "hose", "pex", "polyethylene", "pvc", "steel"] | UnsetType
    ) = UNSET
    """What it is made of, which sets the roughness. Default: hose."""
    roughness: Roughness | UnsetType = UNSET
    """Absolute roughness, where it is known better than by the material."""
    description: str | UnsetType = UNSET
    """What this run is, in the caller's words."""


class Fitting(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Fittings or valves of one kind."""

    kind: Literal[
        "ball_valve",
        "elbow_45",
        "elbow_90",
        "exit",
        "gate_valve",
        "globe_valve",
        "swing_check_valve",
        "tee_branch",
        "tee_run",
        "yard_hydrant",
    ]
    """Kind of fitting."""
    count: int | UnsetType = UNSET
    """How many of them. Default: 1."""
    inside_diameter: Diameter | UnsetType = UNSET
    """Bore; the first run's inside diameter where left out."""


class Conduit(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The way from the pump outlet to the tank."""

    runs: Sequence[Run] | UnsetType = UNSET
    """Pipes and hoses in order; empty: none."""
    fittings: Sequence[Fitting] | UnsetType = UNSET
    """Fittings and valves; empty: none."""
    rise: Rise | UnsetType = UNSET
    """Height of the tank's gauge above the pump outlet."""
    hose_pressure_rating: GaugePressure | UnsetType = UNSET
    """Lowest working-pressure rating of any hose."""
    check_valve: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether a check valve stands between pump outlet and tank."""
    cracking_pressure: GaugePressure | UnsetType = UNSET
    """Pressure that opens the check valve."""
    air_chamber: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether an air chamber at the pump outlet evens the flow out beyond it; 'unknown' counts as no."""


class Tank(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The pressure tank, or several equal ones in parallel; or an open cistern, stock tank or trough."""

    kind: Literal["air_over_water", "bladder", "diaphragm", "open"] | UnsetType = UNSET
    """How air and water are kept apart; in 'air_over_water' they touch.

    'open': a cistern, stock tank or trough without pressure, filled at the end of the conduit.
    """
    total_volume: Volume | UnsetType = UNSET
    """Volume of one tank, air and water together; of an open one the water to bring."""
    count: int | UnsetType = UNSET
    """Number of equal tanks."""
    precharge: GaugePressure | UnsetType = UNSET
    """Air pressure of the tank when it is empty of water."""
    precharge_temperature: AirTemperature | UnsetType = UNSET
    """Temperature of the tank when its precharge was set or read."""
    air_temperature: AirTemperature | UnsetType = UNSET
    """Temperature of the tank's air now; as when the precharge was set, where left out."""
    air_volume: Volume | UnsetType = UNSET
    """Air in an 'air_over_water' tank at air_pressure; the whole tank's where left out."""
    air_pressure: GaugePressure | UnsetType = UNSET
    """Gauge pressure at which air_volume was found; 0 where left out."""
    condition: Literal["corroded", "sound", "unknown"] | UnsetType = UNSET
    """What the tank looks like from outside, fittings included."""
    maximum_working_pressure: GaugePressure | UnsetType = UNSET
    """Stamped on the tank."""
    maximum_acceptance: float | UnsetType = UNSET
    """Greatest share of its total volume that may be water."""
    gas_exponent: float | UnsetType = UNSET
    """1: slow, isothermal filling; 1.4: no heat leaves the air."""


class Pressures(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Gauge pressures at the tank between which the fill takes place."""

    start: GaugePressure | UnsetType = UNSET
    """Where pumping begins."""
    target: GaugePressure | UnsetType = UNSET
    """Where it should end."""


class Operator(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Who pumps. What is stated overrides what the profile sets."""

    profile: Literal["older_adult", "ordinary_adult", "strong_adult", "youth"] | UnsetType = UNSET
    """Sets sustainable power, hand force and cadence; GET /v1/operators lists the figures."""
    people: int | UnsetType = UNSET
    """How many such people take turns."""
    session: Duration | UnsetType = UNSET
    """Longest time that one session at the pump may take."""
    sustained_power: Power | UnsetType = UNSET
    """Mechanical power of one person that can be kept up for the whole fill."""
    hand_force_limit: Force | UnsetType = UNSET
    """Greatest force at the grip."""
    cadence: Cadence | UnsetType = UNSET
    """Preferred strokes per minute; one stroke is a full cycle."""


class ElectricPump(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The electric pump that shares the well."""

    present: Literal["no", "unknown", "yes"]
    """Whether one hangs in the well."""
    drop_pipe_outside_diameter: Diameter | UnsetType = UNSET
    """Outside diameter of its drop pipe, couplings included."""
    cable_diameter: Diameter | UnsetType = UNSET
    """Diameter of its cable."""


class Connection(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A place where the pump's hose or pipe could join the household's pipes."""

    kind: Literal["spigot", "tank_drain", "tee", "yard_hydrant"]
    """Frost-free yard hydrant, outdoor spigot, drain valve at the tank, or a hard-plumbed tee."""
    vacuum_breaker: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether it has a vacuum breaker, built in or screwed on."""
    distance: RunLength | UnsetType = UNSET
    """From the pump outlet, along the way that a hose or pipe would take."""
    rise: Rise | UnsetType = UNSET
    """Height of the connection above the pump outlet."""
    sanitary: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether a hydrant is of the sanitary kind, without a weep hole to the soil."""


class PressureSwitch(
    Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="pressure_switch"
):
    """The usual supply: an electric pump on a pressure switch."""

    cut_in: GaugePressure | UnsetType = UNSET
    """Pressure at which the switch starts the pump."""
    cut_out: GaugePressure | UnsetType = UNSET
    """Pressure at which it stops the pump."""


class ConstantPressure(
    Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="constant_pressure"
):
    """The usual supply: an electric pump with a drive that holds one pressure."""

    set_pressure: GaugePressure | UnsetType = UNSET
    """Pressure that the drive holds."""


class ReliefValve(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The pressure relief valve at the tank."""

    fitted: Literal["no", "unknown", "yes"]
    """Whether one is fitted."""
    set_pressure: GaugePressure | UnsetType = UNSET
    """Pressure at which it opens."""


class Premises(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The site around the well."""

    freezes: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether pipes at the surface can freeze."""
    frost_depth: Depth | UnsetType = UNSET
    """Depth to which the ground can freeze."""
    discharge: Literal["above_grade", "pitless_adapter", "unknown"] | UnsetType = UNSET
    """Where the electric pump's pipe leaves the casing: through a pitless adapter, or above ground."""
    well_pit: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether the well's head or the tank stands in a pit."""
    overhead_lines: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether electric lines pass near or above the well."""
    water_heater: Literal["electric", "gas", "none", "unknown"] | UnsetType = UNSET
    """What heats the household's water."""
    electric_pump: ElectricPump | UnsetType = UNSET
    """The electric pump in the same well."""
    connections: Sequence[Connection] | UnsetType = UNSET
    """Where the hose could be connected."""
    public_water_connection: Literal["no", "unknown", "yes"] | UnsetType = UNSET
    """Whether any pipe of the house also connects to a public water main."""
    supply: PressureSwitch | ConstantPressure | UnsetType = UNSET
    """What keeps the pressure while there is power."""
    relief_valve: ReliefValve | UnsetType = UNSET
    """The pressure relief valve."""


class CautionRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The facts of a site, for the cautions that they call for."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well | UnsetType = UNSET

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET


class HookupRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The facts of a site, for the ways to connect that it allows."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well | UnsetType = UNSET

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET


class Cylinder(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A cylinder of the caller's own, instead of one from a catalogue."""

    id: str
    """Name by which the answer refers to it; lower-case words and hyphens."""
    kind: Literal["lift", "suction"]
    """'lift': the cylinder hangs below the water and pushes.

    'suction': it stands at the surface, where the atmosphere limits it.
    """
    bore: Diameter
    """Inside diameter of the cylinder."""
    stroke: Stroke
    """Travel of the plunger."""
    rated_lift: Depth
    """Greatest total dynamic head that it is sold for."""
    rod: Rod
    """The pump rod."""
    drop_pipe: DropPipe
    """The drop pipe."""
    handle_ratio: float
    """Travel of the hands over that of the plunger."""
    name: str | UnsetType = UNSET
    """Name to show."""
    outside_diameter: Diameter | UnsetType = UNSET
    """Greatest outside diameter, to fit the casing."""
    volumetric_efficiency: float | UnsetType = UNSET
    """Water delivered over displacement."""
    seal_drag: Force | UnsetType = UNSET
    """Friction of seals and packing on the rod."""
    weep_hole: WeepHole | UnsetType = UNSET
    """The weep hole in its drop pipe."""


class Selection(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Which cylinders to consider: the whole of a catalogue where nothing is said."""

    catalogue: str | UnsetType = UNSET
    """Name of a catalogue of this deployment; its default one where left out."""
    ids: Sequence[str] | UnsetType = UNSET
    """Only these cylinders of the catalogue."""
    cylinders: Sequence[Cylinder] | UnsetType = UNSET
    """The caller's own, instead of a catalogue."""


class LiftBudgetRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The facts of a site and the cylinders whose lift budget is wanted."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET

    selection: Selection | UnsetType = UNSET


class UseCount(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How often a day water is used for one purpose."""

    kind: Literal["dishes", "hand_wash", "short_shower", "toilet_flush"]
    """What the water is used for."""
    count: float
    """How many of them a day."""


class Herd(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Animals of one kind."""

    kind: Literal[
        "beef_cow", "calf", "dairy_cow", "goat", "horse", "laying_hen", "pig", "sheep", "sow", "turkey"
    ]
    """Kind of animal."""
    count: int
    """How many of them."""


class Needs(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Who and what needs water every day."""

    people: int | UnsetType = UNSET
    """People who live there."""
    level: Literal["basic", "ordinary", "survival"] | UnsetType = UNSET
    """'survival': drinking and cooking for days; 'basic': hygiene too; 'ordinary': as with power."""
    uses: Sequence[UseCount] | UnsetType = UNSET
    """Uses on top of what each person needs."""
    herds: Sequence[Herd] | UnsetType = UNSET
    """Animals to water."""
    floor_rise: Rise | UnsetType = UNSET
    """Height above the tank's gauge of the floor where the water is used."""


class SizingRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A quote form's facts: everything that is known, and nothing that is not."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well | UnsetType = UNSET

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET

    needs: Needs | UnsetType = UNSET

    selection: Selection | UnsetType = UNSET

    points: int | UnsetType = UNSET
    """Number of points along a curve. Default: 51."""


class StrokeEstimateRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The facts of a site and the cylinders whose strokes, minutes and forces are wanted."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET

    selection: Selection | UnsetType = UNSET

    points: int | UnsetType = UNSET
    """Number of points along a curve. Default: 11."""


class TankCurveRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A pressure tank and the pressures between which it is filled."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well | UnsetType = UNSET
    """For the site's elevation."""
    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    site: Premises | UnsetType = UNSET
    """For the supply's pressures."""
    stored_volume: Volume | UnsetType = UNSET
    """Asks: at which pressure do the tanks together hold this much water?"""
    wanted_drawdown: Volume | UnsetType = UNSET
    """Asks: which total volume gives this drawdown between the curve's start and its end?"""
    points: int | UnsetType = UNSET
    """Number of points along a curve. Default: 21."""


class WaterNeedRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Who and what needs water, and the site that should give it."""

    client_reference: str | UnsetType = UNSET
    """The caller's own reference, echoed in the answer and not part of the calculation.

    Leave personal data out of it.
    """
    well: Well | UnsetType = UNSET

    pump: Pump | UnsetType = UNSET

    conduit: Conduit | UnsetType = UNSET

    tank: Tank | UnsetType = UNSET

    pressures: Pressures | UnsetType = UNSET

    operator: Operator | UnsetType = UNSET

    site: Premises | UnsetType = UNSET

    needs: Needs | UnsetType = UNSET

    selection: Selection | UnsetType = UNSET


class CautionFacts(TypedDict, total=False):
    """The fields of CautionRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]


class HookupFacts(TypedDict, total=False):
    """The fields of HookupRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]


class LiftBudgetFacts(TypedDict, total=False):
    """The fields of LiftBudgetRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]
    selection: Selection | Mapping[str, object]


class SizingFacts(TypedDict, total=False):
    """The fields of SizingRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]
    needs: Needs | Mapping[str, object]
    selection: Selection | Mapping[str, object]
    points: int


class StrokeEstimateFacts(TypedDict, total=False):
    """The fields of StrokeEstimateRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]
    selection: Selection | Mapping[str, object]
    points: int


class TankCurveFacts(TypedDict, total=False):
    """The fields of TankCurveRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    site: Premises | Mapping[str, object]
    stored_volume: Volume | Mapping[str, object]
    wanted_drawdown: Volume | Mapping[str, object]
    points: int


class WaterNeedFacts(TypedDict, total=False):
    """The fields of WaterNeedRequest as keyword arguments."""

    client_reference: str
    well: Well | Mapping[str, object]
    pump: Pump | Mapping[str, object]
    conduit: Conduit | Mapping[str, object]
    tank: Tank | Mapping[str, object]
    pressures: Pressures | Mapping[str, object]
    operator: Operator | Mapping[str, object]
    site: Premises | Mapping[str, object]
    needs: Needs | Mapping[str, object]
    selection: Selection | Mapping[str, object]


QueryLength: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "in", "m", "cm", "mm")})]
"""A length, height or diameter in the query of a formula."""

QueryVolume: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("gal", "L", "fl_oz", "mL", "m3")})]
"""A volume in the query of a formula."""

QueryPressure: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("psi", "kPa", "bar")})]
"""A gauge pressure in the query of a formula."""


class HandForceQuery(TypedDict, total=False):
    """The facts of the formula hand force as keyword arguments."""

    static_water_level: Required[QueryLength]
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    tank_kind: Literal["air_over_water", "bladder", "diaphragm", "open"]
    total_volume: Required[QueryVolume]
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    start: QueryPressure
    target: Required[QueryPressure]
    profile: Literal["older_adult", "ordinary_adult", "strong_adult", "youth"]
    people: int
    cylinder: Required[str]
    catalogue: str


class LiftMarginQuery(TypedDict, total=False):
    """The facts of the formula lift margin as keyword arguments."""

    static_water_level: Required[QueryLength]
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    target: Required[QueryPressure]
    cylinder: Required[str]
    catalogue: str


class PumpingTimeQuery(TypedDict, total=False):
    """The facts of the formula pumping time as keyword arguments."""

    static_water_level: Required[QueryLength]
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    tank_kind: Literal["air_over_water", "bladder", "diaphragm", "open"]
    total_volume: Required[QueryVolume]
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    start: QueryPressure
    target: Required[QueryPressure]
    profile: Literal["older_adult", "ordinary_adult", "strong_adult", "youth"]
    people: int
    cylinder: Required[str]
    catalogue: str


class RecommendedCylinderQuery(TypedDict, total=False):
    """The facts of the formula recommended cylinder as keyword arguments."""

    static_water_level: QueryLength
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    tank_kind: Literal["air_over_water", "bladder", "diaphragm", "open"]
    total_volume: QueryVolume
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    start: QueryPressure
    target: QueryPressure
    profile: Literal["older_adult", "ordinary_adult", "strong_adult", "youth"]
    people: int
    catalogue: str


class StoredPressureQuery(TypedDict, total=False):
    """The facts of the formula stored pressure as keyword arguments."""

    stored_volume: Required[QueryVolume]
    total_volume: Required[QueryVolume]
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    site_elevation: QueryLength


class StrokesQuery(TypedDict, total=False):
    """The facts of the formula strokes as keyword arguments."""

    static_water_level: Required[QueryLength]
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    tank_kind: Literal["air_over_water", "bladder", "diaphragm", "open"]
    total_volume: Required[QueryVolume]
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    start: QueryPressure
    target: Required[QueryPressure]
    profile: Literal["older_adult", "ordinary_adult", "strong_adult", "youth"]
    people: int
    cylinder: Required[str]
    catalogue: str


class TankDrawdownQuery(TypedDict, total=False):
    """The facts of the formula tank drawdown as keyword arguments."""

    total_volume: Required[QueryVolume]
    precharge: QueryPressure
    cut_in: QueryPressure
    cut_out: QueryPressure
    start: QueryPressure
    target: Required[QueryPressure]
    site_elevation: QueryLength


class TotalHeadQuery(TypedDict, total=False):
    """The facts of the formula total head as keyword arguments."""

    static_water_level: Required[QueryLength]
    well_drawdown: QueryLength
    site_elevation: QueryLength
    outlet_height: QueryLength
    rise: QueryLength
    hose_length: QueryLength
    hose_inside_diameter: QueryLength
    target: Required[QueryPressure]
    cylinder: Required[str]
    catalogue: str


class Health(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Whether the service can answer."""

    status: str
    """Always 'ok': a service that is not does not answer so. Known words: ok; more may come."""
    model_version: str
    """Version of the models and their coefficients."""


class ProblemError(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One fault."""

    pointer: str
    """JSON Pointer to the faulty field of the body; empty: the whole body.

    Of a formula: a slash and the name of the faulty parameter.
    """
    detail: str
    """What is wrong and what would be accepted."""


class Problem(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A problem as RFC 9457 defines it."""

    type: str
    """Path of a short page about this kind of problem."""
    title: str
    """The kind of problem."""
    status: int
    """HTTP status."""
    code: str
    """Stable code of the kind of problem."""
    detail: str
    """What happened and what to do."""
    request_id: str
    """Quote this when asking for help."""
    errors: tuple[ProblemError, ...] | None = None
    """Every fault of the body at once."""


class CatalogueSummary(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A catalogue of this deployment."""

    name: str
    """Its name, for selection.catalogue."""
    title: str
    """What to call it."""
    invented: bool
    """True where products, figures and prices are made up."""
    notice: str
    """What a reader must know about it."""
    digest: str
    """Changes whenever its content does."""
    default: bool
    """Whether requests that name none use this one."""


class CatalogueList(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The catalogues of this deployment."""

    catalogues: tuple[CatalogueSummary, ...]


class CylinderListing(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A cylinder as a catalogue lists it."""

    id: str
    """Its id, for selection.ids."""
    name: str
    """Its name."""
    kind: str
    """'lift': the cylinder hangs below the water and pushes.

    'suction': it stands at the surface, where the atmosphere limits it. Known words: lift, suction;
    more may come.
    """
    bore: Quantity
    """Inside diameter."""
    stroke: Quantity
    """Travel of the plunger."""
    rated_lift: Quantity
    """Greatest total dynamic head that it is sold for."""
    outside_diameter: Quantity
    """Greatest outside diameter, to fit the casing."""
    volumetric_efficiency: float
    """Water delivered over displacement."""
    seal_drag: Quantity
    """Friction of seals and packing on the rod."""
    handle_ratio: float
    """Travel of the hands over travel of the plunger."""
    rod_diameter: Quantity
    """Outside diameter of the pump rod."""
    rod_material: str
    """Material of the pump rod."""
    drop_pipe_inside_diameter: Quantity
    """Inside diameter of the drop pipe or suction pipe."""
    drop_pipe_material: str
    """Material of the drop pipe or suction pipe."""
    weep_hole_diameter: Quantity
    """0: none."""


class CatalogueDetail(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A catalogue with its cylinders."""

    name: str
    """Its name, for selection.catalogue."""
    title: str
    """What to call it."""
    invented: bool
    """True where products, figures and prices are made up."""
    notice: str
    """What a reader must know about it."""
    digest: str
    """Changes whenever its content does."""
    default: bool
    """Whether requests that name none use this one."""
    cylinders: tuple[CylinderListing, ...]


class Source(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What a number or a rule rests on."""

    key: str
    """Stable key."""
    citation: str
    """Author, title, edition and table; or 'common practice, no source'."""


class Caution(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What could hurt someone or break something here."""

    code: str
    """Stable code; more may come."""
    signal: str
    """Signal word as defined by ANSI Z535.6.

    Known words: caution, danger, notice, warning; more may come.
    """
    text: str
    """What to do or leave."""
    why: str
    """Why it applies here."""
    who: str
    """Who may do the work, and where local code or a licensed trade decides."""
    basis: tuple[Source, ...]
    """What it rests on."""


class Assumption(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A fact that the caller did not give, and what was used instead."""

    pointer: str
    """JSON Pointer of the missing fact in the request."""
    text: str
    """The assumption in words, with its value."""
    basis: str
    """How it was chosen, and its source."""
    value: float | None = None
    """The number used, where it is one."""
    unit: str | None = None
    """Unit of the value."""


class Cautions(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The cautions that the facts call for, worst first."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    cautions: tuple[Caution, ...]

    assumptions: tuple[Assumption, ...]


class DefaultEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What is assumed where a fact is left out."""

    field: str
    """JSON Pointer of the fact in a request."""
    text: str
    """What is assumed."""
    basis: Source
    """What it rests on."""
    low: float | None = None
    """Low end of the plausible range."""
    high: float | None = None
    """High end of the plausible range."""
    unit: str | None = None
    """Unit of the range."""


class DefaultList(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Every default."""

    defaults: tuple[DefaultEntry, ...]


class HookupTask(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Something to see to, and who may do it."""

    code: str
    """Stable code; more may come."""
    text: str
    """The sentence."""
    value: float | None = None
    """The number in it."""
    limit: float | None = None
    """What the number is held against."""
    unit: str | None = None
    """Unit of both."""
    basis: tuple[Source, ...]
    """What it rests on."""
    who: str
    """Who may do it, and where local code or a licensed trade decides."""


class HookupPoint(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Something to know about a way, in a sentence that can be forwarded, with its numbers beside it."""

    code: str
    """Stable code; more may come."""
    text: str
    """The sentence."""
    value: float | None = None
    """The number in it."""
    limit: float | None = None
    """What the number is held against."""
    unit: str | None = None
    """Unit of both."""
    basis: tuple[Source, ...]
    """What it rests on."""


class HookupPart(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A part to have at hand, of no particular make."""

    code: str
    """Stable code; more may come."""
    text: str
    """What it is, what it has to stand, and where it goes."""
    quantity: int
    """How many of it."""
    length: Quantity | None = None
    """Length to buy, where the way's length is known."""
    pressure: Quantity | None = None
    """Least pressure rating; of a gauge its range."""
    basis: tuple[Source, ...]
    """What it rests on."""


class HookupStep(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A step of the work."""

    code: str
    """Stable code; more may come."""
    text: str
    """The sentence."""
    value: float | None = None
    """The number in it."""
    limit: float | None = None
    """What the number is held against."""
    unit: str | None = None
    """Unit of both."""
    basis: tuple[Source, ...]
    """What it rests on."""
    who: str
    """Who may do it, and where local code or a licensed trade decides."""
    number: int
    """Its place in the order, from 1."""
    phase: str
    """Part of the work; 'restore' undoes what was prepared, in reverse order.

    Known words: connect, disconnect, prepare, pump, restore; more may come.
    """


class HookupPlan(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A way to connect, with the steps to take."""

    way: str
    """What to connect to: tee, tank_drain, yard_hydrant, spigot, or open_end; more may come."""
    name: str
    """The same in words."""
    text: str
    """How it works."""
    connection: int | None = None
    """Index in the request's site.connections; left out where none is listed."""
    verdict: str
    """'possible_with_conditions': not to be done unless every one of the conditions is met.

    Known words: advised, possible_with_conditions; more may come.
    """
    conditions: tuple[HookupTask, ...]
    """What has to be true or done first."""
    advantages: tuple[HookupPoint, ...]
    """What speaks for it."""
    drawbacks: tuple[HookupPoint, ...]
    """What speaks against it."""
    checks: tuple[HookupTask, ...]
    """What to look at before any work, at the well too."""
    parts: tuple[HookupPart, ...]
    """What to have at hand."""
    rank: int
    """1 is the best of the ways."""
    steps: tuple[HookupStep, ...]
    """What to do, in order."""


class RefusedHookup(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A way to connect that must not be used here."""

    way: str
    """What it would connect to, as in the ways."""
    name: str
    """The same in words."""
    connection: int | None = None
    """Index in the request's site.connections; left out where none is listed."""
    grounds: tuple[HookupTask, ...]
    """Why not, and who alone may change that."""


class Question(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A fact worth asking the customer for, the most useful first."""

    pointer: str
    """JSON Pointer of the fact in the request."""
    text: str
    """The question."""
    why: str
    """Why it matters."""
    effect: str
    """What the answer can change: the verdict, the recommended cylinder, what is safe, or the figures.

    Known words: figures, recommendation, safety, verdict; more may come.
    """
    consequence: str | None = None
    """What follows from which answer, where the verdict or the choice hangs on it."""


class Hookups(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The ways to join a hand pump that these facts allow, best first, and those that must not be used."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    verdict: str
    """That of the best way.

    Known words: advised, nothing_advised, possible_with_conditions; more may come.
    """
    summary: str
    """The verdict in a sentence or two."""
    stop: Quantity | None = None
    """Gauge pressure at which to stop pumping.

    The target, or what tank, relief valve, hose and supply are known to stand if that is less.

    Left out for open tanks, and where nothing is advised.
    """
    ways: tuple[HookupPlan, ...]
    """Best first: advised, not far, the safer kind, fewer conditions, nearer, lower."""
    refused: tuple[RefusedHookup, ...]
    """Ways that are never advised here, and why."""
    questions: tuple[Question, ...]
    """What to ask next, the most useful first."""
    assumptions: tuple[Assumption, ...]


class CatalogueUsed(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The catalogue that an answer is built on."""

    name: str
    """Its name, or 'request' for the caller's own cylinders."""
    invented: bool
    """True where products, figures and prices are made up."""
    notice: str
    """What a reader must know about it."""


class CylinderRef(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A cylinder of the answer."""

    id: str
    """Its id in the catalogue or in the request."""
    name: str
    """Its name."""
    kind: str
    """'lift': the cylinder hangs below the water and pushes.

    'suction': it stands at the surface, where the atmosphere limits it. Known words: lift, suction;
    more may come.
    """
    bore: Quantity
    """Inside diameter."""
    stroke: Quantity
    """Travel of the plunger as used here."""


class LiftBudget(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The total dynamic head line by line, at the target pressure, against the cylinder's rated lift.

    The lines from static_water_level to check_valve add up to total_head.
    """

    static_water_level: Quantity
    """Depth to the water at rest, below ground at the well."""
    well_drawdown: Quantity
    """How far pumping lowers the water."""
    outlet_height: Quantity
    """Height of the pump outlet above ground."""
    rise: Quantity
    """Height of the tank's gauge above the pump outlet."""
    pressure_head: Quantity
    """The target pressure as head."""
    drop_pipe_friction: Quantity
    """Friction in the drop pipe, averaged over the stroke by work."""
    conduit_friction: Quantity
    """Friction in pipes and hoses, averaged likewise."""
    fitting_losses: Quantity
    """Losses in fittings and valves, averaged likewise."""
    check_valve: Quantity
    """What opens the check valve."""
    total_head: Quantity
    """Total dynamic head."""
    rated_lift: Quantity
    """Greatest total dynamic head that the cylinder is sold for."""
    margin: Quantity
    """Rated lift less total head; negative: too much head."""
    pressure_room: Quantity
    """Gauge pressure at which the total head would reach the rated lift; negative: none."""
    target: Quantity
    """The target pressure."""
    cadence: Quantity
    """Cadence while pumping at the target pressure."""


class Finding(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A reason in a sentence that can be forwarded, with its numbers beside it."""

    code: str
    """Stable code; more may come."""
    text: str
    """The sentence."""
    value: float | None = None
    """The number found."""
    limit: float | None = None
    """What it is held against."""
    unit: str | None = None
    """Unit of both."""


class LiftBudgetEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One cylinder's lift budget."""

    cylinder: CylinderRef

    lift_budget: LiftBudget

    findings: tuple[Finding, ...]


class LiftBudgets(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Lift budgets, in the order of the cylinders' ids."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    catalogue: CatalogueUsed

    lift_budgets: tuple[LiftBudgetEntry, ...]

    assumptions: tuple[Assumption, ...]


class FigureBasis(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What one figure of a profile rests on."""

    figure: str
    """Name of the figure's field."""
    text: str
    """How it follows from what is published."""
    sources: tuple[Source, ...]
    """What it rests on."""


class OperatorEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A profile: what one kind of person can do at the handle."""

    profile: str
    """Its name, for operator.profile."""
    name: str
    """What to call such a person."""
    description: str
    """Whom it means."""
    default: bool
    """Whether requests that name none use this one."""
    sustained_power: Quantity
    """Mechanical power of one person for up to a quarter of an hour; less for longer."""
    hand_force_limit: Quantity
    """Greatest force at the grip, for short work."""
    repeated_hand_force: Quantity
    """Force at the grip that is comfortable again and again."""
    cadence: Quantity
    """Preferred strokes per minute."""
    session: Quantity
    """Longest time that one session at the pump may take."""
    basis: tuple[FigureBasis, ...]
    """What each figure rests on."""


class OperatorList(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Every profile of an operator."""

    operators: tuple[OperatorEntry, ...]


class CompactSizing(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A sizing without sentences, questions and curves: what a register of many wells needs of each.

    Every figure is the recommended cylinder's and the same as in the full answer. Where nothing fits
    there is no fill, and margin, limit and findings are those of the nearest cylinder.
    """

    verdict: str
    """'needs_facts': no honest answer without the depth to the water, and no figures.

    Known words: fits, fits_with_limits, needs_facts, nothing_fits; more may come.
    """
    recommended: str | None = None
    """Id of the recommended cylinder."""
    nearest: str | None = None
    """Id of the cylinder that comes nearest, where nothing fits."""
    governed_by: str | None = None
    """What sets its ceiling or rules it out."""
    lift_margin: Quantity | None = None
    """Rated lift less total head at the target; negative: too much head."""
    end: Quantity | None = None
    """Gauge pressure at which a fill ends: the target, or a limit before it."""
    strokes: float | None = None
    """Full cycles of the handle for a fill."""
    time: Quantity | None = None
    """Time of a fill, rests included."""
    hand_force: Quantity | None = None
    """Peak force at the grip at the end of a fill."""
    water: Quantity | None = None
    """Water stored by a fill."""
    reserve: Quantity | None = None
    """The part of it above the pressure that the least demanding fixture needs; of an open tank all of it."""
    assumed: tuple[str, ...]
    """JSON Pointers of the facts that were assumed."""
    findings: tuple[str, ...]
    """Codes of the reasons for or against the cylinder."""
    cautions: tuple[str, ...]
    """Codes of the cautions, worst first."""


class SizedLine(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A line that was sized."""

    line: int
    """Number of the line in the body, from 1; blank lines and defaults count."""
    client_reference: str | None = None
    """The caller's own reference, as sent in the line."""
    result: CompactSizing


class Limit(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A pressure that something can't or shouldn't be taken beyond."""

    code: str
    """What limits; more may come."""
    pressure: Quantity
    """Gauge pressure; negative: not even an open discharge is possible."""


class Ceiling(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The practical ceiling: the highest gauge pressure worth pumping to."""

    pressure: Quantity
    """The least of the limits."""
    governed_by: str
    """The limit that sets it."""
    limits: tuple[Limit, ...]
    """Every limit that applies, lowest first."""


class FillTotals(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A whole fill."""

    start: Quantity
    """Gauge pressure at which pumping begins to store water."""
    end: Quantity
    """Gauge pressure at which it ends: the target, or a limit before it."""
    reaches_target: bool
    """Whether the end is the target."""
    water: Quantity
    """Water stored."""
    strokes: float
    """Full cycles of the handle."""
    time: Quantity
    """Time, rests included."""
    work: Quantity
    """Mechanical work at the handle."""
    body_energy: Quantity
    """What the body burns for it, all people together."""


class Effort(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What pumping feels like."""

    hand_force: Quantity
    """Peak force at the grip at the end of the fill."""
    hand_force_at_start: Quantity
    """The same at its start."""
    return_force: Quantity
    """Force on the return stroke at the end; negative: it falls by itself."""
    hand_travel: Quantity
    """Travel of the hands per stroke."""
    cadence_at_start: Quantity
    """Strokes per minute at the start."""
    cadence_at_end: Quantity
    """Strokes per minute at the end, averaged over any rests."""
    power: Quantity
    """Mechanical power at the end of the fill."""
    net_per_stroke: Quantity
    """Water per stroke that reaches the tank at the end."""
    efficiency: float
    """Hydraulic power delivered over power at the handle, at the end."""


class Candidate(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One cylinder, assessed."""

    cylinder: CylinderRef

    outcome: str
    """Whether it reaches the target; with limits: at least half of the wanted water at a lower pressure.

    Known words: does_not_fit, fits, fits_with_limits; more may come.
    """
    governed_by: str
    """What sets its ceiling or rules it out."""
    reasons: tuple[Finding, ...]
    """Why, in sentences."""
    lift_budget: LiftBudget

    ceiling: Ceiling

    fill: FillTotals

    effort: Effort


class FillColumns(Table, frozen=True, kw_only=True, omit_defaults=True):
    """Points along a fill; all columns have the same length."""

    pressure: Series
    """Gauge pressure at the tank."""
    water: Series
    """Water stored since the start."""
    strokes: Series
    """Strokes since the start."""
    time: Series
    """Time since the start, rests included."""
    hand_force: Series
    """Peak force at the grip."""
    cadence: Series
    """Strokes per minute, averaged over any rests."""


class Remedy(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A change that takes inertia away, and what it does here."""

    code: str
    """Stable code; more may come."""
    text: str
    """The change and its effect in a sentence."""
    hand_force: Quantity
    """Peak force at the grip with it, at the same pressure."""
    ceiling: Quantity
    """The practical ceiling with it."""


class Inertia(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What it takes to accelerate the water in drop pipe, hose and service line, every stroke.

    A bound: it is what a crank would take, and a hand ramps up more gently. It peaks at the ends of the
    stroke and friction in the middle, so the two are combined by phase.
    """

    drop_pipe_head: Quantity
    """Peak acceleration head of the water in the drop pipe."""
    conduit_head: Quantity
    """The same beyond the pump outlet; none behind an air chamber."""
    hydraulic_institute_head: Quantity
    """Cross-check: both by the Hydraulic Institute's formula, simplex single-acting."""
    hand_force: Quantity
    """What inertia adds to the peak force at the grip at the end of the fill."""
    governs: bool
    """Whether it adds enough to matter."""
    remedies: tuple[Remedy, ...]
    """What would help, where it governs."""


class MaterialChoice(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The same pump with another material of the same dimensions."""

    rod_material: str
    """Material of the rod."""
    drop_pipe_material: str
    """Material of the drop pipe."""
    effective_stroke: Quantity
    """Stroke that is left at the target pressure."""
    share: float
    """The same as a share of the full stroke."""


class Stretch(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What rod and drop pipe take of the stroke as the load comes and goes, at the end of the fill."""

    rod: Quantity
    """Stretch of the rod."""
    drop_pipe: Quantity
    """Stretch of the drop pipe."""
    effective_stroke: Quantity
    """Stroke that is left."""
    share: float
    """The same as a share of the full stroke."""
    weep_hole_loss: Quantity
    """Water per stroke lost through the weep hole, what the drop pipe gives as it bleeds included."""
    choices: tuple[MaterialChoice, ...]
    """Other materials compared, where the stretch matters."""


class SuctionHead(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Net positive suction head line by line, at the cadence kept at the target."""

    atmospheric_head: Quantity
    """Pressure of the atmosphere at this altitude, as head of water."""
    vapour_head: Quantity
    """Vapour pressure of the water, as head."""
    suction_lift: Quantity
    """From the pumping water level up to the cylinder."""
    friction: Quantity
    """Friction in the suction pipe at the worst moment of the stroke."""
    acceleration_head: Quantity
    """Inertia of the water in it at that moment."""
    available: Quantity
    """NPSH available: the first less the others."""
    required: Quantity
    """What the pump needs."""
    margin: Quantity
    """Available less required; negative: the water column breaks."""
    greatest_suction_lift: Quantity
    """The most that a suction pump can lift at this site."""


class SessionColumns(Table, frozen=True, kw_only=True, omit_defaults=True):
    """Each session, the first 40 where there are more; all columns have the same length."""

    pressure: Series
    """Gauge pressure at its end."""
    strokes: Series
    """Strokes in it."""
    time: Series
    """Its time, rests between strokes included."""
    water: Series
    """Water that it brings."""
    body_energy: Series
    """What the body burns for it, all people together."""


class SessionPlan(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How a fill divides into sessions at the pump."""

    count: int
    """Number of sessions."""
    people: int
    """People who take turns within each."""
    longest: Quantity
    """The longest that a session may take, all turns together."""
    sessions: SessionColumns

    findings: tuple[Finding, ...]

    well_recovery: Quantity | None = None
    """Longest time for the well to recover after a session, where it yields less than is taken."""
    well_volume: Quantity | None = None
    """Water that the well gives before it runs dry."""
    flow: Quantity
    """Mean flow of the fill, rests included."""


class Use(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What the water of one fill covers."""

    code: str
    """Stable code; more may come."""
    text: str
    """In words, to follow the whole number of `count`."""
    count: float
    """How many of them one fill covers."""
    basis: Source
    """Where the volume of one comes from."""
    to_pressure: Quantity | None = None
    """Gauge pressure at the tank down to which this works; left out of an open tank."""
    flow: Quantity | None = None
    """Flow at the fixture right after a fill; left out of an open tank."""
    last_flow: Quantity | None = None
    """Flow at the fixture at the pressure down to which it works; it falls with its root."""


class Reserve(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Usable water of one fill."""

    summary: str
    """The whole in a sentence."""
    water: Quantity
    """Water above the pressure that the least demanding fixture needs; of an open tank all of it."""
    from_pressure: Quantity
    """Where a fill ends."""
    to_pressure: Quantity
    """Precharge, or the least pressure that fixtures need if higher."""
    covers: tuple[Use, ...]
    """Alternatives, not a sum."""
    serving_tank: Quantity | None = None
    """Total volume of the tank, air and water together, whose fill would be good for one toilet flush.

    Left out where this one's is, or where no tank's would be.
    """
    findings: tuple[Finding, ...]
    """What falls short."""


class NeedLine(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What one kind of people, use or animal needs every day."""

    code: str
    """The level, the use or the kind of animal."""
    text: str
    """In words."""
    varies: str | None = None
    """In words, what makes low and high differ; left out where they don't."""
    count: float
    """How many of them."""
    each: Quantity
    """Usual water of one."""
    daily: Quantity
    """Usual water of all of them."""
    low: Quantity
    """The same where little is needed: cool weather, dry animals."""
    high: Quantity
    """The same where much is needed: hot weather, nursing animals."""
    basis: tuple[Source, ...]
    """Where these figures come from, low to high."""


class DailyNeeds(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What people, uses and animals need every day, and how much pumping that is."""

    summary: str
    """The whole in a sentence or two."""
    lines: tuple[NeedLine, ...]
    """One for each kind; empty where nothing needs water."""
    total: Quantity
    """Usual water of all lines."""
    low: Quantity
    """The same where little is needed."""
    high: Quantity
    """The same where much is needed."""
    fills_a_day: float | None = None
    """Total over the water of one fill; left out where a fill gives none."""
    strokes_a_day: float | None = None
    """Full cycles of the handle."""
    minutes_a_day: Quantity | None = None
    """Time at the handle, rests within a fill included, tiredness of a long day not."""
    findings: tuple[Finding, ...]
    """What a day of pumping asks for."""


class HookupWay(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A way to connect that these facts allow."""

    way: str
    """What to connect to: tee, tank_drain, yard_hydrant, spigot, or open_end; more may come."""
    name: str
    """The same in words."""
    text: str
    """How it works."""
    connection: int | None = None
    """Index in the request's site.connections; left out where none is listed."""
    verdict: str
    """'possible_with_conditions': not to be done unless every one of the conditions is met.

    Known words: advised, possible_with_conditions; more may come.
    """
    conditions: tuple[HookupTask, ...]
    """What has to be true or done first."""
    advantages: tuple[HookupPoint, ...]
    """What speaks for it."""
    drawbacks: tuple[HookupPoint, ...]
    """What speaks against it."""
    checks: tuple[HookupTask, ...]
    """What to look at before any work, at the well too."""
    parts: tuple[HookupPart, ...]
    """What to have at hand."""


class Part(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A part to quote."""

    sku: str
    """The catalogue's number for it."""
    name: str
    """What it is, for a reader."""
    quantity: int
    """How many of it."""
    price: float | None = None
    """Price of one; left out where the catalogue has none."""
    currency: str | None = None
    """Currency of the price, ISO 4217."""
    lead_time_days: int | None = None
    """Days until it can be delivered; left out where the catalogue does not say."""


class DepthTable(Table, frozen=True, kw_only=True, omit_defaults=True):
    """What would fit at each static water level, where nobody knows it; columns of the same length."""

    static_water_level: Series
    """The depths, below ground at the well."""
    fitting: Series
    """Number of cylinders that fit, with or without limits."""
    best: tuple[str, ...]
    """Id of the best one; empty where none fits."""
    hand_force: Series
    """Its hand force at the end of a fill; 0 where none fits."""
    time: Series
    """Its time for a fill; 0 where none fits."""


class Sizing(Displayed, frozen=True, kw_only=True, omit_defaults=True):
    """The whole sizing."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    verdict: str
    """'needs_facts': no honest answer without the facts that the questions ask for.

    Known words: fits, fits_with_limits, needs_facts, nothing_fits; more may come.
    """
    summary: str
    """The verdict in a sentence or two."""
    recommended: str | None = None
    """Id of the recommended cylinder."""
    catalogue: CatalogueUsed

    candidates: tuple[Candidate, ...]
    """Best first; empty where facts are needed."""
    cautions: tuple[Caution, ...]

    assumptions: tuple[Assumption, ...]

    questions: tuple[Question, ...]

    curve: FillColumns | None = None
    """The recommended cylinder's fill."""
    inertia: Inertia | None = None
    """Of the recommended cylinder."""
    stretch: Stretch | None = None
    """Of the recommended cylinder."""
    suction: SuctionHead | None = None
    """Of the recommended cylinder, a suction pump."""
    sessions: SessionPlan | None = None
    """Of the recommended cylinder."""
    reserve: Reserve | None = None
    """What one fill gives."""
    needs: DailyNeeds | None = None
    """What every day asks for, where the request states needs."""
    hookup: HookupWay | None = None
    """The best way to connect it; left out where nothing is advised."""
    procedure: tuple[HookupStep, ...] | None = None
    """What to do, in order."""
    parts: tuple[Part, ...] | None = None
    """What to quote."""
    depth_table: DepthTable | None = None


class SizedLineInFull(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A line that was sized, answered in full."""

    line: int
    """Number of the line in the body, from 1; blank lines and defaults count."""
    client_reference: str | None = None
    """The caller's own reference, as sent in the line."""
    result: Sizing


class RefusedLine(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A line that could not be sized; the others are."""

    line: int
    """Number of the line in the body, from 1; blank lines and defaults count."""
    client_reference: str | None = None
    """The caller's own reference, as sent in the line."""
    problem: Problem


class BatchCounts(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What became of the lines of a batch."""

    sized: int
    """Lines answered with a result."""
    refused: int
    """Lines answered with a problem."""


class BatchEnd(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The last line: without it the answer is cut off."""

    end: BatchCounts

    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What these answers are, and what they are not."""


class StrokeEstimate(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One cylinder's estimate."""

    cylinder: CylinderRef

    fill: FillTotals

    effort: Effort

    ceiling: Ceiling

    curve: FillColumns

    inertia: Inertia

    stretch: Stretch

    suction: SuctionHead | None = None
    """Of a suction pump."""
    sessions: SessionPlan

    findings: tuple[Finding, ...]


class StrokeEstimates(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Stroke estimates, in the order of the cylinders' ids."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    catalogue: CatalogueUsed

    stroke_estimates: tuple[StrokeEstimate, ...]

    assumptions: tuple[Assumption, ...]


class TankColumns(Table, frozen=True, kw_only=True, omit_defaults=True):
    """Points along a fill; all columns have the same length."""

    pressure: Series
    """Gauge pressure."""
    stored_water: Series
    """Water in the tank."""
    drawdown: Series
    """Water gained since the start."""
    drawdown_factor: Series
    """The same as a share of the tank's total volume."""
    water_per_pressure: Series
    """Water gained per unit of pressure at this point."""


class GasBand(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How far water and pressure lie apart between a slow fill and a fast one.

    Slow: the air keeps its temperature, a gas exponent of 1. Fast: it gives off no heat, 1.4. Every
    fill lies in between; one by hand lies close to the slow one.
    """

    text: str
    """The band in words."""
    gas_exponent: float
    """The exponent that the rest of the answer counts with."""
    slow_drawdown: Quantity
    """Water between start and end in a slow fill."""
    fast_drawdown: Quantity
    """The same in a fast one."""
    slow_pressure: Quantity
    """Where a slow fill brings the gauge with the water that the curve ends with."""
    fast_pressure: Quantity
    """Where a fast one brings it; it falls back to slow_pressure as the air cools."""


class TankCurve(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """How much water a tank holds at each pressure."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    curve: TankColumns

    start: Quantity
    """Where the curve begins."""
    end: Quantity
    """Where it ends: the target, or a limit that comes first."""
    precharge: Quantity
    """Air pressure of the empty tank, at the temperature of its air now.

    Negative where its air would not fill it without pressure.
    """
    atmospheric_pressure: Quantity
    """Absolute pressure of the air around, at the site's elevation."""
    usable_drawdown: Quantity
    """Water between start and end."""
    total_volume: Quantity
    """All tanks, air and water together."""
    gas_band: GasBand

    pressure_at_stored_volume: Quantity | None = None
    """Where the tank holds the stored_volume asked about; left out where it can't."""
    total_volume_for_drawdown: Quantity | None = None
    """Total volume that gives the wanted_drawdown between start and end; left out where none does."""
    tanks_for_drawdown: int | None = None
    """How many tanks like this one do."""
    findings: tuple[Finding, ...]

    assumptions: tuple[Assumption, ...]


class UnitEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A unit: SI value = scale × value + offset."""

    unit: str
    """Name of the unit in requests and answers."""
    scale: float
    """SI value of one of the unit."""
    offset: float
    """SI value of zero of the unit; 0 except for temperatures."""


class DimensionEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A dimension with its accepted units."""

    dimension: str
    """Name of the dimension."""
    si_unit: str
    """Unit that scale and offset lead to."""
    units: tuple[UnitEntry, ...]
    """Every unit of the dimension that the service knows."""


class InputEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A kind of input with its bounds in each unit."""

    name: str
    """Name of the schema of this kind of input."""
    dimension: str
    """Its dimension."""
    unit: str
    """Unit of the bounds."""
    lowest: float
    """Least value that is accepted in this unit."""
    highest: float
    """Greatest value that is accepted in this unit."""


class OutputEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A kind of output with its unit in each system."""

    name: str
    """Name of the schema of this kind of output."""
    dimension: str
    """Its dimension."""
    us: str
    """Its unit in the 'us' system."""
    si: str
    """Its unit in the 'si' system."""


class UnitList(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Units, the bounds of inputs, and the units of answers."""

    dimensions: tuple[DimensionEntry, ...]

    inputs: tuple[InputEntry, ...]
    """Every kind of input, once for each of its units."""
    outputs: tuple[OutputEntry, ...]
    """Every kind of output."""


class WaterNeeds(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What is needed every day, what one fill gives, and what pumping it takes."""

    calculation_id: str
    """The same for the same facts, catalogue, units, language and model version."""
    model_version: str
    """Version of the models and their coefficients."""
    scope: str
    """What this answer is, and what it is not."""
    client_reference: str | None = None
    """The caller's own reference, as sent."""
    catalogue: CatalogueUsed

    recommended: str | None = None
    """Id of the cylinder that strokes and minutes are for.

    Left out where none fits or the static water level is not known.
    """
    needs: DailyNeeds

    reserve: Reserve

    findings: tuple[Finding, ...]
    """Why figures are missing."""
    assumptions: tuple[Assumption, ...]

    questions: tuple[Question, ...]


class UseEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What one use of water takes, and what its fixture needs."""

    code: str
    """The kind of a use."""
    text: str
    """In words."""
    volume: Quantity
    """Water of one use."""
    minimum_pressure: Quantity
    """Least flowing pressure at the fixture."""
    height: Quantity
    """Height of the fixture above the floor, where nobody measured it."""
    flow: Quantity
    """Flow at flow_pressure; at other pressures it goes with their root."""
    flow_pressure: Quantity
    """Flowing pressure at the fixture for that flow."""
    basis: tuple[FigureBasis, ...]
    """What each figure rests on."""


class NeedFigure(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A published figure of water per head and day."""

    volume: Quantity
    """Water per head and day."""
    text: str
    """Whom or what it is for."""
    basis: Source
    """Who published it."""


class NeedEntry(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What one head of people or livestock needs per day."""

    code: str
    """The level of needs.level, or the kind of a herd."""
    text: str
    """In words."""
    low: NeedFigure

    usual: NeedFigure

    high: NeedFigure


class WaterUseList(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The published figures behind water needs."""

    uses: tuple[UseEntry, ...]
    """Uses of water in a household."""
    people: tuple[NeedEntry, ...]
    """Water per person, by level."""
    livestock: tuple[NeedEntry, ...]
    """Water per animal, by kind."""
