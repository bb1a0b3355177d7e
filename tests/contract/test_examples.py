"""The examples of the contract work."""

import json
from typing import Any
from urllib.parse import urlencode

import msgspec
import pytest
from tests.contract.documents import LINES, OPERATIONS, answer_validator, faults, in_lines, json_of, validator
from tests.service.in_process import start

from upstroke_service.api import bodies
from upstroke_service.api.formula_resources import FORMULA_HANDLERS
from upstroke_service.api.resources import HANDLERS

CALCULATIONS = [name for name, (_, _, operation) in OPERATIONS.items() if "requestBody" in operation]
FORMULAS = [name for name in OPERATIONS if name in {one.operation_id for one in FORMULA_HANDLERS}]
LISTINGS = [name for name in OPERATIONS if name not in {*CALCULATIONS, *FORMULAS}]
REQUESTS = [
    (operation_id, name)
    for operation_id in CALCULATIONS
    for name in json_of(OPERATIONS[operation_id][2]["requestBody"])["examples"]
]
KINDS = {
    handler.operation_id: handler.opt["operation"].request
    for handler in HANDLERS
    if "operation" in handler.opt
}
SERVICE = start()


def answered(operation_id: str, value: object) -> Any:
    """The answer to a request; in a batch, to its only line."""
    path, _, operation = OPERATIONS[operation_id]
    if not in_lines(operation):
        return SERVICE.answer(path, value)
    response = SERVICE.post(path, value, Content_Type=LINES)
    assert response.status_code == 200
    line, end = map(json.loads, response.text.splitlines())
    assert faults(answer_validator(operation_id), end) == []
    return line


@pytest.mark.parametrize(("operation_id", "name"), REQUESTS)
def test_an_example_request_decodes_and_is_answered(operation_id: str, name: str) -> None:
    _, _, operation = OPERATIONS[operation_id]
    body = json_of(operation["requestBody"])
    value = body["examples"][name]["value"]

    assert faults(validator(body["schema"]), value) == []
    assert bodies.decode(msgspec.json.encode(value), KINDS[operation_id]) == msgspec.convert(
        value, KINDS[operation_id]
    )
    assert faults(answer_validator(operation_id), answered(operation_id, value)) == []


@pytest.mark.parametrize("operation_id", CALCULATIONS)
def test_an_example_answer_is_what_the_service_answers_to_the_request_of_that_name(operation_id: str) -> None:
    _, _, operation = OPERATIONS[operation_id]
    requests = json_of(operation["requestBody"])["examples"]
    answers = json_of(operation["responses"]["200"])["examples"]

    assert answers
    for name, example in answers.items():
        assert faults(answer_validator(operation_id), example["value"]) == []
        assert example["value"] == answered(operation_id, requests[name]["value"])


@pytest.mark.parametrize("operation_id", LISTINGS)
def test_an_example_of_what_is_listed_is_what_the_service_lists_by_default(operation_id: str) -> None:
    path, _, operation = OPERATIONS[operation_id]
    (example,) = json_of(operation["responses"]["200"])["examples"].values()

    assert faults(answer_validator(operation_id), example["value"]) == []
    assert example["value"] == SERVICE.get(path.format(name="demo")).json()


@pytest.mark.parametrize("operation_id", FORMULAS)
def test_an_example_of_a_formula_is_what_it_answers_to_the_examples_of_its_parameters(
    operation_id: str,
) -> None:
    path, _, operation = OPERATIONS[operation_id]
    query = {
        one["name"]: one["example"]
        for one in operation["parameters"]
        if one["required"] or one["name"].startswith("static_water_level")
    }
    for form, media_type in {"text": "text/plain", "csv": "text/csv"}.items():
        content = operation["responses"]["200"]["content"][media_type]
        (example,) = content["examples"].values()
        assert example["value"] == SERVICE.get(f"{path}?{urlencode({**query, 'format': form})}").text
        assert example["summary"].startswith("Invented")


@pytest.mark.parametrize("operation_id", OPERATIONS)
def test_every_problem_has_an_example_that_names_its_status_and_code(operation_id: str) -> None:
    for status, answer in OPERATIONS[operation_id][2]["responses"].items():
        if status in {"200", "304"}:
            continue
        examples = answer["content"]["application/problem+json"]["examples"]
        assert examples
        for code, example in examples.items():
            assert faults(validator({"$ref": "#/components/schemas/Problem"}), example["value"]) == []
            assert (example["value"]["code"], str(example["value"]["status"])) == (code, status)
            assert f"({code})" in answer["description"]


@pytest.mark.parametrize("operation_id", CALCULATIONS)
def test_every_example_says_that_it_is_invented(operation_id: str) -> None:
    operation = OPERATIONS[operation_id][2]
    examples = [
        *json_of(operation["requestBody"])["examples"].values(),
        *json_of(operation["responses"]["200"])["examples"].values(),
    ]

    assert all(example["summary"].startswith("Invented") for example in examples)
