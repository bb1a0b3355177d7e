"""Which findings and cautions each row has: the conditions of ``api/reasons.py`` and ``sizing/circumstances.py``."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

import numpy as np
import pyarrow as pa

from upstroke_service.api.reasons import (
    LARGE_STRETCH,
    NOTABLE_LEAK,
    NOTABLE_SLOWING,
    NOTABLE_STRETCH,
    RULING_OUT,
)
from upstroke_service.physics import tank, well
from upstroke_service.physics.operator import SHORT_SPELL
from upstroke_service.physics.real import Array, Indices
from upstroke_service.sizing import circumstances as limits
from upstroke_service.sizing.ceiling import LIMITS, relief_limit
from upstroke_service.sizing.facts import UNLIMITED, Flags, Site
from upstroke_service.sizing.remedies import NOTABLE_INERTIA

from .facts import Facts

PLACES: Final = ("suction_lift", "casing", "handle_travel")
"""What rules a cylinder out before any limit does, in the order in which it is said."""

GOVERNING: Final = (*LIMITS, *PLACES)

_SAID_ALREADY: Final = ("rated_lift", "hand_force", "net_delivery")
_EXACT: Final = 1.0 + 1e-9

Columns = Mapping[str, Array]


def governing(case: Columns) -> Indices:
    """Place in GOVERNING of what rules each candidate out or sets its ceiling."""
    ruling = [case[name] != 0.0 for name in ("too_deep", "too_wide", "too_short")]
    places = [len(LIMITS) + place for place in range(len(PLACES))]
    found: Indices = np.select(ruling, places, default=case["governing"].astype(np.int64))
    return found


def finding_flags(case: Columns, reach: Array) -> dict[str, Flags]:
    """Rows that have each finding, what rules a cylinder out first; ``reach`` Pa are the limits of LIMITS."""
    suction = case["suction"] != 0.0
    deep, wide, short = (case[name] != 0.0 for name in ("too_deep", "too_wide", "too_short"))
    near = case["suction_lift"] > limits.NEAR_SUCTION_LIMIT * case["suction_limit"]
    margin = case["rated_lift"] - case["total_head"]
    usable = ~(deep | wide | short)
    found: dict[str, Flags] = {
        "too_wide": wide,
        "travel_too_long": short,
        "suction_too_deep": suction & deep,
        "suction_near_limit": suction & ~deep & near,
        "suction": suction & ~deep & ~near,
        "lift_margin": margin >= 0.0,
        "lift_exceeded": (margin < 0.0) & (reach[0] > 0.0),
        "lift_exceeded_at_rest": (margin < 0.0) & (reach[0] <= 0.0),
    }
    for code, flags in _when_usable(case, reach, suction).items():
        found[code] = usable & flags
    first = [code for code in found if code in RULING_OUT]
    return {code: found[code] for code in (*first, *(code for code in found if code not in RULING_OUT))}


def _when_usable(case: Columns, reach: Array, suction: Flags) -> dict[str, Flags]:
    strong, slips = reach[1] < case["target"], reach[2] < case["target"]
    gentle = case["force_at_end"] <= case["comfortable_force"]
    stored = case["volume"] > 0.0
    slowed = case["preferred_cadence"] < NOTABLE_SLOWING * case["wanted_cadence"]
    low = (case["start"] >= case["target"]) & (case["open_tank"] == 0.0)
    said = np.isin(governing(case), [LIMITS.index(name) for name in _SAID_ALREADY])
    lost, stroke = case["stroke"] - case["effective_stroke"], case["stroke"]
    return {
        "hand_force_exceeded": strong & (reach[1] > 0.0),
        "hand_force_exceeded_at_rest": strong & (reach[1] <= 0.0),
        "hand_force": ~strong & gentle,
        "hand_force_repeated": ~strong & ~gentle,
        "weep_hole_stall": slips,
        "weep_hole": ~slips & (case["leak_share"] >= NOTABLE_LEAK) & stored,
        "stops_early": stored & (case["end"] < case["target"]),
        "fill": stored,
        "suction_slow": stored & suction & slowed,
        "slow": stored & (case["cadence_at_end"] < NOTABLE_SLOWING * case["preferred_cadence"]),
        "target_below_storage": ~stored & low,
        "stops_before_storing": ~stored & ~low & ~said,
        "stretch_large": lost > LARGE_STRETCH * stroke,
        "stretch": (lost > NOTABLE_STRETCH * stroke) & ~(lost > LARGE_STRETCH * stroke),
        "inertia": case["inertia_force"] > NOTABLE_INERTIA * case["force_at_end"],
        "rod_pushed": case["pushed"] != 0.0,
        "handle_travel": stroke < case["full_stroke"] * (1.0 - 1e-9),
    }


def site_flags(facts: Facts, site: Site, hose: Flags, *, invented: bool) -> dict[str, Any]:
    """Circumstances of each site, whichever cylinder is chosen; those of the choice come on top."""
    known, word, unknown = facts.known, facts.is_word, facts.is_unknown
    pump = "/site/electric_pump/present"
    profile = "/operator/profile"
    tested = ("/well/sustained_yield", "/well/specific_capacity", "/well/well_drawdown")
    key = ("/well/static_water_level", "/well/casing_inside_diameter", "/tank/total_volume")
    closed = ~np.asarray(site.open)
    found = {
        "electric_pump_present": word(pump, "yes"),
        "electric_pump_unknown": unknown(pump),
        "freezes": word("/site/freezes", "yes"),
        "freezing_unknown": unknown("/site/freezes"),
        "invented_catalogue": np.asarray(invented),
        "key_facts_unknown": ~(known(key[0]) & known(key[1]) & known(key[2])),
        "level_known": known(key[0]),
        "open_tank": ~closed,
        "operator_known": known(profile),
        "operator_weaker": word(profile, "older_adult", "youth"),
        "overhead_lines": word("/site/overhead_lines", "yes"),
        "overhead_lines_unknown": unknown("/site/overhead_lines"),
        "well_pit": word("/site/well_pit", "yes"),
        "well_pit_unknown": unknown("/site/well_pit"),
        "yield_low": np.asarray(site.sustained_yield < limits.LEAST_YIELD),
        "yield_unknown": ~(known(tested[0]) | known(tested[1]) | known(tested[2])),
    }
    return found | {name: closed & flags for name, flags in _of_pressure(facts, site, hose).items()}


def _of_pressure(facts: Facts, site: Site, hose: Flags) -> dict[str, Any]:
    """What there is to look after where a pressure tank and a household's pipes are filled."""
    known, word, unknown = facts.known, facts.is_word, facts.is_unknown
    stored = tank.stored_volume(
        site.target, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    valve, fitted, kind = "/conduit/check_valve", "/site/relief_valve/fitted", "/tank/kind"
    set_known = np.asarray(site.relief_valve) < UNLIMITED
    rated = np.asarray(site.tank_rating) < UNLIMITED
    safe = np.minimum.reduce(
        np.broadcast_arrays(
            site.tank_rating, relief_limit(site.relief_valve), site.hose_rating, site.highest_known_safe
        )
    )
    return {
        "acceptance_unknown": np.asarray(site.tank_acceptance) >= 1.0,
        "air_over_water": word(kind, "air_over_water"),
        "check_valve_absent": word(valve, "no"),
        "check_valve_unknown": unknown(valve),
        "electric_heater": word("/site/water_heater", "electric"),
        "heater_possible": ~word("/site/water_heater", "none"),
        "hose": hose,
        "hose_rating_unknown": hose & (np.asarray(site.hose_rating) >= UNLIMITED),
        "membrane_tank": ~known(kind) | word(kind, "bladder", "diaphragm"),
        "pressurised": np.asarray(True),  # noqa: FBT003 - a flag of all rows
        "public_main_connected": word("/site/public_water_connection", "yes"),
        "public_main_unknown": unknown("/site/public_water_connection"),
        "relief_set_above_rating": set_known & rated & (site.relief_valve > site.tank_rating * _EXACT),
        "relief_valve_absent": word(fitted, "no"),
        # A valve of unknown setting protects nobody who counts on it.
        "relief_valve_unknown": unknown(fitted) | (word(fitted, "yes") & ~set_known),
        "stored_share_high": np.asarray(stored > limits.HIGH_STORED_SHARE),
        "tank_condition_unknown": unknown("/tank/condition"),
        "tank_corroded": word("/tank/condition", "corroded"),
        "tank_rating_unknown": ~rated,
        "target_above_code": np.asarray(site.target > limits.HIGHEST_HOUSE_PRESSURE * _EXACT),
        "target_above_safe_pressure": np.asarray(site.target > safe * _EXACT),
    }


def choice_flags(choice: Columns, frost: Array, never: Flags) -> dict[str, Flags]:
    """Circumstances that come with the recommended cylinder of each row.

    ``choice`` has the numbers of ``Recommended``, flags ``suction`` and ``hole``, ``casing_area`` m² and
    ``static_water_level`` m; ``frost`` m is the depth to which the ground freezes, where it is not ``never``.
    """
    lift, hole = choice["suction"] == 0.0, choice["hole"] != 0.0
    forceful = choice["hand_force"] > choice["comfortable_hand_force"]
    standing = well.casing_storage(
        choice["casing_area"], choice["cylinder_depth"] - choice["static_water_level"]
    )
    ample = np.minimum(choice["submergence"], choice["lift_margin"]) >= limits.AMPLE_FALL
    near = choice["suction_lift"] > limits.NEAR_SUCTION_LIMIT * choice["suction_limit"]
    return {
        "cylinder_near_water_level": lift & (choice["submergence"] < limits.LEAST_SUBMERGENCE),
        "fall_ample": lift & ample,
        "hand_force_high": forceful,
        "leak_large": choice["leak_share"] > limits.MUCH_LEAK,
        "long_session": choice["seconds"] > SHORT_SPELL,
        "rod_pushed_hard": lift & (choice["return_force"] > limits.HARD_PUSH),
        "stretch_large": choice["stretch_share"] > limits.MUCH_STRETCH,
        "string_light": choice["string_mass"] <= limits.HEAVY,
        "suction_near_limit": ~lift & near,
        "weep_hole_above_frost": hole & (choice["weep_hole_depth"] < np.where(never, 0.0, frost)),
        "weep_hole_absent": lift & ~hole,
        "well_holds_fill": np.asarray(standing >= choice["volume"]),
        "well_runs_short": choice["well_volume"] < choice["volume"],
        "work_light": (choice["seconds"] <= limits.LIGHT_WORK) & ~forceful,
    }


def lists_of(
    flags: Mapping[str, Any], count: int, say: Callable[[list[str]], Sequence[str]] = list
) -> pa.ListArray:
    """For each of ``count`` rows what there is to ``say`` of the names whose flags hold, in their order.

    Few combinations of flags occur, so that each is put into words once.
    """
    always = [name for name, flag in flags.items() if np.ndim(flag) == 0 and flag]
    varying = {name: flag for name, flag in flags.items() if np.ndim(flag) and flag.any()}
    packed = np.packbits(
        np.array(list(varying.values()), dtype=np.bool_).reshape(len(varying), count), axis=0
    )
    keys = np.zeros((count, -(-max(len(packed), 1) // 8) * 8), dtype=np.uint8)
    keys[:, : len(packed)] = packed.T
    words = keys.view(np.uint64)
    whole = words[:, 0] if words.shape[1] == 1 else keys.view(f"V{keys.shape[1]}")[:, 0]
    _, firsts, places = np.unique(whole, return_index=True, return_inverse=True)
    said = []
    for first in firsts.tolist():
        holding = {name for name, flag in varying.items() if flag[first]}
        said.append(list(say([name for name in flags if name in holding or name in always])))
    return pa.array(said, pa.list_(pa.string())).take(pa.array(places.reshape(-1)))
