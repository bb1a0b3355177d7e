"""The circumstances of a site, and of the cylinder chosen for it, that decide which cautions it calls for."""

from typing import Any, Final, Literal

import msgspec
import numpy as np

from upstroke_service.physics import tank, well
from upstroke_service.physics.friction import circular_area
from upstroke_service.physics.operator import SHORT_SPELL
from upstroke_service.physics.real import Real

from .assessment import Assessment
from .ceiling import relief_limit
from .facts import UNLIMITED, Lineup, Site

Answer = Literal["yes", "no", "unknown"]

NEAR_SUCTION_LIMIT: Final = 0.85
"""Share of the practical suction lift from which a caution is due. Common practice, no source."""

LEAST_SUBMERGENCE: Final = 3.048
"""Depth in m (10 ft) of the cylinder below the pumping level under which a caution is due. Common
practice, no source."""

AMPLE_FALL: Final = 6.096
"""Fall of the water level in m (20 ft) that a pump has to stand without a caution. Common practice, no
source."""

HIGH_STORED_SHARE: Final = 0.45
"""Share of water in a tank from which its acceptance matters. Common practice, no source; published
limits of acceptance begin at about 0.40."""

HIGHEST_HOUSE_PRESSURE: Final = 551_580.583453
"""Gauge pressure in Pa (80 psi) above which plumbing codes ask for a pressure reducing valve. Uniform
Plumbing Code, section 608.2."""

LEAST_YIELD: Final = 3.785411784e-3 / 60.0
"""Flow in m³/s (1 gal/min) that a household's well should give for hours. Code of Maryland Regulations
26.04.04.26."""

HEAVY: Final = 23.0
"""Mass in kg that one person should lift at most, in the best posture: the load constant of NIOSH 94-110."""

LIGHT_WORK: Final = 300.0
"""Time in s (5 min) up to which easy pumping is no exertion worth a caution. Common practice, no source."""

MUCH_STRETCH: Final = 0.10
"""Share of the stroke lost to stretch from which a caution is due. Common practice, no source."""

MUCH_LEAK: Final = 0.25
"""Share of a stroke's water lost through the weep hole from which a caution is due. Common practice, no
source."""

HARD_PUSH: Final = 25.0
"""Force in N at the grip on the way down from which a caution is due. Common practice, no source: some
100 N on a thin rod, which bows between its couplings."""

_EXACT = 1.0 + 1e-9


class Connection(msgspec.Struct, frozen=True):
    """A place where a hose could be connected."""

    kind: str
    vacuum_breaker: Answer
    sanitary: Answer


class Surroundings(msgspec.Struct, frozen=True, kw_only=True):
    """What a site is like, beyond the numbers of ``Site``.

    ``pump_proposed`` is false where no pump fits, so that nobody opens the well or pumps; ``lift_pump``
    tells a cylinder in the water from one at the surface. ``relief_valve`` is 'yes' only with a known
    setting. ``key_facts_known``: depth to the water, casing and size of the tank; ``well_tested``: what the
    well gives. ``frost_depth`` m, 0 where unknown.
    """

    pump_proposed: bool
    lift_pump: bool
    key_facts_known: bool
    level_known: bool
    well_tested: bool
    freezes: Answer
    frost_depth: float
    well_pit: Answer
    overhead_lines: Answer
    electric_pump: Answer
    public_main: Answer
    water_heater: Literal["electric", "gas", "none", "unknown"]
    check_valve: Answer
    relief_valve: Answer
    tank_kind: str
    tank_condition: Literal["sound", "corroded", "unknown"]
    hose: bool
    connections: tuple[Connection, ...]
    operator_profile: str
    invented_catalogue: bool


class Recommended(msgspec.Struct, frozen=True, kw_only=True):
    """What cautions need to know of the recommended cylinder and its fill, SI.

    ``seconds`` are those of one person; ``stretch_share`` and ``leak_share`` are of the stroke's water;
    ``lift_margin`` is rated lift less total head; ``string_mass`` is that of rod, drop pipe and the water
    in it; ``weep_hole_depth`` is counted from the ground down, None without one; ``well_volume`` is what
    the well gives in a session before it runs dry, UNLIMITED where that is no limit.
    """

    suction: bool
    hand_force: float
    comfortable_hand_force: float
    return_force: float
    seconds: float
    volume: float
    stretch_share: float
    leak_share: float
    suction_lift: float
    suction_limit: float
    cylinder_depth: float
    submergence: float
    lift_margin: float
    string_mass: float
    weep_hole_depth: float | None
    well_volume: float


def of_site(surroundings: Surroundings, site: Site) -> set[str]:
    """Circumstances of one site, whichever cylinder is chosen."""
    sur = surroundings
    holds = {
        "electric_pump_present": sur.electric_pump == "yes",
        "electric_pump_unknown": sur.electric_pump == "unknown",
        "freezes": sur.freezes == "yes",
        "freezing_unknown": sur.freezes == "unknown",
        "invented_catalogue": sur.invented_catalogue,
        "key_facts_unknown": not sur.key_facts_known,
        "level_known": sur.level_known,
        "lift_pump": sur.lift_pump,
        "operator_known": sur.operator_profile != "unknown",
        "operator_weaker": sur.operator_profile in {"older_adult", "youth"},
        "overhead_lines": sur.overhead_lines == "yes",
        "overhead_lines_unknown": sur.overhead_lines == "unknown",
        "pumped_by_hand": sur.pump_proposed,
        "well_opened": sur.pump_proposed,
        "well_pit": sur.well_pit == "yes",
        "well_pit_unknown": sur.well_pit == "unknown",
        "yield_low": bool(site.sustained_yield < LEAST_YIELD),
        "yield_unknown": not sur.well_tested,
    }
    filled = {"open_tank": True} if site.open else _of_pressure(sur, site)
    return {name for name, true in {**holds, **filled}.items() if true}


def _of_pressure(sur: Surroundings, site: Site) -> dict[str, bool]:
    """What there is to look after where a pressure tank and a household's pipes are filled."""
    stored = tank.stored_volume(
        site.target, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    settings_known = sur.relief_valve == "yes" and bool(site.tank_rating < UNLIMITED)
    return {
        "acceptance_unknown": bool(site.tank_acceptance >= 1.0),
        "air_over_water": sur.tank_kind == "air_over_water",
        "check_valve_absent": sur.check_valve == "no",
        "check_valve_unknown": sur.check_valve == "unknown",
        "electric_heater": sur.water_heater == "electric",
        "heater_possible": sur.water_heater != "none",
        "hose": sur.hose,
        "hose_rating_unknown": sur.hose and bool(site.hose_rating >= UNLIMITED),
        "membrane_tank": sur.tank_kind in {"bladder", "diaphragm"},
        "pressurised": True,
        "public_main_connected": sur.public_main == "yes",
        "public_main_unknown": sur.public_main == "unknown",
        "relief_set_above_rating": settings_known and bool(site.relief_valve > site.tank_rating * _EXACT),
        "relief_valve_absent": sur.relief_valve == "no",
        "relief_valve_unknown": sur.relief_valve == "unknown",
        "stored_share_high": bool(stored > HIGH_STORED_SHARE),
        "tank_condition_unknown": sur.tank_condition == "unknown",
        "tank_corroded": sur.tank_condition == "corroded",
        "tank_rating_unknown": bool(site.tank_rating >= UNLIMITED),
        "target_above_code": bool(site.target > HIGHEST_HOUSE_PRESSURE * _EXACT),
        "target_above_safe_pressure": bool(site.target > _safe_pressure(site) * _EXACT),
        **_of_connections(sur.connections),
    }


def _of_connections(connections: tuple[Connection, ...]) -> dict[str, bool]:
    hydrants = [one for one in connections if one.kind == "yard_hydrant"]
    spigots = [one for one in connections if one.kind == "spigot"]
    return {
        "bare_spigot": any(one.vacuum_breaker == "no" for one in spigots),
        "sanitary_hydrant": any(one.sanitary == "yes" for one in hydrants),
        "vacuum_breaker_possible": not connections
        or any(one.vacuum_breaker != "no" for one in (*hydrants, *spigots)),
        "weeping_hydrant": any(one.sanitary != "yes" for one in hydrants),
    }


def of_choice(recommended: Recommended, surroundings: Surroundings, site: Site) -> set[str]:
    """Circumstances that come with the recommended cylinder.

    Those that rule a caution out, such as 'string_light', hold for a choice only: without one nobody
    knows, and the caution stands.
    """
    rec = recommended
    lift = not rec.suction
    forceful = rec.hand_force > rec.comfortable_hand_force
    standing = well.casing_storage(site.casing_area, rec.cylinder_depth - site.static_water_level)
    frost = surroundings.frost_depth if surroundings.freezes != "no" else 0.0
    holds = {
        "cylinder_near_water_level": lift and rec.submergence < LEAST_SUBMERGENCE,
        "fall_ample": lift and min(rec.submergence, rec.lift_margin) >= AMPLE_FALL,
        "hand_force_high": forceful,
        "leak_large": rec.leak_share > MUCH_LEAK,
        "long_session": rec.seconds > SHORT_SPELL,
        "rod_pushed_hard": lift and rec.return_force > HARD_PUSH,
        "stretch_large": rec.stretch_share > MUCH_STRETCH,
        "string_light": rec.string_mass <= HEAVY,
        "suction_near_limit": rec.suction and rec.suction_lift > NEAR_SUCTION_LIMIT * rec.suction_limit,
        "weep_hole_above_frost": rec.weep_hole_depth is not None and rec.weep_hole_depth < frost,
        "weep_hole_absent": lift and rec.weep_hole_depth is None,
        "well_holds_fill": bool(standing >= rec.volume),
        "well_runs_short": rec.well_volume < rec.volume,
        "work_light": rec.seconds <= LIGHT_WORK and not forceful,
    }
    return {name for name, true in holds.items() if true}


def recommended(found: Assessment, place: int, pipe_density: float) -> Recommended:
    """What cautions need to know of the candidate at ``place`` of a single site.

    ``pipe_density`` kg/m³ is that of its drop pipe's material.
    """
    return each_recommended(found, pipe_density)[place]


def choice_columns(found: Assessment, pipe_density: Real) -> dict[str, Real]:
    """The numbers of ``Recommended`` of every candidate by their names, with or without a weep hole."""
    op, delivery = found.op, found.delivery
    site, lineup = op.site, op.lineup
    outlet = site.outlet_height
    return {
        "hand_force": found.at_end.hand_force,
        "comfortable_hand_force": site.comfortable_hand_force,
        "return_force": found.at_end.return_force,
        "seconds": found.fill.seconds / site.people,
        "volume": found.fill.volume,
        "stretch_share": 1.0 - delivery.stroke / op.stroke,
        "leak_share": delivery.leak / op.displacement,
        "suction_lift": found.suction_lift,
        "suction_limit": found.suction_limit,
        "cylinder_depth": op.cylinder_depth,
        "submergence": op.cylinder_depth + outlet - found.suction_lift,
        "lift_margin": found.budget.margin,
        "string_mass": (op.cylinder_depth + outlet) * _string(lineup, pipe_density, site.water.density),
        "weep_hole_depth": lineup.weep_hole_depth - outlet,
        "well_volume": found.well_volume,
    }


def each_recommended(found: Assessment, pipe_density: Real) -> list[Recommended]:
    """The same of every candidate of a single site; ``pipe_density`` is one number or a column of them."""
    columns, lineup = choice_columns(found, pipe_density), found.op.lineup
    shape = found.outcome.shape
    values = np.empty((len(columns), *shape))
    for place, column in enumerate(columns.values()):
        values[place] = column
    suction, holes = (
        np.broadcast_to(flags, shape).ravel().tolist()
        for flags in (lineup.suction, lineup.weep_hole_diameter > 0.0)
    )
    choices: list[Recommended] = []
    for numbers, one_suction, hole in zip(
        values.reshape(len(columns), -1).T.tolist(), suction, holes, strict=True
    ):
        named: dict[str, Any] = dict(zip(columns, numbers, strict=True))
        if not hole:
            named["weep_hole_depth"] = None
        choices.append(Recommended(suction=one_suction, **named))
    return choices


def _string(lineup: Lineup, pipe_density: Real, water_density: Real) -> Real:
    """Mass in kg of a metre of rod, of the drop pipe around it, and of the water in between."""
    rod, inside = circular_area(lineup.rod_diameter), circular_area(lineup.drop_pipe_inside_diameter)
    wall = circular_area(lineup.drop_pipe_outside_diameter) - inside
    return lineup.rod_density * rod + pipe_density * wall + water_density * np.maximum(inside - rod, 0.0)


def _safe_pressure(site: Site) -> float:
    stated = (site.tank_rating, relief_limit(site.relief_valve), site.hose_rating, site.highest_known_safe)
    return min(float(pressure) for pressure in stated)
