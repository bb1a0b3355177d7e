"""Which cautions a site calls for: rules as data, each with a condition over named circumstances."""

import functools
import tomllib
from collections.abc import Collection
from importlib import resources
from typing import Literal

import msgspec

from .conditions import Condition, require_known

Signal = Literal["danger", "warning", "caution", "notice"]

CIRCUMSTANCES = frozenset(
    {
        "acceptance_unknown",
        "air_over_water",
        "bare_spigot",
        "check_valve_absent",
        "check_valve_unknown",
        "cylinder_near_water_level",
        "electric_heater",
        "electric_pump_present",
        "electric_pump_unknown",
        "fall_ample",
        "freezes",
        "freezing_unknown",
        "hand_force_high",
        "heater_possible",
        "hose",
        "hose_rating_unknown",
        "invented_catalogue",
        "key_facts_unknown",
        "leak_large",
        "level_known",
        "lift_pump",
        "long_session",
        "membrane_tank",
        "open_tank",
        "operator_known",
        "operator_weaker",
        "overhead_lines",
        "overhead_lines_unknown",
        "pressurised",
        "public_main_connected",
        "public_main_unknown",
        "pumped_by_hand",
        "relief_set_above_rating",
        "relief_valve_absent",
        "relief_valve_unknown",
        "rod_pushed_hard",
        "sanitary_hydrant",
        "stored_share_high",
        "stretch_large",
        "string_light",
        "suction_near_limit",
        "tank_condition_unknown",
        "tank_corroded",
        "tank_rating_unknown",
        "target_above_code",
        "target_above_safe_pressure",
        "vacuum_breaker_possible",
        "weep_hole_above_frost",
        "weep_hole_absent",
        "weeping_hydrant",
        "well_holds_fill",
        "well_opened",
        "well_pit",
        "well_pit_unknown",
        "well_runs_short",
        "work_light",
        "yield_low",
        "yield_unknown",
    }
)
"""Every circumstance that a rule may name."""

_SEVERITY = ("danger", "warning", "caution", "notice")


class Caution(Condition, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A caution and the circumstances that call for it."""

    code: str
    signal: Signal
    basis: tuple[str, ...]


@functools.cache
def rules() -> tuple[Caution, ...]:
    """Every rule, worst signal first. Raises ValueError where a rule names an unknown circumstance."""
    text = resources.files("upstroke_service.sizing").joinpath("cautions.toml").read_text("utf-8")
    loaded = msgspec.convert(tomllib.loads(text)["caution"], list[Caution])
    for rule in loaded:
        require_known(f"caution {rule.code}", rule, CIRCUMSTANCES)
    return tuple(sorted(loaded, key=lambda rule: _SEVERITY.index(rule.signal)))


def called_for(circumstances: Collection[str]) -> tuple[Caution, ...]:
    """The cautions that these circumstances call for, worst signal first."""
    return tuple(rule for rule in rules() if rule.applies(circumstances))
