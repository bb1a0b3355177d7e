"""Every language says the same, with the same numbers, and nothing in another language."""

import json
import string
import tomllib
from collections.abc import Iterator
from importlib import resources
from typing import Any

import pytest
from litestar.testing import TestClient

from upstroke_service.api.app import create_app
from upstroke_service.api.languages import chosen
from upstroke_service.api.operation import quotes
from upstroke_service.wording import LANGUAGES, speaking, spoken, wording

OTHERS = LANGUAGES[1:]

FAULTS: dict[str, tuple[str, str, Any]] = {
    "unknown field": ("POST", "/v1/sizings", {"wel": {}}),
    "wrong type": ("POST", "/v1/sizings", {"well": 5, "points": "many"}),
    "wrong unit": ("POST", "/v1/sizings", {"pressures": {"target": {"value": 50, "unit": "ft"}}}),
    "no quantity": ("POST", "/v1/sizings", {"pressures": {"target": 50}}),
    "out of bounds": ("POST", "/v1/sizings", {"pressures": {"target": {"value": 5e9, "unit": "psi"}}}),
    "lacking field": ("POST", "/v1/sizings", {"pressures": {"target": {"value": 5}}}),
    "too long": ("POST", "/v1/sizings", {"client_reference": "x" * 5000}),
    "wrong word": ("POST", "/v1/sizings", {"site": {"freezes": "perhaps"}}),
    "contradiction": (
        "POST",
        "/v1/sizings",
        {"tank": {"kind": "open", "precharge": {"value": 30, "unit": "psi"}}},
    ),
    "depths": (
        "POST",
        "/v1/sizings",
        {
            "well": {
                "static_water_level": {"value": 90, "unit": "ft"},
                "well_depth": {"value": 80, "unit": "ft"},
            }
        },
    ),
    "no catalogue": ("POST", "/v1/sizings", {"selection": {"catalogue": "nowhere"}}),
    "no cylinder": ("POST", "/v1/sizings", {"selection": {"ids": ["nothing"]}}),
    "unknown query": ("POST", "/v1/sizings?unit=si", {}),
    "wrong query": ("POST", "/v1/sizings?units=metric", {}),
    "formula": ("GET", "/v1/formulas/strokes?target=fifty&x=1&precharge=28&total_volume=&units=me", None),
    "not found": ("GET", "/v1/nothing", None),
    "method": ("DELETE", "/v1/sizings", None),
    "long address": ("GET", "/v1/operators?" + "x" * 9000, None),
}

LISTINGS = (
    "/v1/operators",
    "/v1/defaults",
    "/v1/water-uses",
    "/v1/units",
    "/v1/catalogues",
    "/v1/catalogues/demo",
)

SAME = {"basis", "citation", "citations", "notice", "name", "title", "id", "client_reference"}
"""Members with titles of sources, names of products and what a catalogue's owner wrote."""


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient[Any]]:
    with TestClient(create_app()) as started:
        yield started


def _ask(client: TestClient[Any], method: str, path: str, body: Any, language: str) -> Any:
    return client.request(method, path, json=body, headers={"Accept-Language": language})


def _leaves(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    if isinstance(node, dict):
        for name, value in node.items():
            yield from _leaves(value, (*path, name))
    elif isinstance(node, list):
        for place, value in enumerate(node):
            yield from _leaves(value, (*path, place))
    else:
        yield path, node


def _sentences(document: Any) -> dict[tuple[str | int, ...], str]:
    """What reads as a sentence or a phrase: words with a space between, outside of names and sources."""
    return {
        path: value
        for path, value in _leaves(document)
        if isinstance(value, str) and " " in value and path[-1] not in SAME
    }


def _rest(document: Any) -> dict[tuple[str | int, ...], Any]:
    """All but what is said."""
    said = {"calculation_id", "request_id", "text", "summary"}
    return {
        path: value
        for path, value in _leaves(document)
        if path[-1] not in said and not (isinstance(value, str) and (" " in value or path[-1] in SAME))
    }


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_is_there_with_the_same_placeholders(language: str) -> None:
    # Read from its folder alone: what it lacks would be said in the first language.
    own = _of_folder(language)
    expected = _of_folder(LANGUAGES[0])

    assert own == expected


def _of_folder(language: str) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for file in resources.files("upstroke_service.wording").joinpath(language).iterdir():
        if file.name.endswith(".toml"):
            for path, text in _leaves(tomllib.loads(file.read_text("utf-8"))):
                names = {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}
                found["/".join(map(str, (file.name, *path)))] = sorted(names)
    return found


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", quotes())
def test_an_answer_is_in_one_language_with_the_same_numbers(
    client: TestClient[Any], name: str, language: str
) -> None:
    english, other = (
        _ask(client, "POST", "/v1/sizings", quotes()[name], asked).json() for asked in ("en", language)
    )

    assert _sentences(english).keys() == _sentences(other).keys()
    assert [text for path, text in _sentences(other).items() if _sentences(english)[path] == text] == []
    assert _rest(english) == _rest(other)
    assert english["calculation_id"] != other["calculation_id"]


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("path", LISTINGS)
def test_what_is_looked_up_is_in_one_language(client: TestClient[Any], path: str, language: str) -> None:
    english, other = (_ask(client, "GET", path, None, asked) for asked in ("en", language))

    said, told = _sentences(english.json()), _sentences(other.json())
    assert [text for place, text in told.items() if said[place] == text] == []
    assert _rest(english.json()) == _rest(other.json())
    assert (english.headers["etag"] == other.headers["etag"]) == (english.content == other.content)


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", FAULTS)
def test_a_problem_is_in_one_language(client: TestClient[Any], name: str, language: str) -> None:
    english, other = (_ask(client, *FAULTS[name], asked) for asked in ("en", language))

    assert english.status_code == other.status_code >= 400
    said, told = _sentences(english.json()), _sentences(other.json())
    assert said.keys() == told.keys()
    assert [text for path, text in told.items() if said[path] == text] == []
    assert other.headers["content-language"] == language
    assert "Accept-Language" in other.headers["vary"]
    assert [one["pointer"] for one in english.json().get("errors", [])] == [
        one["pointer"] for one in other.json().get("errors", [])
    ]


def test_a_formula_says_what_it_rests_on_in_the_language_asked_for(client: TestClient[Any]) -> None:
    path = "/v1/formulas/stored-pressures?stored_volume=5&stored_volume_unit=gal&total_volume=44"
    path += "&total_volume_unit=gal&format=csv"
    english, spanish = (_ask(client, "GET", path, None, asked).text for asked in ("en", "es"))

    assert "Pressure at a stored volume,model version" in english
    assert "Presión con un volumen guardado,versión del modelo" in spanish
    assert english.split(",")[:9] == spanish.split(",")[:9]


# RFC 9110, sections 12.4.2 and 12.5.4, and the lookup of RFC 4647, section 3.4.
NEGOTIATED = {
    "": "en",
    "es": "es",
    "ES-mx": "es",
    "es-419, en;q=0.9": "es",
    "en-US, es;q=0.9": "en",
    "en;q=0.4, es;q=0.5": "es",
    "en;q=0.4,es-MX ; q=0.41": "es",
    "fr, es;q=0.2": "es",
    "fr": "en",
    "*": "en",
    "en;q=0, *": "es",
    "es;q=0": "en",
    "es;q=0, en;q=0": "en",
    "es;q=2": "en",
    "est": "en",
    "es_MX": "en",
    ";;,=": "en",
}


@pytest.mark.parametrize(("accepted", "language"), NEGOTIATED.items())
def test_the_language_is_the_one_wanted_most(client: TestClient[Any], accepted: str, language: str) -> None:
    assert chosen(accepted) == language
    reply = _ask(client, "GET", "/v1/operators", None, accepted)
    assert (reply.status_code, reply.headers["content-language"]) == (200, language)
    assert "Accept-Language" in reply.headers["vary"]


def test_an_entity_tag_of_one_language_is_none_of_another(client: TestClient[Any]) -> None:
    tag = _ask(client, "GET", "/v1/operators", None, "es").headers["etag"]

    def status(language: str) -> int:
        headers = {"Accept-Language": language, "If-None-Match": tag}
        return client.get("/v1/operators", headers=headers).status_code

    assert (status("es-MX"), status("en")) == (304, 200)


def test_pages_for_developers_stay_in_the_first_language(client: TestClient[Any]) -> None:
    assert _ask(client, "GET", "/openapi.json", None, "es").json() == json.loads(
        client.get("/openapi.json").content
    )
    assert "content-language" not in _ask(client, "GET", "/livez", None, "es").headers


def test_a_language_is_spoken_for_a_while_only() -> None:
    with speaking("es"):
        assert spoken() == "es"
    assert spoken() == LANGUAGES[0]


@pytest.mark.parametrize("language", OTHERS)
def test_of_an_open_tank_the_same_is_said_differently(language: str) -> None:
    differing = {name for name in wording(LANGUAGES[0]).sections if name.startswith("open.")}

    assert differing
    assert differing <= wording(language).sections.keys()
