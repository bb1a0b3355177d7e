"""The circumstances of a site that decide which cautions it calls for."""

from typing import Literal

import msgspec

from upstroke_service.physics import tank

from .ceiling import relief_limit
from .facts import UNLIMITED, Site

Answer = Literal["yes", "no", "unknown"]

NEAR_SUCTION_LIMIT = 0.85
"""Share of the practical suction lift from which a caution is due. Common practice, no source."""

LEAST_SUBMERGENCE = 3.048
"""Depth in m (10 ft) of the cylinder below the pumping level under which a caution is due. Common
practice, no source."""

HIGH_STORED_SHARE = 0.45
"""Share of water in a tank from which its acceptance matters. Common practice, no source; published
limits of acceptance begin at about 0.40."""


class Connection(msgspec.Struct, frozen=True):
    """A place where a hose could be connected."""

    kind: str
    vacuum_breaker: Answer
    sanitary: Answer


class Surroundings(msgspec.Struct, frozen=True, kw_only=True):
    """What a site is like, beyond the numbers of ``Site``."""

    freezes: Answer
    electric_pump: Answer
    public_main: Answer
    check_valve: Answer
    relief_valve: Answer
    tank_kind: str
    hose: bool
    lift_pump: bool
    connections: tuple[Connection, ...]
    invented_catalogue: bool


class Recommended(msgspec.Struct, frozen=True, kw_only=True):
    """What cautions need to know of the recommended cylinder, SI."""

    hand_force: float
    comfortable_hand_force: float = 100.0
    suction: bool
    suction_lift: float
    suction_limit: float
    submergence: float


def of_site(surroundings: Surroundings, site: Site) -> set[str]:
    """Circumstances of one site, whichever cylinder is chosen."""
    stored = tank.stored_volume(
        site.target, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    sur = surroundings
    hydrants = [one for one in sur.connections if one.kind == "yard_hydrant"]
    outlets = [one for one in sur.connections if one.kind in {"yard_hydrant", "spigot"}]
    holds = {
        "acceptance_unknown": site.tank_acceptance >= 1.0,
        "air_over_water": sur.tank_kind == "air_over_water",
        "check_valve_absent": sur.check_valve == "no",
        "check_valve_unknown": sur.check_valve == "unknown",
        "electric_pump_possible": sur.electric_pump != "no",
        "freezes": sur.freezes == "yes",
        "freezing_unknown": sur.freezes == "unknown",
        "hose": sur.hose,
        "hose_rating_unknown": site.hose_rating >= UNLIMITED,
        "invented_catalogue": sur.invented_catalogue,
        "lift_pump": sur.lift_pump,
        "membrane_tank": sur.tank_kind in {"bladder", "diaphragm"},
        "pressurised": True,
        "public_main_connected": sur.public_main == "yes",
        "public_main_unknown": sur.public_main == "unknown",
        "pumped_by_hand": True,
        "relief_valve_absent": sur.relief_valve == "no",
        "relief_valve_unknown": sur.relief_valve == "unknown",
        "sanitary_hydrant": any(one.sanitary == "yes" for one in hydrants),
        "stored_share_high": stored > HIGH_STORED_SHARE,
        "tank_rating_unknown": site.tank_rating >= UNLIMITED,
        "target_above_safe_pressure": site.target > _safe_pressure(site) * (1.0 + 1e-9),
        "vacuum_breaker_possible": not sur.connections or any(one.vacuum_breaker != "no" for one in outlets),
        "weeping_hydrant": any(one.sanitary != "yes" for one in hydrants),
        "well_opened": True,
    }
    return {name for name, true in holds.items() if true}


def of_choice(recommended: Recommended) -> set[str]:
    """Circumstances that come with the recommended cylinder."""
    near = recommended.suction_lift > NEAR_SUCTION_LIMIT * recommended.suction_limit
    holds = {
        "cylinder_near_water_level": recommended.submergence < LEAST_SUBMERGENCE,
        "hand_force_high": recommended.hand_force > recommended.comfortable_hand_force,
        "suction_near_limit": recommended.suction and near,
    }
    return {name for name, true in holds.items() if true}


def _safe_pressure(site: Site) -> float:
    stated = (site.tank_rating, relief_limit(site.relief_valve), site.hose_rating, site.highest_known_safe)
    return min(float(pressure) for pressure in stated)
