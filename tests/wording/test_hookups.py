"""Every rule of hookups has its sentence, every sentence its rule, and no sentence lacks a number."""

import re
from typing import get_args

import pytest

from upstroke_service.sizing import hookups
from upstroke_service.wording import LANGUAGES, wording

EVERY_LANGUAGE = pytest.mark.parametrize("language", LANGUAGES)
PLACEHOLDER = re.compile(r"{([a-z]+)}")
BOOK = hookups.book()
TABLES = ("refusal", "condition", "advantage", "drawback", "check", "part", "step")


def words(language: str, section: str) -> dict[str, str]:
    return wording(language).sections[section]


@EVERY_LANGUAGE
@pytest.mark.parametrize("table", TABLES)
def test_every_rule_has_a_sentence_and_every_sentence_a_rule(language: str, table: str) -> None:
    assert set(words(language, f"hookup_{table}")) == {row.code for row in getattr(BOOK, table)}


@EVERY_LANGUAGE
@pytest.mark.parametrize("table", TABLES)
def test_a_sentence_names_the_numbers_that_its_rule_names(language: str, table: str) -> None:
    for row in getattr(BOOK, table):
        named = {"length", "rating"} if table == "part" else {"value", "limit"}
        wanted = {key for key in named if getattr(row, key)}
        assert set(PLACEHOLDER.findall(words(language, f"hookup_{table}")[row.code])) == wanted


@EVERY_LANGUAGE
def test_every_way_has_a_name_and_a_description(language: str) -> None:
    codes = {way.code for way in BOOK.way}

    assert set(words(language, "hookup_way")) == set(words(language, "hookup_about")) == codes


@EVERY_LANGUAGE
def test_everyone_who_may_do_something_has_words(language: str) -> None:
    assert set(words(language, "hookup_who")) == set(get_args(hookups.Who))
    assert {task.who for table in TABLES for task in getattr(BOOK, table) if hasattr(task, "who")} == set(
        get_args(hookups.Who)
    )


@EVERY_LANGUAGE
def test_every_verdict_has_a_summary(language: str) -> None:
    assert set(words(language, "hookup_summary")) == {*get_args(hookups.Verdict), "nothing"} - {"not_advised"}


@EVERY_LANGUAGE
def test_every_question_has_a_text_and_a_reason_and_names_the_connection_it_is_about(language: str) -> None:
    named = wording(language).sections
    asked = {name.removeprefix("hookup_question.") for name in named if name.startswith("hookup_question.")}

    assert asked == {question.pointer for question in BOOK.question}
    for pointer in asked:
        entry = named[f"hookup_question.{pointer}"]
        assert entry.keys() == {"text", "why"}
        assert entry["text"].endswith("?")
        assert ("{place}" in entry["text"]) == ("*" in pointer)


NEVER: dict[str, dict[str, dict[str, tuple[str, ...]]]] = {
    "en": {
        "refusal": {
            "public_main_connected": ("Do not join",),
            "vacuum_breaker": ("Never pump backwards", "never take one off"),
            "sanitary_hydrant": ("Don't use it as an inlet",),
        },
        "condition": dict.fromkeys(
            ("code_allows_hydrant", "code_allows_spigot"),
            ("may not meet today's code", "have it protected again afterwards"),
        ),
        "step": {
            **dict.fromkeys(("breaker_off", "any_breaker_off"), ("lock it and tag it",)),
            "frost_hydrant": ("Never leave the hose attached",),
        },
    },
    "es": {
        "refusal": {
            "public_main_connected": ("No conecte",),
            "vacuum_breaker": ("Nunca bombee en sentido contrario", "ni lo quite"),
            "sanitary_hydrant": ("No lo use como entrada",),
        },
        "condition": {
            "code_allows_hydrant": ("no cumpla el código actual", "que lo protejan de nuevo después"),
            "code_allows_spigot": ("no cumpla el código actual", "que la protejan de nuevo después"),
        },
        "step": {
            **dict.fromkeys(("breaker_off", "any_breaker_off"), ("póngale candado y etiqueta",)),
            "frost_hydrant": ("nunca deje la manguera conectada",),
        },
    },
}


@EVERY_LANGUAGE
def test_what_must_never_be_done_is_said(language: str) -> None:
    for table, codes in NEVER[language].items():
        for code, phrases in codes.items():
            said = words(language, f"hookup_{table}")[code]
            assert all(phrase in said for phrase in phrases), said
