"""Every caution is called for by the circumstances that it is about, and by no others."""

from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from typing import Any

import msgspec
import pytest
from tests.sizing.cases import PSI, Case, site

from upstroke_service.reference.sources import SOURCES
from upstroke_service.sizing import cautions
from upstroke_service.sizing.circumstances import (
    LEAST_SUBMERGENCE,
    Connection,
    Recommended,
    Surroundings,
    of_choice,
    of_site,
)

HARMLESS_SURROUNDINGS = Surroundings(
    freezes="no",
    electric_pump="no",
    public_main="no",
    check_valve="yes",
    relief_valve="yes",
    tank_kind="bladder",
    hose=False,
    lift_pump=False,
    connections=(Connection("tank_drain", "no", "no"),),
    invented_catalogue=False,
)
HARMLESS_SITE = Case(
    tank_rating=100 * PSI, tank_acceptance=0.6, relief_valve=75 * PSI, hose_rating=150 * PSI, target=50 * PSI
)
HARMLESS_CHOICE = Recommended(
    hand_force=90.0, suction=False, suction_lift=0.0, suction_limit=6.5, submergence=5.0
)

ALWAYS = frozenset(
    {"water_heater", "disinfection", "well_pit", "exertion", "handle_and_rod", "water_level_falls"}
)
"""What every fill by hand from a well calls for, however harmless the site."""


@dataclass(frozen=True)
class Change:
    """What is different from the harmless site."""

    surroundings: dict[str, Any] = field(default_factory=dict)
    site: dict[str, Any] = field(default_factory=dict)
    choice: dict[str, Any] = field(default_factory=dict)

    def circumstances(self) -> set[str]:
        case = msgspec.structs.replace(site(HARMLESS_SITE), **self.site)
        surroundings = msgspec.structs.replace(HARMLESS_SURROUNDINGS, **self.surroundings)
        return of_site(surroundings, case) | of_choice(
            msgspec.structs.replace(HARMLESS_CHOICE, **self.choice)
        )

    def codes(self) -> set[str]:
        return {caution.code for caution in cautions.called_for(self.circumstances())}


def at(kind: str, vacuum_breaker: str, sanitary: str) -> dict[str, Any]:
    return {"connections": (Connection(kind, vacuum_breaker, sanitary),)}  # type: ignore[arg-type]


CALLED: list[tuple[str, Change]] = [
    ("electrical_isolation", Change({"electric_pump": "yes"})),
    ("electrical_isolation", Change({"electric_pump": "unknown"})),
    ("public_main_connected", Change({"public_main": "yes"})),
    ("public_main_unknown", Change({"public_main": "unknown"})),
    ("no_relief_valve", Change({"relief_valve": "no"})),
    ("relief_valve_unknown", Change({"relief_valve": "unknown"})),
    ("target_above_safe_pressure", Change(site={"target": 101 * PSI})),
    ("target_above_safe_pressure", Change(site={"relief_valve": 55.5 * PSI})),
    ("target_above_safe_pressure", Change(site={"hose_rating": 49 * PSI})),
    ("target_above_safe_pressure", Change(site={"highest_known_safe": 49 * PSI})),
    ("tank_rating_unknown", Change(site={"tank_rating": site(Case()).tank_rating})),
    ("hose_under_pressure", Change({"hose": True})),
    ("hose_rating_unknown", Change({"hose": True}, {"hose_rating": site(Case()).hose_rating})),
    ("drinking_water_hose", Change({"hose": True})),
    ("vacuum_breaker", Change(at("spigot", "yes", "no"))),
    ("vacuum_breaker", Change(at("yard_hydrant", "unknown", "yes"))),
    ("vacuum_breaker", Change({"connections": ()})),
    ("hydrant_cross_connection", Change(at("yard_hydrant", "no", "no"))),
    ("hydrant_cross_connection", Change(at("yard_hydrant", "no", "unknown"))),
    ("sanitary_hydrant", Change(at("yard_hydrant", "no", "yes"))),
    ("check_valve_missing", Change({"check_valve": "no"})),
    ("check_valve_assumed", Change({"check_valve": "unknown"})),
    ("freezing", Change({"freezes": "yes"})),
    ("freezing", Change({"freezes": "unknown"})),
    ("lifting_pipe", Change({"lift_pump": True})),
    ("overhead_lines", Change({"lift_pump": True})),
    ("hand_force_high", Change(choice={"hand_force": 101.0})),
    (
        "acceptance_unknown",
        Change({"tank_kind": "diaphragm"}, {"tank_acceptance": 1.0, "precharge": 18 * PSI}),
    ),
    ("air_logged_tank", Change({"tank_kind": "air_over_water"})),
    ("suction_near_limit", Change(choice={"suction": True, "suction_lift": 6.0})),
    ("cylinder_near_water_level", Change(choice={"submergence": 0.99 * LEAST_SUBMERGENCE})),
    ("invented_catalogue", Change({"invented_catalogue": True})),
]

SPARED: list[tuple[str, Change]] = [
    ("target_above_safe_pressure", Change(site={"relief_valve": 55.6 * PSI})),
    ("target_above_safe_pressure", Change(site={"target": 50 * PSI, "hose_rating": 50 * PSI})),
    ("hose_rating_unknown", Change({"hose": False}, {"hose_rating": site(Case()).hose_rating})),
    ("vacuum_breaker", Change(at("spigot", "no", "no"))),
    ("hydrant_cross_connection", Change(at("spigot", "no", "no"))),
    ("hydrant_cross_connection", Change(at("yard_hydrant", "no", "yes"))),
    ("sanitary_hydrant", Change(at("spigot", "no", "yes"))),
    ("hand_force_high", Change(choice={"hand_force": 100.0})),
    (
        "acceptance_unknown",
        Change({"tank_kind": "air_over_water"}, {"tank_acceptance": 1.0, "precharge": 0.0}),
    ),
    ("acceptance_unknown", Change(site={"tank_acceptance": 0.6, "precharge": 18 * PSI})),
    ("acceptance_unknown", Change(site={"tank_acceptance": 1.0, "precharge": 38 * PSI})),
    ("suction_near_limit", Change(choice={"suction": True, "suction_lift": 5.0})),
    ("suction_near_limit", Change(choice={"suction": False, "suction_lift": 6.0})),
    ("cylinder_near_water_level", Change(choice={"submergence": 1.01 * LEAST_SUBMERGENCE})),
]


def numbered(cases: list[tuple[str, Change]]) -> list[str]:
    return [f"{code}-{number}" for number, (code, _) in enumerate(cases)]


def test_every_caution_is_covered() -> None:
    assert {code for code, _ in CALLED} | ALWAYS == {rule.code for rule in cautions.rules()}


def test_the_harmless_site_calls_for_what_every_fill_calls_for_and_nothing_else() -> None:
    assert Change().codes() == ALWAYS


@pytest.mark.parametrize(("code", "change"), CALLED, ids=numbered(CALLED))
def test_a_caution_is_called_for(code: str, change: Change) -> None:
    assert code in change.codes()


@pytest.mark.parametrize(("code", "change"), SPARED, ids=numbered(SPARED))
def test_a_caution_is_not_called_for_by_what_only_looks_like_it(code: str, change: Change) -> None:
    assert code not in change.codes()


@pytest.mark.parametrize("rule", cautions.rules(), ids=lambda rule: rule.code)
def test_a_caution_needs_all_of_its_circumstances(rule: cautions.Caution) -> None:
    enough = {*rule.all, *rule.any[:1]}
    assert rule.applies(enough)
    assert not rule.applies(())
    for missing in rule.all:
        assert not rule.applies(enough - {missing})


@pytest.mark.parametrize("rule", cautions.rules(), ids=lambda rule: rule.code)
def test_a_caution_rests_on_known_sources(rule: cautions.Caution) -> None:
    assert rule.basis
    assert set(rule.basis) <= set(SOURCES)


def test_codes_are_used_once() -> None:
    codes = [rule.code for rule in cautions.rules()]
    assert len(codes) == len(set(codes))


def test_the_worst_comes_first() -> None:
    change = Change({"public_main": "unknown", "hose": True, "freezes": "yes", "electric_pump": "yes"})
    signals = [caution.signal for caution in cautions.called_for(change.circumstances())]
    assert set(signals) == {"danger", "warning", "caution", "notice"}
    assert signals == sorted(signals, key=("danger", "warning", "caution", "notice").index)


def test_every_circumstance_that_a_site_can_have_may_be_named_by_a_rule() -> None:
    changes = [*(change for _, change in CALLED), Change()]
    assert set().union(*(change.circumstances() for change in changes)) == cautions.CIRCUMSTANCES


def test_a_rule_may_ask_for_the_absence_of_a_circumstance() -> None:
    rule = cautions.Caution(code="dry", signal="notice", all=("not hose",), basis=("common-practice",))
    assert rule.applies({"freezes"})
    assert not rule.applies({"hose"})


def test_a_rule_about_an_unknown_circumstance_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = (
        '[[caution]]\ncode = "odd"\nsignal = "notice"\nany = ["not full_moon"]\nbasis = ["common-practice"]\n'
    )
    (tmp_path / "cautions.toml").write_text(text, encoding="utf-8")
    monkeypatch.setattr(resources, "files", lambda _: tmp_path)
    with pytest.raises(ValueError, match="caution odd names unknown circumstances: full_moon"):
        cautions.rules.__wrapped__()
