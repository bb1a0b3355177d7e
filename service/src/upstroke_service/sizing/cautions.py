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
        "check_valve_absent",
        "check_valve_unknown",
        "cylinder_near_water_level",
        "electric_pump_possible",
        "freezes",
        "freezing_unknown",
        "hand_force_high",
        "hose",
        "hose_rating_unknown",
        "invented_catalogue",
        "lift_pump",
        "membrane_tank",
        "pressurised",
        "public_main_connected",
        "public_main_unknown",
        "pumped_by_hand",
        "relief_valve_absent",
        "relief_valve_unknown",
        "sanitary_hydrant",
        "stored_share_high",
        "suction_near_limit",
        "tank_rating_unknown",
        "target_above_safe_pressure",
        "vacuum_breaker_possible",
        "weeping_hydrant",
        "well_opened",
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
