"""Every code has its sentence, every sentence has its code, and sentences read as sentences."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

import upstroke_service
from upstroke_service.api.problems import STATUSES
from upstroke_service.contract.answers import Sizing
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import LIVESTOCK, PEOPLE
from upstroke_service.reference.operators import PROFILES
from upstroke_service.sizing import cautions, defaults
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.remedies import REMEDIES
from upstroke_service.wording import LANGUAGES, wording

PACKAGE = Path(upstroke_service.__file__).parent
SOURCES = [ast.parse(path.read_text("utf-8")) for path in sorted(PACKAGE.rglob("*.py"))]
EVERY_LANGUAGE = pytest.mark.parametrize("language", LANGUAGES)


def words(language: str, section: str) -> set[str]:
    return set(wording(language).sections[section])


def sections(language: str, group: str) -> set[str]:
    """Names within a group of sections, each of several sentences."""
    named = wording(language).sections
    return {name.removeprefix(f"{group}.") for name in named if name.startswith(f"{group}.")}


def calls(name: str) -> Iterator[ast.Call]:
    """Every call of a function or method of this name in the service."""
    for source in SOURCES:
        for node in ast.walk(source):
            if isinstance(node, ast.Call) and ast.unparse(node.func).rpartition(".")[2] == name:
                yield node


def texts(node: ast.AST) -> set[str]:
    """The words that an expression may come to."""
    if isinstance(node, ast.IfExp):
        return texts(node.body) | texts(node.orelse)
    return {node.value} if isinstance(node, ast.Constant) and isinstance(node.value, str) else set()


def reason_codes() -> set[str]:
    """Codes that findings are made with: written in the call, or held in a variable named ``code``."""
    found = set().union(*(texts(call.args[1]) for call in calls("finding")))
    found |= set().union(*(texts(call.args[2]) for call in calls("_shortened")))
    for source in SOURCES:
        for node in ast.walk(source):
            if isinstance(node, ast.Assign) and [ast.unparse(target) for target in node.targets] == ["code"]:
                found |= texts(node.value)
    return found


def said(section: str) -> set[str]:
    """Codes of a section that are written where they are said."""
    found: set[str] = set()
    for call in calls("say"):
        if texts(call.args[0]) == {section}:
            found |= texts(call.args[1])
    return found


@EVERY_LANGUAGE
def test_every_reason_has_a_sentence_and_every_sentence_a_reason(language: str) -> None:
    assert words(language, "reason") == reason_codes()


@EVERY_LANGUAGE
def test_every_general_sentence_is_said(language: str) -> None:
    assert words(language, "general") == said("general")


@EVERY_LANGUAGE
def test_every_verdict_has_a_sentence_and_every_sentence_a_verdict(language: str) -> None:
    verdicts = set(get_args(get_type_hints(Sizing)["verdict"]))

    assert words(language, "verdict") == verdicts


@EVERY_LANGUAGE
def test_everything_that_can_govern_a_ceiling_has_words(language: str) -> None:
    assert words(language, "limit") == {*LIMITS, "suction_lift", "casing", "handle_travel"}


@EVERY_LANGUAGE
def test_every_remedy_and_every_other_plausible_answer_has_words(language: str) -> None:
    assert words(language, "remedy") == set(REMEDIES)
    assert words(language, "alternative") == {
        one.name for row in defaults.table().values() for one in row.others
    }


@EVERY_LANGUAGE
def test_what_is_said_of_tanks_is_written_where_it_is_said(language: str) -> None:
    assert words(language, "tank") == said("tank")


@EVERY_LANGUAGE
def test_every_caution_has_what_to_do_why_and_who(language: str) -> None:
    rules = {rule.code for rule in cautions.rules()}

    assert sections(language, "caution") == rules
    assert all(words(language, f"caution.{code}") == {"text", "why", "who"} for code in rules)


@EVERY_LANGUAGE
def test_every_default_has_a_sentence_and_every_sentence_a_default(language: str) -> None:
    assert words(language, "assumption") == set(defaults.table())


@EVERY_LANGUAGE
def test_every_default_that_is_worth_asking_for_has_a_question_with_a_reason(language: str) -> None:
    asked = {field for field, row in defaults.table().items() if row.ask}

    assert sections(language, "question") == asked
    assert all(words(language, f"question.{field}") == {"text", "why"} for field in asked)


@EVERY_LANGUAGE
def test_every_use_of_water_has_words(language: str) -> None:
    assert words(language, "use") == words(language, "use_one") == {*fixtures.USES, "person_day"}


@EVERY_LANGUAGE
def test_every_need_has_a_line_for_one_and_for_several_a_name_and_a_reason_for_each_figure(
    language: str,
) -> None:
    needs = {**PEOPLE, **LIVESTOCK}

    for section in ("need_one", "need_many", "need_name"):
        assert words(language, section) == {*needs, *fixtures.USES}
    for name, need in needs.items():
        assert words(language, f"need_basis.{name}") == {figure for figure, _ in need.figures()}
    for use in fixtures.USES:
        assert words(language, f"use_basis.{use}") == {"volume", "minimum_pressure", "height", "flow"}
    by_hand = {f"{code}_by_hand" for code in ("fills", "lasts")}
    needed = {"nothing", "needed", "needed_with_animals", "needed_exactly"}
    assert words(language, "daily") == needed | {"fills", "lasts"} | by_hand
    assert words(language, "need_range") == set(needs)
    for section in ("covered_one", "covered_many"):
        assert words(language, section) == {*fixtures.USES, "person_day"}
    assert words(language, "reserve") == {"covers", "covers_one", "little", "nothing"}
    assert words(language, "covered") == {"or"}


@EVERY_LANGUAGE
def test_every_operator_has_a_name_a_description_and_a_reason_for_each_figure(language: str) -> None:
    assert words(language, "operator") == words(language, "operator_about") == set(PROFILES)
    for name, one in PROFILES.items():
        assert words(language, f"operator_basis.{name}") == {figure for figure, _ in one.figures()}


@EVERY_LANGUAGE
def test_every_problem_has_a_title_and_an_explanation(language: str) -> None:
    assert words(language, "problem") == {
        f"{code}.{part}" for code in STATUSES for part in ("title", "about")
    }


@EVERY_LANGUAGE
def test_there_is_no_section_that_nothing_reads(language: str) -> None:
    known = {
        "general",
        "verdict",
        "limit",
        "reason",
        "use",
        "use_one",
        "assumption",
        "problem",
        "caution",
        "question",
    }
    known |= {"operator", "operator_about", "operator_basis"}
    known |= {"need_one", "need_many", "need_name", "need_basis", "need_range", "use_basis", "daily"}
    known |= {"reserve", "covered", "covered_one", "covered_many"}
    known |= {f"hookup_{name}" for name in HOOKUP_TABLES} | {"open", "tank"}
    known |= {"remedy", "alternative", "consequence"}
    known |= {"fault", "batch", "contradiction", "duration", "unit", "formula"}
    known |= {name for name in wording(language).sections if name.startswith("report")}

    assert {name.partition(".")[0] for name in wording(language).sections} == known


PRESSURES = re.compile(r"{(start|end|target|reach|pressure|ceiling)}|psi|kPa|pressure|presión")


@EVERY_LANGUAGE
def test_what_is_said_of_an_open_tank_stands_in_for_a_sentence_and_names_no_pressure(language: str) -> None:
    usual = wording(language).sections
    instead = {
        name.removeprefix("open."): entries for name, entries in usual.items() if name.startswith("open.")
    }
    open_tank = wording(language, open_tank=True)

    assert instead
    for section, entries in instead.items():
        assert set(entries) <= set(usual[section])
        for code, sentence in entries.items():
            assert sentence != usual[section][code]
            assert open_tank.sections[section][code] == sentence
            assert not PRESSURES.search(sentence)


@EVERY_LANGUAGE
def test_no_reason_names_a_pressure_of_an_open_tank(language: str) -> None:
    open_tank = wording(language, open_tank=True).sections

    named = {
        code
        for section in ("verdict", "reason", "remedy")
        for code, sentence in open_tank[section].items()
        if PRESSURES.search(sentence)
    }
    assert named == ONLY_UNDER_PRESSURE


# Said of pressure tanks alone.
ONLY_UNDER_PRESSURE = {
    "curve_stops",
    "target_below_storage",
    "air_short",
    "volume_above_limit",
    "volume_above_tank",
    "drawdown_short",
    "no_tank_serves",
    "flush_needs_pressure",
    "flush_needs_more_pressure",
    "nothing_usable",
    "animals_without_pressure",
}

HOOKUP_TABLES = (
    *("way", "place", "about", "summary", "who", "refusal", "condition", "advantage", "drawback"),
    *("check", "part", "step", "question"),
)
FRAGMENTS = (
    "limit",
    "alternative",
    "consequence",
    "use",
    "use_one",
    "need_one",
    "need_many",
    "need_name",
    "covered",
    "covered_one",
    "covered_many",
    "operator",
    "hookup_way",
    "hookup_place",
    "fault",
    "duration",
    "unit",
    "formula",
)
TITLES = re.compile(r"\.title$")


@EVERY_LANGUAGE
def test_a_sentence_begins_with_a_capital_and_ends_with_a_stop(language: str) -> None:
    unfinished = [
        (section, code)
        for section, entries in wording(language).sections.items()
        for code, sentence in entries.items()
        if section not in FRAGMENTS
        and not section.startswith("report")
        and not TITLES.search(code)
        and not re.fullmatch(r"¿?[A-ZÁÉÍÓÚÑ{].*[.?}]", sentence)
    ]

    assert unfinished == []


@EVERY_LANGUAGE
def test_a_sentence_has_no_stray_spaces_or_braces(language: str) -> None:
    for entries in wording(language).sections.values():
        for sentence in entries.values():
            plain = re.sub(r"{{.*}}|{[a-z_]+}", "x", sentence)
            assert sentence == " ".join(sentence.split())
            assert "{" not in plain
            assert "}" not in plain


@EVERY_LANGUAGE
def test_a_question_ends_with_a_question_mark_or_a_hint(language: str) -> None:
    named = wording(language).sections

    assert all("?" in named[f"question.{field}"]["text"] for field in sections(language, "question"))


def test_what_has_no_sentence_is_an_error_and_so_is_a_missing_number() -> None:
    words_in_english = wording("en")

    with pytest.raises(KeyError):
        words_in_english.say("reason", "no_such_reason")
    with pytest.raises(KeyError):
        words_in_english.say("reason", "fill", strokes="12")
