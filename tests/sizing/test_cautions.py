"""Every caution is called for by the circumstances that it is about, and by no others."""

from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from typing import Any

import msgspec
import numpy as np
import pytest
from tests.sizing.cases import FOOT, PSI, Case, lineup, site

from upstroke_service.reference.sources import SOURCES
from upstroke_service.sizing import assessment, cautions
from upstroke_service.sizing.circumstances import (
    AMPLE_FALL,
    HARD_PUSH,
    HEAVY,
    LEAST_SUBMERGENCE,
    LEAST_YIELD,
    LIGHT_WORK,
    MUCH_LEAK,
    MUCH_STRETCH,
    NEAR_SUCTION_LIMIT,
    Connection,
    Recommended,
    Surroundings,
    of_choice,
    of_site,
    recommended,
)
from upstroke_service.sizing.facts import OPEN_SPAN, UNLIMITED

HARMLESS_SURROUNDINGS = Surroundings(
    pump_proposed=True,
    lift_pump=True,
    key_facts_known=True,
    level_known=True,
    well_tested=True,
    freezes="no",
    frost_depth=0.0,
    well_pit="no",
    overhead_lines="no",
    electric_pump="no",
    public_main="no",
    water_heater="none",
    check_valve="yes",
    relief_valve="yes",
    tank_kind="bladder",
    tank_condition="sound",
    hose=False,
    connections=(Connection("tank_drain", "no", "no"),),
    operator_profile="ordinary_adult",
    invented_catalogue=False,
)
HARMLESS_SITE = Case(
    tank_rating=100 * PSI, tank_acceptance=0.6, relief_valve=75 * PSI, hose_rating=150 * PSI, target=50 * PSI
)
HARMLESS_CHOICE = Recommended(
    suction=False,
    hand_force=90.0,
    comfortable_hand_force=100.0,
    return_force=0.0,
    seconds=240.0,
    volume=0.02,
    stretch_share=0.02,
    leak_share=0.05,
    suction_lift=0.0,
    suction_limit=6.5,
    cylinder_depth=35.0,
    submergence=10.0,
    lift_margin=20.0,
    string_mass=20.0,
    weep_hole_depth=1.2,
    well_volume=UNLIMITED,
)

ALWAYS = {"disinfection", "pump_by_gauge", "drinking_water_materials", "handle_and_rod"}
"""What every fill of a pressure tank calls for, however harmless the site."""


@dataclass(frozen=True)
class Change:
    """What is different from the harmless site; ``chosen`` is false where no cylinder is chosen yet."""

    surroundings: dict[str, Any] = field(default_factory=dict)
    site: dict[str, Any] = field(default_factory=dict)
    choice: dict[str, Any] = field(default_factory=dict)
    chosen: bool = True

    def circumstances(self) -> set[str]:
        case = msgspec.structs.replace(site(HARMLESS_SITE), **self.site)
        surroundings = msgspec.structs.replace(HARMLESS_SURROUNDINGS, **self.surroundings)
        choice = msgspec.structs.replace(HARMLESS_CHOICE, **self.choice)
        chosen = of_choice(choice, surroundings, case) if self.chosen else set()
        return of_site(surroundings, case) | chosen

    def codes(self) -> set[str]:
        return {caution.code for caution in cautions.called_for(self.circumstances())}


def at(kind: str, vacuum_breaker: str, sanitary: str) -> dict[str, Any]:
    return {"connections": (Connection(kind, vacuum_breaker, sanitary),)}  # type: ignore[arg-type]


UNKNOWN: dict[str, Any] = {"freezes": "unknown", "electric_pump": "unknown", "public_main": "unknown"}
OPEN: dict[str, Any] = {"open": True, "start": 0.0, "precharge": 0.0, "target": OPEN_SPAN}
NOTHING_FITS = Change({"pump_proposed": False}, chosen=False)
STOCK_TANK = Change({"tank_kind": "open"}, OPEN)
UNRATED: dict[str, Any] = {"tank_rating": UNLIMITED}
COLD: dict[str, Any] = {"freezes": "yes", "frost_depth": 1.3}
SUCTION: dict[str, Any] = {"suction": True, "weep_hole_depth": None}
NO_PIT_SEEN: dict[str, Any] = {"well_pit": "unknown"}
NO_LINES_SEEN: dict[str, Any] = {"overhead_lines": "unknown"}
UNTESTED: dict[str, Any] = {"well_tested": False}
STANDING = {"casing_area": 0.0021, "static_water_level": 25.0}
"""A casing in which a little more than the fill of the harmless choice stands above its cylinder."""

CALLED: dict[str, tuple[Change, ...]] = {
    "electrical_isolation": (Change({"electric_pump": "yes"}), Change({"electric_pump": "yes"}, OPEN)),
    "overhead_lines": (Change({"overhead_lines": "yes"}),),
    "well_pit": (Change({"well_pit": "yes"}),),
    "public_main_connected": (Change({"public_main": "yes"}),),
    "public_main_unknown": (Change({"public_main": "unknown"}),),
    "target_above_safe_pressure": (
        Change(site={"target": 101 * PSI}),
        Change(site={"relief_valve": 55.5 * PSI}),
        Change(site={"hose_rating": 49 * PSI}),
        Change(site={"highest_known_safe": 49 * PSI}),
    ),
    "tank_corroded": (Change({"tank_condition": "corroded"}),),
    "no_relief_valve": (Change({"relief_valve": "no"}),),
    "relief_set_too_high": (Change(site={"relief_valve": 101 * PSI}),),
    "pressure_limits_unknown": (Change({"relief_valve": "unknown"}, UNRATED),),
    "tank_rating_unknown": (Change(site=UNRATED), Change({"relief_valve": "no"}, UNRATED)),
    "relief_valve_unknown": (Change({"relief_valve": "unknown"}),),
    "tank_condition_unknown": (Change({"tank_condition": "unknown"}),),
    "vacuum_breaker": (
        Change(at("spigot", "yes", "no")),
        Change(at("yard_hydrant", "unknown", "yes")),
        Change({"connections": ()}),
    ),
    "hydrant_cross_connection": (
        Change(at("yard_hydrant", "no", "no")),
        Change(at("yard_hydrant", "no", "unknown")),
    ),
    "bare_spigot": (Change(at("spigot", "no", "no")),),
    "check_valve_missing": (Change({"check_valve": "no"}),),
    "open_tank_air_gap": (STOCK_TANK,),
    "open_tank_drinking_water": (STOCK_TANK,),
    "open_tank_drowning": (STOCK_TANK,),
    "electric_pump_unknown": (Change({"electric_pump": "unknown"}),),
    "well_site_unknown": (Change(NO_LINES_SEEN | NO_PIT_SEEN),),
    "overhead_lines_unknown": (Change(NO_LINES_SEEN),),
    "well_pit_unknown": (Change(NO_PIT_SEEN),),
    "lifting_pipe": (Change(choice={"string_mass": 1.01 * HEAVY}), Change(chosen=False)),
    "disinfection": (Change(), STOCK_TANK),
    "pump_by_gauge": (Change(),),
    "hose_under_pressure": (Change({"hose": True}),),
    "hose_rating_unknown": (Change({"hose": True}, {"hose_rating": UNLIMITED}),),
    "power_restored": (Change({"electric_pump": "yes"}),),
    "water_heater_electric": (Change({"water_heater": "electric"}),),
    "water_heater": (Change({"water_heater": "gas"}), Change({"water_heater": "unknown"})),
    "exertion": (
        Change(choice={"seconds": 1.01 * LIGHT_WORK}),
        Change(choice={"hand_force": 101.0}),
        Change({"operator_profile": "older_adult"}),
        Change({"operator_profile": "youth"}),
        Change({"operator_profile": "unknown"}),
        Change(chosen=False),
    ),
    "drinking_water_hose": (Change({"hose": True}),),
    "drinking_water_materials": (Change(),),
    "check_valve_assumed": (Change({"check_valve": "unknown"}),),
    "priming_water": (Change({"lift_pump": False}, choice=SUCTION),),
    "hand_force_high": (Change(choice={"hand_force": 101.0}),),
    "long_session": (Change(choice={"seconds": 901.0}),),
    "handle_and_rod": (Change(), STOCK_TANK),
    "key_facts_unknown": (Change({"key_facts_known": False}),),
    "sanitary_hydrant": (Change(at("yard_hydrant", "no", "yes")),),
    "house_pressure_high": (Change(site={"target": 80.1 * PSI}),),
    "freezing": (Change({"freezes": "yes"}), Change({"freezes": "unknown"})),
    "freezing_suction": (Change({"freezes": "yes", "lift_pump": False}, choice=SUCTION),),
    "no_drain_back": (Change({"freezes": "yes"}, choice={"weep_hole_depth": None}),),
    "weep_hole_above_frost": (Change(COLD), Change({**COLD, "freezes": "unknown"})),
    "weep_hole_leak": (Change(choice={"leak_share": 1.01 * MUCH_LEAK}),),
    "drop_pipe_moves": (Change(choice={"stretch_share": 1.01 * MUCH_STRETCH}),),
    "rod_pushed": (Change(choice={"return_force": 1.01 * HARD_PUSH}),),
    "air_logged_tank": (Change({"tank_kind": "air_over_water"}),),
    "acceptance_unknown": (
        Change({"tank_kind": "diaphragm"}, {"tank_acceptance": 1.0, "precharge": 18 * PSI}),
    ),
    "open_tank_overflow": (STOCK_TANK,),
    "suction_near_limit": (Change(choice=SUCTION | {"suction_lift": 1.01 * NEAR_SUCTION_LIMIT * 6.5}),),
    "cylinder_near_water_level": (Change(choice={"submergence": 0.99 * LEAST_SUBMERGENCE}),),
    "low_yield": (
        Change(choice={"well_volume": 0.019}),
        Change(site={"sustained_yield": 0.99 * LEAST_YIELD}),
        Change(site={"sustained_yield": 0.99 * LEAST_YIELD}, chosen=False),
    ),
    "running_dry": (
        Change(UNTESTED),
        Change(UNTESTED, STANDING | {"casing_area": 0.0019}),
        Change(UNTESTED, STANDING, chosen=False),
    ),
    "water_level_falls": (
        Change(choice={"submergence": 0.99 * AMPLE_FALL}),
        Change(choice={"lift_margin": 0.99 * AMPLE_FALL}),
        Change({"lift_pump": False}, choice=SUCTION),
        Change(chosen=False),
    ),
    "invented_catalogue": (Change({"invented_catalogue": True}),),
}
"""What calls for each caution."""

SPARED: dict[str, tuple[Change, ...]] = {
    "electrical_isolation": (Change({"electric_pump": "unknown"}), NOTHING_FITS),
    "overhead_lines": (Change(NO_LINES_SEEN),),
    "well_pit": (Change(NO_PIT_SEEN),),
    "public_main_connected": (
        Change({"public_main": "unknown"}),
        Change({"public_main": "yes", "tank_kind": "open"}, OPEN),
    ),
    "public_main_unknown": (Change({"public_main": "yes"}),),
    "target_above_safe_pressure": (
        Change(site={"relief_valve": 55.6 * PSI}),
        Change(site={"target": 50 * PSI, "hose_rating": 50 * PSI}),
        Change({"tank_kind": "open"}, OPEN | {"hose_rating": 0.0}),
    ),
    "tank_corroded": (
        Change({"tank_condition": "unknown"}),
        Change({"tank_condition": "corroded", "tank_kind": "open"}, OPEN),
    ),
    "no_relief_valve": (
        Change({"relief_valve": "unknown"}),
        Change({"relief_valve": "no", "tank_kind": "open"}, OPEN),
    ),
    "relief_set_too_high": (
        Change(site={"relief_valve": 100 * PSI}),
        Change(site=UNRATED | {"relief_valve": 300 * PSI}),
        Change({"relief_valve": "no"}, {"relief_valve": UNLIMITED}),
    ),
    "pressure_limits_unknown": (Change(site=UNRATED), Change({"relief_valve": "unknown"})),
    "tank_rating_unknown": (Change({"relief_valve": "unknown"}, UNRATED),),
    "relief_valve_unknown": (Change({"relief_valve": "unknown"}, UNRATED),),
    "tank_condition_unknown": (Change({"tank_condition": "unknown"}, UNRATED),),
    "vacuum_breaker": (
        Change(at("spigot", "no", "no")),
        Change({"connections": (), "tank_kind": "open"}, OPEN),
    ),
    "hydrant_cross_connection": (
        Change(at("spigot", "no", "no")),
        Change(at("yard_hydrant", "no", "yes")),
    ),
    "bare_spigot": (Change(at("spigot", "unknown", "no")), Change(at("tank_drain", "no", "no"))),
    "check_valve_missing": (Change({"check_valve": "unknown"}),),
    "open_tank_air_gap": (Change({"tank_kind": "air_over_water"}),),
    "open_tank_drinking_water": (Change(),),
    "open_tank_drowning": (Change(),),
    "electric_pump_unknown": (Change({"electric_pump": "yes"}),),
    "well_site_unknown": (
        Change(NO_LINES_SEEN | {"well_pit": "yes"}),
        Change(NO_PIT_SEEN | {"overhead_lines": "yes"}),
    ),
    "overhead_lines_unknown": (Change(NO_LINES_SEEN | NO_PIT_SEEN),),
    "well_pit_unknown": (Change(NO_LINES_SEEN | NO_PIT_SEEN),),
    "lifting_pipe": (
        Change(choice={"string_mass": HEAVY}),
        Change({"lift_pump": False}, choice=SUCTION | {"string_mass": 2.0 * HEAVY}),
    ),
    "disinfection": (NOTHING_FITS,),
    "pump_by_gauge": (STOCK_TANK, NOTHING_FITS),
    "hose_under_pressure": (
        Change({"hose": True, "tank_kind": "open"}, OPEN),
        Change({"hose": True}, {"hose_rating": UNLIMITED}),
    ),
    "hose_rating_unknown": (Change(site={"hose_rating": UNLIMITED}), Change({"hose": True})),
    "power_restored": (
        Change({"electric_pump": "unknown"}),
        Change({"electric_pump": "yes", "tank_kind": "open"}, OPEN),
    ),
    "water_heater_electric": (
        Change({"water_heater": "unknown"}),
        Change({"water_heater": "electric", "tank_kind": "open"}, OPEN),
    ),
    "water_heater": (Change({"water_heater": "electric"}), Change({"tank_kind": "open"}, OPEN)),
    "exertion": (
        Change({"operator_profile": "strong_adult"}, choice={"seconds": LIGHT_WORK, "hand_force": 100.0}),
        NOTHING_FITS,
    ),
    "drinking_water_hose": (Change(), Change({"hose": True}, {"hose_rating": UNLIMITED})),
    "drinking_water_materials": (Change({"hose": True}), STOCK_TANK),
    "check_valve_assumed": (Change({"check_valve": "no"}),),
    "priming_water": (Change(),),
    "hand_force_high": (Change(choice={"hand_force": 100.0}),),
    "long_session": (Change(choice={"seconds": 900.0}),),
    "handle_and_rod": (NOTHING_FITS,),
    "key_facts_unknown": (Change(UNTESTED),),
    "sanitary_hydrant": (Change(at("spigot", "no", "yes")),),
    "house_pressure_high": (Change(site={"target": 80.0 * PSI}),),
    "freezing": (Change({"freezes": "yes", "lift_pump": False}, choice=SUCTION),),
    "freezing_suction": (Change({"lift_pump": False}, choice=SUCTION), Change({"freezes": "yes"})),
    "no_drain_back": (
        Change({"freezes": "unknown"}, choice={"weep_hole_depth": None}),
        Change({"freezes": "yes", "lift_pump": False}, choice=SUCTION),
    ),
    "weep_hole_above_frost": (
        Change({**COLD, "frost_depth": 1.1}),
        Change({**COLD, "freezes": "no"}),
        Change(COLD, choice={"weep_hole_depth": None}),
    ),
    "weep_hole_leak": (Change(choice={"leak_share": MUCH_LEAK}),),
    "drop_pipe_moves": (Change(choice={"stretch_share": MUCH_STRETCH}),),
    "rod_pushed": (
        Change(choice={"return_force": HARD_PUSH}),
        Change({"lift_pump": False}, choice=SUCTION | {"return_force": 2.0 * HARD_PUSH}),
    ),
    "air_logged_tank": (Change({"tank_kind": "diaphragm"}),),
    "acceptance_unknown": (
        Change({"tank_kind": "air_over_water"}, {"tank_acceptance": 1.0, "precharge": 0.0}),
        Change(site={"tank_acceptance": 0.6, "precharge": 18 * PSI}),
        Change(site={"tank_acceptance": 1.0, "precharge": 38 * PSI}),
    ),
    "open_tank_overflow": (Change(),),
    "suction_near_limit": (
        Change(choice=SUCTION | {"suction_lift": 0.99 * NEAR_SUCTION_LIMIT * 6.5}),
        Change(choice={"suction_lift": 30.0}),
    ),
    "cylinder_near_water_level": (
        Change(choice={"submergence": 1.01 * LEAST_SUBMERGENCE}),
        Change({"lift_pump": False}, choice=SUCTION | {"submergence": 0.99 * LEAST_SUBMERGENCE}),
    ),
    "low_yield": (
        Change(choice={"well_volume": 0.021}),
        Change(site={"sustained_yield": 1.01 * LEAST_YIELD}),
    ),
    "running_dry": (Change(UNTESTED, STANDING), Change(site={"casing_area": 0.0})),
    "water_level_falls": (
        Change(choice={"submergence": 1.01 * AMPLE_FALL, "lift_margin": 1.01 * AMPLE_FALL}),
        Change({"level_known": False}, chosen=False),
    ),
    "invented_catalogue": (Change(),),
}
"""What only looks like it would call for a caution."""


def cases(table: dict[str, tuple[Change, ...]]) -> list[Any]:
    return [
        pytest.param(code, change, id=f"{code}-{number}")
        for code, changes in table.items()
        for number, change in enumerate(changes)
    ]


@pytest.mark.parametrize("rule", cautions.rules(), ids=lambda rule: rule.code)
def test_every_caution_has_a_case_that_calls_for_it_and_one_that_does_not(rule: cautions.Caution) -> None:
    assert CALLED[rule.code]
    assert SPARED[rule.code]


def test_no_case_is_about_a_caution_that_is_no_more() -> None:
    assert {*CALLED, *SPARED} == {rule.code for rule in cautions.rules()}


def test_the_harmless_site_calls_for_what_every_fill_calls_for_and_nothing_else() -> None:
    assert Change().codes() == ALWAYS


@pytest.mark.parametrize(("code", "change"), cases(CALLED))
def test_a_caution_is_called_for(code: str, change: Change) -> None:
    assert code in change.codes()


@pytest.mark.parametrize(("code", "change"), cases(SPARED))
def test_a_caution_is_not_called_for_by_what_only_looks_like_it(code: str, change: Change) -> None:
    assert code not in change.codes()


def test_where_nothing_fits_nobody_is_told_how_to_pump() -> None:
    assert NOTHING_FITS.codes() == set()


def test_an_open_tank_calls_for_nothing_that_comes_with_pressure() -> None:
    """Even where everything about the household's pipes is as bad as it can be."""
    worst = {
        **UNKNOWN,
        "tank_kind": "open",
        "tank_condition": "corroded",
        "public_main": "yes",
        "water_heater": "electric",
        "relief_valve": "no",
        "check_valve": "no",
        "electric_pump": "yes",
        "hose": True,
        "connections": (Connection("yard_hydrant", "yes", "no"), Connection("spigot", "no", "no")),
    }
    found = Change(worst, OPEN | UNRATED).codes()

    assert found == {
        *("electrical_isolation", "freezing", "disinfection", "handle_and_rod"),
        *("open_tank_air_gap", "open_tank_drinking_water", "open_tank_drowning", "open_tank_overflow"),
    }


@pytest.mark.parametrize("rule", cautions.rules(), ids=lambda rule: rule.code)
def test_a_caution_needs_all_of_its_circumstances(rule: cautions.Caution) -> None:
    enough = {name for name in (*rule.all, *rule.any[:1]) if not name.startswith("not ")}
    assert rule.applies(enough)
    for name in rule.all:
        plain = name.removeprefix("not ")
        assert not rule.applies(enough ^ {plain})


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


def test_danger_is_kept_for_what_kills() -> None:
    """ANSI Z535.6: danger where death or serious injury will follow, warning where it could."""
    dangers = {rule.code for rule in cautions.rules() if rule.signal == "danger"}
    assert dangers == {"electrical_isolation", "overhead_lines", "well_pit"}


def test_every_circumstance_that_a_site_can_have_may_be_named_by_a_rule() -> None:
    changes = [change for table in (CALLED, SPARED) for several in table.values() for change in several]
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


def test_what_cautions_know_of_a_cylinder_is_what_the_assessment_found() -> None:
    """By hand for the usual case: 25 m to the water, the outlet 0.5 m above ground, and two candidates."""
    case = msgspec.structs.replace(site(HARMLESS_SITE), outlet_height=0.5, people=2.0)
    bare = Case(weep_hole_diameter=0.0)
    holed = Case(weep_hole_diameter=0.001, weep_hole_depth=4 * FOOT)
    found = assessment.assess(case, lineup(bare, holed))
    without, with_hole = (recommended(found, place, 1400.0) for place in (0, 1))

    assert without.cylinder_depth == pytest.approx(25.0 + 4.572)
    assert without.submergence == pytest.approx(4.572)
    assert without.suction_lift == pytest.approx(25.5)
    assert without.seconds == pytest.approx(float(found.fill.seconds.flat[0]) / 2.0)
    assert without.volume == pytest.approx(float(found.fill.volume.flat[0]))
    assert without.hand_force == pytest.approx(float(np.asarray(found.at_end.hand_force).flat[0]))
    assert (without.weep_hole_depth, without.leak_share) == (None, 0.0)
    assert with_hole.weep_hole_depth == pytest.approx(4 * FOOT - 0.5)
    assert 0.0 < with_hole.leak_share < 1.0
    # A metre: rod 71.3 mm², pipe 568.7 mm², water 756.3 mm² (diameters 9.525, 42.164 and 32.461 mm).
    metre = (71.26 * 7900.0 + 568.70 * 1400.0 + 756.33 * 999.7) * 1e-6
    assert without.string_mass == pytest.approx((25.0 + 4.572 + 0.5) * metre, rel=1e-4)
