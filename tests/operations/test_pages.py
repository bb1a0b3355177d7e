"""Pages about the contract: whole, valid, and made of nothing from elsewhere."""

import itertools
import json
import re
import xml.etree.ElementTree as ET
from typing import Any
from urllib.parse import urldefrag, urlsplit

import html5lib
import pytest
from tests.service.in_process import start

from upstroke_service.api.problems import STATUSES

SERVICE = start()
CONTRACT: dict[str, Any] = SERVICE.get("/openapi.json").json()
OPERATIONS = [
    (method.upper(), path, operation)
    for path, methods in CONTRACT["paths"].items()
    for method, operation in methods.items()
]
IDS = [operation["operationId"] for _, _, operation in OPERATIONS]
PATHS = ["/docs", "/docs/schemas", *(f"/docs/{name}" for name in IDS), "/problems/contradictory-facts"]


def parsed(path: str) -> ET.Element:
    """The page, which has to be valid."""
    response = SERVICE.get(path)
    assert response.status_code == 200
    assert response.headers["Content-Type"] == "text/html; charset=utf-8"
    root: ET.Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(response.text)
    return root


def text(element: ET.Element) -> str:
    return " ".join("".join(element.itertext()).split())


@pytest.mark.parametrize("path", PATHS)
def test_a_page_is_valid_html_with_one_heading_and_a_language(path: str) -> None:
    page = parsed(path)
    ids = [element.get("id") for element in page.iter() if element.get("id")]
    levels = [int(element.tag[1]) for element in page.iter() if re.fullmatch("h[1-6]", str(element.tag))]

    assert page.get("lang") == "en"
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in itertools.pairwise(levels))
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("path", PATHS)
def test_a_page_loads_and_links_to_what_this_service_serves_and_nothing_else(path: str) -> None:
    page = parsed(path)
    named = [
        value
        for element in page.iter()
        for name, value in element.items()
        if name in {"href", "src", "action", "srcset", "data", "poster"}
    ]

    assert named
    for address in named:
        assert not urlsplit(address).netloc
        assert not urlsplit(address).scheme
        target, fragment = urldefrag(address)
        response = SERVICE.get(target or path)
        assert response.status_code == 200
        assert not fragment or f'id="{fragment}"' in response.text


@pytest.mark.parametrize("path", PATHS)
def test_a_page_keeps_to_its_content_policy(path: str) -> None:
    """Nothing inline: the policy refuses it."""
    page = parsed(path)

    assert "unsafe" not in SERVICE.get(path).headers["Content-Security-Policy"]
    assert not [element for element in page.iter() if element.tag in {"script", "style"}]
    assert not [
        name for element in page.iter() for name in element.attrib if name == "style" or name[:2] == "on"
    ]


def test_the_style_loads_nothing() -> None:
    response = SERVICE.get("/docs/style.css")

    assert response.headers["Content-Type"].startswith("text/css")
    assert "url(" not in response.text
    assert "@import" not in response.text


def test_every_operation_is_listed() -> None:
    listed = text(parsed("/docs"))

    for method, path, operation in OPERATIONS:
        assert f"{operation['summary']} {method} {path}" in listed
        assert operation["description"] in listed


@pytest.mark.parametrize(("method", "path", "operation"), OPERATIONS, ids=IDS)
def test_a_page_says_all_that_the_contract_says_of_an_operation(
    method: str, path: str, operation: dict[str, Any]
) -> None:
    page = parsed(f"/docs/{operation['operationId']}")
    shown = text(page)
    examples = [json.loads("".join(pre.itertext())) for pre in page.iter("pre")]

    assert f"{method} {path}" in shown
    for parameter in operation["parameters"]:
        assert parameter["description"] in shown
    for status, response in operation["responses"].items():
        assert status in [text(heading) for heading in page.iter("h3")]
        assert " ".join(response["description"].replace("`", "").split()) in shown
    contents = [response.get("content", {}) for response in operation["responses"].values()]
    contents.append(operation.get("requestBody", {}).get("content", {}))
    for content in contents:
        for described in content.values():
            for example in described.get("examples", {}).values():
                assert example["value"] in examples


def test_every_field_of_every_schema_is_described() -> None:
    shown = text(parsed("/docs/schemas"))

    for name, schema in CONTRACT["components"]["schemas"].items():
        assert name in shown
        fields = schema.get("properties", {})
        if fields.keys() == {"value", "unit"} and "const" in fields["unit"]:
            assert fields["unit"]["const"] in shown
            continue
        for field, described in fields.items():
            assert field in shown
            assert " ".join(described.get("description", "").replace("`", "").split()) in shown


@pytest.mark.parametrize("code", STATUSES)
def test_a_problem_is_explained(code: str) -> None:
    shown = text(parsed(f"/problems/{code}"))

    assert f"HTTP status {STATUSES[code]}, code {code}" in shown


def test_an_unknown_page_is_a_problem() -> None:
    assert SERVICE.get("/docs/nothing").json()["code"] == "not-found"
