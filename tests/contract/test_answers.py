"""Every answer keeps to its schema and to one system of units."""

import functools
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from tests.contract.documents import (
    LINES,
    OPERATIONS,
    SCHEMAS,
    Node,
    answer_validator,
    faults,
    in_lines,
    json_of,
    validator,
)
from tests.service.in_process import start

SERVICE = start()
BATCHES = {path for path, _, operation in OPERATIONS.values() if in_lines(operation)}
SYSTEMS = ("us", "si")
PUBLISHED: dict[str, Node] = {kind["name"]: kind for kind in SERVICE.get("/v1/units").json()["outputs"]}
# Units that one system alone uses, as sentences spell them ("in" is also a word).
FOREIGN = {
    "us": re.compile(r"\d (m|mm|kPa|L|mL|N|kJ|°C)\b"),
    "si": re.compile(r"\d (ft|psi|gal|fl oz|lbf|kcal|°F)\b"),
}


def asked() -> Iterator[tuple[str, str, Any]]:
    """Every operation, with every example request in each system of units."""
    for operation_id, (path, method, operation) in OPERATIONS.items():
        address = path.format(name="demo")
        in_systems = [f"{address}?units={system}" for system in SYSTEMS]
        addresses = (
            in_systems if any(one["name"] == "units" for one in operation["parameters"]) else [address]
        )
        for one in addresses:
            if operation["tags"] == ["formulas"]:
                continue  # no JSON, and held against calculations elsewhere
            if method == "get":
                yield operation_id, one, None
            else:
                for example in json_of(operation["requestBody"])["examples"].values():
                    yield operation_id, one, example["value"]


ASKED = list(asked())


def answered(address: str, body: object) -> Any:
    if address.partition("?")[0] in BATCHES:
        response = SERVICE.post(address, body, Content_Type=LINES)
        return json.loads(response.text.splitlines()[0])
    response = SERVICE.get(address) if body is None else SERVICE.post(address, body)
    assert response.status_code == 200
    return response.json()


def measured(schema: Node, instance: Any) -> Iterator[tuple[str, str]]:
    """Kind and unit of every quantity of an answer; the kind of a column is 'Series'."""
    if "anyOf" in schema and isinstance(instance, dict):
        schema = next(one for one in schema["anyOf"] if not faults(validator(one), instance))
    name = schema.get("$ref", "").rpartition("/")[2]
    if name:
        schema = SCHEMAS[name]
    if name in PUBLISHED or name == "Series":
        yield name, instance["unit"]
    elif isinstance(instance, list):
        for item in instance:
            yield from measured(schema["items"], item)
    elif isinstance(instance, dict):
        for field, value in instance.items():
            if field == "unit":
                yield name, value
            yield from measured(schema["properties"][field], value)


def sentences(instance: Any) -> Iterator[str]:
    """The sentences about this site: findings and summary. What is said of every site may name both systems."""
    if isinstance(instance, dict):
        if {"code", "text"} <= instance.keys() and "who" not in instance:
            yield instance["text"]
        yield from [instance["summary"]] if "summary" in instance else []
        for value in instance.values():
            yield from sentences(value)
    elif isinstance(instance, list):
        for item in instance:
            yield from sentences(item)


def _names(answer: Node) -> list[str]:
    """Names of the cylinders, which may hold a size in their maker's unit."""
    return [candidate["cylinder"]["name"] for candidate in answer.get("candidates", [])]


def _without(text: str, words: list[str]) -> str:
    return functools.reduce(lambda left, word: left.replace(word, ""), words, text)


@pytest.mark.parametrize(("operation_id", "address", "body"), ASKED)
def test_an_answer_keeps_to_its_schema(operation_id: str, address: str, body: object) -> None:
    assert faults(answer_validator(operation_id), answered(address, body)) == []


@pytest.mark.parametrize(("operation_id", "address", "body"), [one for one in ASKED if "units=" in one[1]])
def test_an_answer_has_the_published_units_of_one_system(
    operation_id: str, address: str, body: object
) -> None:
    system = address.rpartition("=")[2]
    schema = json_of(OPERATIONS[operation_id][2]["responses"]["200"])["schema"]
    units = {name: kind[system] for name, kind in PUBLISHED.items()}
    known = {*units.values(), "1", f"{units['WaterVolume']}/{units['Pressure']}"}
    answer = answered(address, body)
    found = list(measured(schema, answer))

    without_figures = answer.get("result", {}).get("verdict") == "needs_facts"
    assert found or without_figures or operation_id == "list_cautions"
    assert [(name, unit) for name, unit in found if unit != units.get(name, unit) or unit not in known] == []
    said = [_without(text, _names(answer)) for text in sentences(answer)]
    assert [text for text in said if FOREIGN[system].search(text)] == []
