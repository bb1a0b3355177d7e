"""From rows to sites: the rules of ``api/translate.py`` for many sites at a time."""

from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec
import numpy as np
from msgspec import UNSET

from upstroke_service.api.assumed import Reading, block
from upstroke_service.api.bounds import to_si
from upstroke_service.api.needs import read_needs
from upstroke_service.api.operators import DEFAULT_PROFILE
from upstroke_service.api.translate import (
    ASSUMED_FITTINGS,
    ASSUMED_HOSE,
    CASING_CLEARANCE,
    read_site,
    read_surroundings,
)
from upstroke_service.contract.facts import Conduit
from upstroke_service.contract.premises import Needs
from upstroke_service.contract.quantities import Rise
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.physics import friction
from upstroke_service.physics.fittings import head_loss
from upstroke_service.physics.real import Array, Real
from upstroke_service.reference.fittings import resistance_coefficient
from upstroke_service.reference.operators import PROFILES, OperatorProfile
from upstroke_service.reference.roughness import roughness
from upstroke_service.sizing import defaults
from upstroke_service.sizing.circumstances import of_site
from upstroke_service.sizing.facts import UNLIMITED, Flags, Run, Site, water_at

from .columns import fact_columns
from .facts import Facts, either
from .gaps import EVERYWHERE, NOWHERE, Gaps
from .premises import read_premise

_RUN = "/conduit/runs/0"
_ELECTRIC = "/site/electric_pump"
OF_CONNECTIONS = frozenset({"bare_spigot", "sanitary_hydrant", "vacuum_breaker_possible", "weeping_hydrant"})
"""Circumstances that come with where a hose could be connected, which no row says."""
_NO_RUN = Run(0.02, 0.0, 0.0)
_UNSAID = ("/well/static_water_level", "/pump/cylinder_depth", "/well/sustained_yield",
           "/well/casing_inside_diameter")  # fmt: skip
"""Facts without a default: what they are taken for says that nobody knows them."""
_UNANSWERED = ("/site/public_water_connection", "/site/freezes", "/conduit/air_chamber")


class Rows(NamedTuple):
    """Rows read: one site with a value or an array of (rows,) for each fact, and what was assumed.

    ``floor_rise`` in m is the height of the floor with the fixtures above the tank's gauge; ``hose`` tells
    whether any of the way to the tank is one.
    """

    site: Site
    floor_rise: Real
    hose: Flags
    gaps: Gaps


class Template:
    """The request that says what all rows share, with what follows from it for every row."""

    def __init__(self, request: SizingRequest) -> None:
        """Read it once. What it contradicts is found by row: a row's own fact may put it right."""
        self.request = request
        self.conduit = block(request.conduit, Conduit)
        site = read_site(request, Reading())
        self.later_runs = site.runs[1:]
        reading = Reading()
        read_needs(
            msgspec.structs.replace(block(request.needs, Needs), floor_rise=Rise(0.0, "m")), site, reading
        )
        self.needs_assumed = tuple(reading.assumed)
        # Of an open tank they would not be told.
        closed = msgspec.structs.replace(request, tank=UNSET, pressures=UNSET)
        site = read_site(closed, Reading())
        around = read_surroundings(closed, site, lift_pump=True)
        self.connections = of_site(around, site) & OF_CONNECTIONS


def read_rows(facts: Facts, template: Template) -> Rows:
    """The sites of all rows; contradictions are noted, and what comes of such rows means nothing."""
    gaps = Gaps(facts)
    site = _site(gaps, template)
    return Rows(site, _floor_rise(gaps, template, site.open), _hose(gaps, template.conduit), gaps)


def _site(gaps: Gaps, template: Template) -> Site:
    facts = gaps.facts
    elevation = gaps.number("/well/site_elevation")
    water = water_at(gaps.number("/well/water_temperature"), elevation)
    premise = read_premise(gaps, water.atmospheric_pressure)
    _require_consistent_depths(gaps)
    drawdown, per_flow = _drawdown(gaps)
    runs, some_run = _runs(gaps, template)
    rise = gaps.number("/conduit/rise")
    for pointer in _UNSAID:
        gaps.assume(pointer, ~gaps.known(pointer))
    for pointer in _UNANSWERED:
        gaps.assume(pointer, facts.is_unknown(pointer))
    return Site(
        water=water,
        static_water_level=gaps.given("/well/static_water_level", 0.0),
        well_drawdown=drawdown,
        drawdown_per_flow=per_flow,
        casing_area=_casing_area(gaps),
        sustained_yield=gaps.given("/well/sustained_yield", UNLIMITED),
        outlet_height=gaps.number("/pump/outlet_height"),
        rise=rise,
        cylinder_depth=gaps.given("/pump/cylinder_depth", 0.0),
        runs=runs,
        fittings=_fittings(gaps, template.conduit, runs, some_run),
        check_valve=~facts.is_word("/conduit/check_valve", "no"),
        cracking_pressure=_cracking_pressure(gaps),
        air_chamber=facts.is_word("/conduit/air_chamber", "yes"),
        hose_rating=_hose_rating(gaps, water.specific_weight * rise),
        casing_room=_casing_room(gaps),
        **premise._asdict(),
        **_operator(gaps),
    )


def _require_consistent_depths(gaps: Gaps) -> None:
    water, well, hung, lowered = (
        "/well/static_water_level", "/well/well_depth", "/pump/cylinder_depth", "/well/well_drawdown",
    )  # fmt: skip
    level, bottom, depth, drawdown = (
        np.asarray(gaps.given(one, 0.0)) for one in (water, well, hung, lowered)
    )
    both = gaps.known(water) & gaps.known(well)
    above = both & (level >= bottom)
    gaps.contradict(above, water, well)
    gaps.contradict(both & ~above & gaps.known(lowered) & (level + drawdown >= bottom), lowered, well)
    gaps.contradict(gaps.known(hung) & gaps.known(well) & (depth > bottom), hung, well)
    gaps.contradict(gaps.known(hung) & gaps.known(water) & (depth <= level), hung, water)


def _drawdown(gaps: Gaps) -> tuple[Real, Real]:
    stated, capacity = gaps.known("/well/well_drawdown"), "/well/specific_capacity"
    per_flow = 1.0 / np.asarray(gaps.number(capacity, ~stated))
    return gaps.given("/well/well_drawdown", 0.0), either(stated, 0.0, per_flow)


def _casing_area(gaps: Gaps) -> Real:
    pointer = "/well/casing_inside_diameter"
    casing = friction.circular_area(gaps.given(pointer, 0.0))
    pipe = friction.circular_area(gaps.given(f"{_ELECTRIC}/drop_pipe_outside_diameter", 0.0))
    return np.maximum(casing - pipe, 0.25 * casing)


def _casing_room(gaps: Gaps) -> Real:
    present = gaps.known(f"{_ELECTRIC}/present") & ~gaps.facts.is_word(f"{_ELECTRIC}/present", "no")
    pipe, cable = (
        gaps.given(f"{_ELECTRIC}/{name}", 0.0) for name in ("drop_pipe_outside_diameter", "cable_diameter")
    )
    casing = gaps.given("/well/casing_inside_diameter", 0.0)
    room = casing - either(present, pipe + cable, 0.0) - CASING_CLEARANCE
    return either(gaps.known("/well/casing_inside_diameter"), room, UNLIMITED)


def _hose_rating(gaps: Gaps, column: Real) -> Real:
    pointer = "/conduit/hose_pressure_rating"
    rating = np.maximum(gaps.given(pointer, 0.0) - np.maximum(column, 0.0), 0.0)
    return either(gaps.known(pointer), rating, UNLIMITED)


def _runs(gaps: Gaps, template: Template) -> tuple[tuple[Run, ...], Flags]:
    """The runs of each row, and where there is any."""
    known, shared = gaps.known(f"{_RUN}/inside_diameter"), template.conduit.runs
    if shared is UNSET:
        gaps.assume("/conduit/runs", ~known)
    elif not shared and not known.any():
        return (), NOWHERE
    usual = ASSUMED_HOSE if shared is UNSET else _NO_RUN
    if shared and shared[0].roughness is not UNSET:
        rough: Any = to_si(shared[0].roughness)
    else:
        words = fact_columns()[f"{_RUN}/material"].words
        each = np.array([roughness(word) for word in words])
        place = np.asarray(gaps.given(f"{_RUN}/material", words.index("hose")))
        rough = each[place.astype(np.int64)]
    first = Run(
        inside_diameter=gaps.given(f"{_RUN}/inside_diameter", usual.inside_diameter),
        length=gaps.given(f"{_RUN}/length", usual.length),
        roughness=either(known, rough, usual.roughness),
    )
    return (first, *template.later_runs), EVERYWHERE if shared is UNSET else known


def _hose(gaps: Gaps, conduit: Conduit) -> Flags:
    material = f"{_RUN}/material"
    known = gaps.known(f"{_RUN}/inside_diameter")
    first = known & (~gaps.known(material) | gaps.facts.is_word(material, "hose"))
    if conduit.runs is UNSET:
        return first | ~known
    return first | any(run.material == "hose" for run in conduit.runs[1:])


def _fittings(gaps: Gaps, conduit: Conduit, runs: tuple[Run, ...], some_run: Flags) -> Real:
    """Sum of K/(2·g·A²) over all fittings, s²/m⁵."""
    bore = either(some_run, runs[0].inside_diameter if runs else 0.0, ASSUMED_HOSE.inside_diameter)
    if conduit.fittings is UNSET:
        gaps.assume("/conduit/fittings", some_run)
        kinds = [(kind, count, bore) for kind, count in ASSUMED_FITTINGS]
    else:
        kinds = [
            (one.kind, one.count, bore if one.inside_diameter is UNSET else to_si(one.inside_diameter))
            for one in conduit.fittings
        ]
    total: Real = 0.0
    for kind, count, own in kinds:
        area = friction.circular_area(own)
        # The loss goes with the square of the flow, so that of 1 m³/s is the coefficient.
        total = total + count * head_loss(1.0, area, resistance_coefficient(kind))
    return either(some_run, total, 0.0) if conduit.fittings is UNSET else total


def _cracking_pressure(gaps: Gaps) -> Real:
    valve, cracking = "/conduit/check_valve", "/conduit/cracking_pressure"
    absent = gaps.facts.is_word(valve, "no")
    gaps.assume(valve, gaps.facts.is_unknown(valve))
    gaps.contradict(absent & gaps.known(cracking), valve, cracking)
    return either(absent, 0.0, gaps.number(cracking, ~absent))


def _operator(gaps: Gaps) -> dict[str, Any]:
    """Who pumps, as fields of a site."""
    pointer = "/operator/profile"
    gaps.assume(pointer, ~gaps.known(pointer))
    words = fact_columns()[pointer].words
    place = np.asarray(gaps.given(pointer, words.index(DEFAULT_PROFILE))).astype(np.int64)

    def by_profile(figure: Callable[[OperatorProfile], float]) -> Real:
        each: Array = np.array([figure(PROFILES[word]) for word in words])
        return each[place]

    def chosen(field: str, figure: Callable[[OperatorProfile], float]) -> Real:
        gaps.assume(field, ~gaps.known(field))
        return gaps.given(field, by_profile(figure))

    limit = chosen("/operator/hand_force_limit", lambda one: one.hand_force_limit.value)
    return {
        "power": chosen("/operator/sustained_power", lambda one: one.power_at_fifteen_minutes.value),
        "tires": ~gaps.known("/operator/sustained_power"),
        "people": gaps.number("/operator/people"),
        "session": chosen("/operator/session", lambda one: one.longest_session.value),
        "hand_force_limit": limit,
        "comfortable_hand_force": np.minimum(limit, by_profile(lambda one: one.repeated_hand_force.value)),
        "cadence": chosen("/operator/cadence", lambda one: one.cadence),
    }


def _floor_rise(gaps: Gaps, template: Template, opened: Any) -> Real:
    """Where the water is used; of rows without a depth to the water nothing is assumed unless they state needs."""
    pointer = "/needs/floor_rise"
    known, level = gaps.known(pointer), gaps.known("/well/static_water_level")
    stated = NOWHERE if template.request.needs is UNSET else EVERYWHERE
    stated = np.asarray(stated | known)
    gaps.assume(pointer, ~known & ~opened & (stated | level))
    for one in template.needs_assumed:
        gaps.assume(one, stated)
    return gaps.given(pointer, either(opened, 0.0, defaults.number(pointer)))
