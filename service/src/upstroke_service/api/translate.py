"""From a request to the facts of a sizing: units become SI once, and every gap becomes an assumption."""

import functools

from msgspec import UNSET

from upstroke_service.contract.facts import Conduit, Fitting, Pump, Run, Well
from upstroke_service.contract.premises import ElectricPump, Operator, Premises, Tank
from upstroke_service.contract.requests import SiteRequest
from upstroke_service.physics import friction
from upstroke_service.physics.fittings import head_loss
from upstroke_service.reference.fittings import resistance_coefficient
from upstroke_service.reference.roughness import roughness
from upstroke_service.sizing import facts
from upstroke_service.sizing.circumstances import Connection, Surroundings
from upstroke_service.sizing.facts import UNLIMITED, Site, Water
from upstroke_service.units import UNITS

from .assumed import Reading, block, known
from .bounds import to_si
from .operators import read_operator
from .pressures import read_premise

_INCH = UNITS["length"]["in"].scale
_FOOT = UNITS["length"]["ft"].scale

CASING_CLEARANCE = 0.25 * _INCH
"""Room in m that has to stay between what hangs in a casing. Common practice, no source."""

ASSUMED_HOSE = facts.Run(0.75 * _INCH, 50.0 * _FOOT, roughness("hose"))
ASSUMED_FITTINGS = (("elbow_90", 3), ("gate_valve", 1))


@functools.lru_cache(maxsize=256)
def _water(temperature: float, elevation: float) -> Water:
    return facts.water_at(temperature, elevation)


def read_water(well: Well, reading: Reading) -> Water:
    """Water and atmosphere at the site."""
    temperature = reading.number(well.water_temperature, "/well/water_temperature")
    return _water(temperature, reading.number(well.site_elevation, "/well/site_elevation"))


def read_site(request: SiteRequest, reading: Reading) -> Site:
    """The site, with the water at ground where its level is assumed unknown; contradictions are noted."""
    well = block(request.well, Well)
    pump = block(request.pump, Pump)
    conduit = block(request.conduit, Conduit)
    premise = read_premise(request, reading)
    people = read_operator(block(request.operator, Operator), reading)
    level = reading.given(well.static_water_level)
    if level is None:
        reading.assume("/well/static_water_level")
    casing_area = _casing_area(well, block(request.site, Premises), reading)
    drawdown, per_flow = _drawdown(well, reading)
    depth = reading.given(pump.cylinder_depth)
    if depth is None:
        reading.assume("/pump/cylinder_depth")
    _require_consistent_depths(
        level, reading.given(well.well_drawdown), depth, reading.given(well.well_depth), reading
    )
    if known(block(request.site, Premises).public_water_connection) == "unknown":
        reading.assume("/site/public_water_connection")
    if known(block(request.site, Premises).freezes) == "unknown":
        reading.assume("/site/freezes")
    runs = _runs(conduit, reading)
    water = read_water(well, reading)
    rise = reading.number(conduit.rise, "/conduit/rise")
    sustained = reading.given(well.sustained_yield)
    if sustained is None:
        reading.assume("/well/sustained_yield")
    return Site(
        water=water,
        static_water_level=0.0 if level is None else level,
        well_drawdown=drawdown,
        drawdown_per_flow=per_flow,
        casing_area=casing_area,
        sustained_yield=UNLIMITED if sustained is None else sustained,
        outlet_height=reading.number(pump.outlet_height, "/pump/outlet_height"),
        rise=rise,
        cylinder_depth=depth,
        runs=runs,
        fittings=_fittings(conduit, runs, reading),
        check_valve=known(conduit.check_valve) != "no",
        cracking_pressure=_cracking_pressure(conduit, reading),
        air_chamber=_air_chamber(conduit, reading),
        open=premise.open,
        tank_volume=premise.tank_volume,
        precharge=premise.precharge,
        gas_exponent=premise.gas_exponent,
        start=premise.start,
        target=premise.target,
        power=people.power,
        tires=block(request.operator, Operator).sustained_power is UNSET,
        people=people.people,
        session=people.session,
        hand_force_limit=people.hand_force_limit,
        comfortable_hand_force=people.repeated_hand_force,
        cadence=people.cadence,
        tank_rating=premise.tank_rating,
        tank_acceptance=premise.acceptance,
        relief_valve=premise.relief_valve,
        hose_rating=_hose_rating(conduit, float(water.specific_weight) * rise, reading),
        highest_known_safe=premise.highest_known_safe,
        casing_room=_casing_room(well, block(request.site, Premises), reading),
    )


def _hose_rating(conduit: Conduit, column: float, reading: Reading) -> float:
    """Tank pressure in Pa at which a hose that begins at the pump outlet stands at its rating.

    It bears the ``column`` of water in Pa up to the tank as well.
    """
    rating = reading.given(conduit.hose_pressure_rating)
    return UNLIMITED if rating is None else max(rating - max(column, 0.0), 0.0)


def _drawdown(well: Well, reading: Reading) -> tuple[float, float]:
    """Stated well drawdown in m, or drawdown per flow in s/m²."""
    stated = reading.given(well.well_drawdown)
    capacity = reading.given(well.specific_capacity)
    if stated is not None:
        return stated, 0.0
    if capacity is not None:
        return 0.0, 1.0 / capacity
    return 0.0, 1.0 / reading.number(UNSET, "/well/specific_capacity")


def _casing_area(well: Well, premises: Premises, reading: Reading) -> float:
    """Open area of the casing in m² around an electric pump's pipe; 0 where its diameter is unknown."""
    casing = reading.given(well.casing_inside_diameter)
    if casing is None:
        return 0.0
    electric = premises.electric_pump
    pipe = reading.given(electric.drop_pipe_outside_diameter) if isinstance(electric, ElectricPump) else None
    open_area = friction.circular_area(casing) - friction.circular_area(pipe or 0.0)
    return max(float(open_area), 0.25 * float(friction.circular_area(casing)))


def _require_consistent_depths(
    level: float | None,
    drawdown: float | None,
    cylinder: float | None,
    bottom: float | None,
    reading: Reading,
) -> None:
    water, well, hung = "/well/static_water_level", "/well/well_depth", "/pump/cylinder_depth"
    if level is not None and bottom is not None and level >= bottom:
        reading.contradict("level_and_bottom", water, well)
    elif level is not None and bottom is not None and drawdown is not None and level + drawdown >= bottom:
        reading.contradict("pumping_level_and_bottom", "/well/well_drawdown", well)
    if cylinder is not None and bottom is not None and cylinder > bottom:
        reading.contradict("cylinder_and_bottom", hung, well)
    if cylinder is not None and level is not None and cylinder <= level:
        reading.contradict("cylinder_and_level", hung, water)


def _runs(conduit: Conduit, reading: Reading) -> tuple[facts.Run, ...]:
    if conduit.runs is UNSET:
        reading.assume("/conduit/runs", float(ASSUMED_HOSE.length), other=float(ASSUMED_HOSE.inside_diameter))
        return (ASSUMED_HOSE,)
    return tuple(_run(run, reading) for run in conduit.runs)


def _run(run: Run, reading: Reading) -> facts.Run:
    stated = reading.given(run.roughness)
    return facts.Run(
        inside_diameter=reading.required(run.inside_diameter),
        length=reading.required(run.length),
        roughness=roughness(run.material) if stated is None else stated,
    )


def _fittings(conduit: Conduit, runs: tuple[facts.Run, ...], reading: Reading) -> float:
    """Sum of K/(2·g·A²) over all fittings, s²/m⁵."""
    bore = runs[0].inside_diameter if runs else ASSUMED_HOSE.inside_diameter
    if conduit.fittings is UNSET:
        if not runs:
            return 0.0
        reading.assume("/conduit/fittings")
        fittings = [Fitting(kind=kind, count=count) for kind, count in ASSUMED_FITTINGS]  # type: ignore[arg-type]
    else:
        fittings = conduit.fittings
    total = 0.0
    for fitting in fittings:
        own = reading.given(fitting.inside_diameter)
        area = friction.circular_area(bore if own is None else own)
        # The loss goes with the square of the flow, so that of 1 m³/s is the coefficient.
        total += float(fitting.count * head_loss(1.0, area, resistance_coefficient(fitting.kind)))
    return total


def _cracking_pressure(conduit: Conduit, reading: Reading) -> float:
    if known(conduit.check_valve) == "unknown":
        reading.assume("/conduit/check_valve")
    if known(conduit.check_valve) == "no":
        if conduit.cracking_pressure is not UNSET:
            reading.contradict(
                "check_valve",
                "/conduit/check_valve",
                "/conduit/cracking_pressure",
            )
        return 0.0
    return reading.number(conduit.cracking_pressure, "/conduit/cracking_pressure")


def _air_chamber(conduit: Conduit, reading: Reading) -> bool:
    if known(conduit.air_chamber) == "unknown":
        reading.assume("/conduit/air_chamber")
    return known(conduit.air_chamber) == "yes"


def _casing_room(well: Well, premises: Premises, reading: Reading) -> float:
    """Greatest outside diameter in m that the casing has room for, beside an electric pump's pipe."""
    casing = reading.given(well.casing_inside_diameter)
    if casing is None:
        reading.assume("/well/casing_inside_diameter")
        return UNLIMITED
    electric = premises.electric_pump
    beside = 0.0
    if isinstance(electric, ElectricPump) and electric.present != "no":
        pipe = reading.given(electric.drop_pipe_outside_diameter)
        cable = reading.given(electric.cable_diameter)
        beside = (pipe or 0.0) + (cable or 0.0)
    return casing - beside - CASING_CLEARANCE


def read_surroundings(
    request: SiteRequest, site: Site, *, lift_pump: bool, invented: bool = False, proposed: bool = True
) -> Surroundings:
    """What cautions need to know of the site; ``proposed`` is false where no pump fits it."""
    well = block(request.well, Well)
    premises = block(request.site, Premises)
    conduit = block(request.conduit, Conduit)
    tank = block(request.tank, Tank)
    electric = premises.electric_pump
    connections = () if premises.connections is UNSET else premises.connections
    relief = premises.relief_valve
    fitted = "unknown" if relief is UNSET else relief.fitted
    profile = block(request.operator, Operator).profile
    key_facts = (well.static_water_level, well.casing_inside_diameter, tank.total_volume)
    tests = (well.sustained_yield, well.specific_capacity, well.well_drawdown)
    return Surroundings(
        pump_proposed=proposed,
        lift_pump=lift_pump,
        key_facts_known=all(fact is not UNSET for fact in key_facts),
        level_known=well.static_water_level is not UNSET,
        well_tested=any(fact is not UNSET for fact in tests),
        freezes=known(premises.freezes),
        frost_depth=0.0 if premises.frost_depth is UNSET else to_si(premises.frost_depth),
        well_pit=known(premises.well_pit),
        overhead_lines=known(premises.overhead_lines),
        electric_pump="unknown" if electric is UNSET else electric.present,
        public_main=known(premises.public_water_connection),
        water_heater="unknown" if premises.water_heater is UNSET else premises.water_heater,
        check_valve=known(conduit.check_valve),
        # A valve of unknown setting protects nobody who counts on it.
        relief_valve="unknown" if fitted == "yes" and site.relief_valve >= UNLIMITED else fitted,
        tank_kind="bladder" if tank.kind is UNSET else tank.kind,
        tank_condition="unknown" if tank.condition is UNSET else tank.condition,
        hose=conduit.runs is UNSET or any(run.material == "hose" for run in conduit.runs),
        connections=tuple(
            Connection(one.kind, known(one.vacuum_breaker), known(one.sanitary)) for one in connections
        ),
        operator_profile="unknown" if profile is UNSET else profile,
        invented_catalogue=invented,
    )
