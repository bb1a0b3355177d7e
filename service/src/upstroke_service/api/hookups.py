"""How a hand pump may be joined to a household's water: reading, deciding, answering."""

from typing import NamedTuple

from msgspec import UNSET

from upstroke_service.contract import premises as blocks
from upstroke_service.contract.facts import Conduit, Pump, Well
from upstroke_service.contract.hookup_ways import HookupStep, HookupWay
from upstroke_service.contract.hookups import Hookups
from upstroke_service.contract.quantities import Pressure
from upstroke_service.contract.requests import HookupRequest, SiteRequest
from upstroke_service.sizing import hookups
from upstroke_service.sizing.ceiling import relief_limit
from upstroke_service.sizing.facts import UNLIMITED, Site
from upstroke_service.sizing.hookup_circumstances import Answer, Outlet, Premises

from . import hookup_words
from .assumed import Assumed, Reading, block, known
from .assumptions import assumptions
from .bounds import to_si
from .compute import Context, envelope
from .style import Style
from .translate import read_site

MOST_QUESTIONS = 8

USED = ("/site/freezes", "/site/public_water_connection", "/tank/kind")
"""Pointers of the facts that decide how to connect, of those which may be assumed."""

USED_UNDER_PRESSURE = (
    "/conduit/check_valve",
    "/pressures/",
    "/site/relief_valve",
    "/site/supply",
    "/tank/maximum_working_pressure",
    "/tank/precharge",
)
"""Beginnings of the pointers of those that decide how far to pump then."""


class SizingHookup(NamedTuple):
    """The best way to connect and its steps, as a sizing shows them."""

    hookup: HookupWay
    procedure: list[HookupStep]


def advise(request: HookupRequest, context: Context) -> Hookups:
    """The ways to connect that these facts allow, best first."""
    reading = Reading()
    site = read_site(request, reading)
    reading.close()
    premises = read_premises(request, site)
    decision = hookups.decide(premises)
    style = context.style.about(open_tank=premises.open_tank)
    best = decision.ways[0] if decision.ways else None
    pressurised = best is not None and not premises.open_tank
    return Hookups(
        verdict="nothing_advised" if best is None else best.verdict,  # type: ignore[arg-type] # never a refused one
        summary=_summary(decision, style),
        stop=style.measured(Pressure, premises.stop) if pressurised else UNSET,
        ways=[hookup_words.plan(one, rank, style) for rank, one in enumerate(decision.ways, 1)],
        refused=[hookup_words.refused(one, style) for one in decision.refused],
        questions=[
            hookup_words.question(one, decision, style) for one in decision.questions[:MOST_QUESTIONS]
        ],
        assumptions=assumptions(_used(reading, premises), style),
        **envelope(request, context),
    )


def hookup_for_sizing(
    request: SiteRequest,
    site: Site,
    style: Style,
    *,
    suction: bool | None = None,
    end: float = UNLIMITED,
) -> SizingHookup | None:
    """The best way to connect the recommended cylinder and its steps; None where nothing is advised.

    ``site`` is the request as read; ``suction`` whether the cylinder stands at the surface, None where
    none is recommended; ``end`` the gauge pressure in Pa at which its fill ends.
    """
    kind = None if suction is None else ("suction" if suction else "lift")
    premises = read_premises(request, site, kind=kind, end=end)
    ways = hookups.decide(premises).ways
    if not ways:
        return None
    return SizingHookup(hookup_words.way(ways[0], style), hookup_words.steps(ways[0], style))


def _used(reading: Reading, premises: Premises) -> list[Assumed]:
    used = USED if premises.open_tank else USED + USED_UNDER_PRESSURE
    return [one for one in reading.assumed.values() if one.pointer.startswith(used)]


def _summary(decision: hookups.Decision, style: Style) -> str:
    if not decision.ways:
        first = hookup_words.refused(decision.refused[0], style)
        return style.words.say("hookup_summary", "nothing", ground=first.grounds[0].text)
    best = decision.ways[0]
    return style.words.say("hookup_summary", best.verdict, way=hookup_words.name(best, style))


def read_premises(
    request: SiteRequest, site: Site, *, kind: str | None = None, end: float = UNLIMITED
) -> Premises:
    """What a hookup depends on. ``kind`` is that of the pump, where it is known better than by the request."""
    place = block(request.site, blocks.Premises)
    tank = block(request.tank, blocks.Tank)
    stated = block(request.pump, Pump).kind
    relief = "unknown" if place.relief_valve is UNSET else place.relief_valve.fitted
    relief_known = float(site.relief_valve) < UNLIMITED
    open_tank = tank.kind == "open"
    ratings = (site.tank_rating, relief_limit(site.relief_valve), site.hose_rating, site.highest_known_safe)
    limit = 0.0 if open_tank else min(float(pressure) for pressure in ratings)
    target = 0.0 if open_tank else float(site.target)
    electric = place.electric_pump
    return Premises(
        pump=kind or ("unknown" if stated is UNSET else stated),  # type: ignore[arg-type] # one of its words
        open_tank=open_tank,
        tank_kind_known=tank.kind is not UNSET,
        tank_condition="unknown" if tank.condition is UNSET else tank.condition,
        tank_rating_known=tank.maximum_working_pressure is not UNSET,
        public_main=known(place.public_water_connection),
        electric_pump="unknown" if electric is UNSET else electric.present,
        discharge="unknown" if place.discharge is UNSET else place.discharge,
        freezes=known(place.freezes),
        frost_depth=None if place.frost_depth is UNSET else to_si(place.frost_depth),
        well_pit=known(place.well_pit),
        water_heater="unknown" if place.water_heater is UNSET else place.water_heater,
        relief_valve=_relief_valve(relief, setting_known=relief_known),
        relief_setting=float(site.relief_valve) if relief_known else None,
        check_valve=known(block(request.conduit, Conduit).check_valve),
        supply_known=_stop_is_known(place),
        casing_room=_casing_room(block(request.well, Well), place, site),
        hose_length=_planned_hose(request, open_tank=open_tank),
        bore=_bore(request),
        start=0.0 if open_tank else float(site.start),
        target=target,
        limit=limit,
        stop=min(limit, target, end),
        outlets=() if place.connections is UNSET else tuple(_outlet(one) for one in place.connections),
        unlisted=(_open_end(request),),
    )


def _relief_valve(fitted: Answer, *, setting_known: bool) -> Answer:
    """A valve of unknown setting protects nobody who counts on it."""
    return "unknown" if fitted == "yes" and not setting_known else fitted


def _stop_is_known(place: blocks.Premises) -> bool:
    """Whether the caller states the pressure at which the supply stops by itself."""
    supply = place.supply
    if isinstance(supply, blocks.ConstantPressure):
        return supply.set_pressure is not UNSET
    return isinstance(supply, blocks.PressureSwitch) and supply.cut_out is not UNSET


def _casing_room(well: Well, place: blocks.Premises, site: Site) -> float | None:
    """Room in the casing, where everything that hangs in it is known."""
    electric = place.electric_pump
    known_to_be_alone = electric is not UNSET and electric.present == "no"
    measured = electric is not UNSET and electric.drop_pipe_outside_diameter is not UNSET
    if well.casing_inside_diameter is UNSET or not (known_to_be_alone or measured):
        return None
    return float(site.casing_room)


def _planned_hose(request: SiteRequest, *, open_tank: bool) -> float | None:
    """Length of hose that the request plans with, where it can belong to one place only."""
    runs = block(request.conduit, Conduit).runs
    connections = block(request.site, blocks.Premises).connections
    alone = open_tank or (connections is not UNSET and len(connections) == 1)
    if runs is UNSET or not alone:
        return None
    return sum(to_si(run.length) for run in runs if open_tank or run.material == "hose") or None


def _open_end(request: SiteRequest) -> Outlet:
    """The end of the conduit, where it ends in the open."""
    rise = block(request.conduit, Conduit).rise
    return Outlet(
        kind="open_end", vacuum_breaker="no", sanitary="no", rise=None if rise is UNSET else to_si(rise)
    )


def _bore(request: SiteRequest) -> float | None:
    runs = block(request.conduit, Conduit).runs
    return None if runs is UNSET or not runs else to_si(runs[-1].inside_diameter)


def _outlet(connection: blocks.Connection) -> Outlet:
    return Outlet(
        kind=connection.kind,
        vacuum_breaker=known(connection.vacuum_breaker),
        sanitary=known(connection.sanitary),
        distance=None if connection.distance is UNSET else to_si(connection.distance),
        rise=None if connection.rise is UNSET else to_si(connection.rise),
    )
