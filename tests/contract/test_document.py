"""The contract is valid, strict, and says what everything in it means."""

import jsonschema_rs
import pytest
from schemathesis.specs.openapi.definitions import OPENAPI_31
from tests.contract.documents import (
    DOCUMENT,
    OPERATIONS,
    SCHEMAS,
    Node,
    faults,
    json_of,
    objects,
    operations,
    reachable,
)

from upstroke_service.contract.quantities import INPUTS, OUTPUTS

REQUESTS = {
    json_of(operation["requestBody"])["schema"]["$ref"].rpartition("/")[2]
    for _, _, operation in operations()
    if "requestBody" in operation
}
ASKED = sorted(set().union(*(reachable(name) for name in REQUESTS)))
# A schema that many fields share can't say what one of them means.
SHARED = {kind.__name__ for kind in (*INPUTS, *OUTPUTS)} | {"Series", "Source", "Finding"}


def test_the_contract_is_valid_openapi_3_1() -> None:
    assert faults(jsonschema_rs.Draft202012Validator(OPENAPI_31), DOCUMENT) == []


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_schema_is_valid_json_schema(name: str) -> None:
    jsonschema_rs.meta.validate(SCHEMAS[name])


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_schema_and_property_says_what_it_means(name: str) -> None:
    silent = [
        f"{place}/{field}"
        for place, schema in objects(SCHEMAS[name], name)
        for field, value in schema["properties"].items()
        if not _meaning(value)
    ]

    assert SCHEMAS[name]["description"]
    assert silent == []


def _meaning(value: Node) -> str:
    """A property's own description, or that of the block of fields which it holds."""
    if "description" in value:
        return str(value["description"])
    name = value.get("items", value).get("$ref", "").rpartition("/")[2]
    return (
        "" if name in SHARED and "items" not in value else str(SCHEMAS.get(name, {}).get("description", ""))
    )


@pytest.mark.parametrize("operation_id", OPERATIONS)
def test_every_operation_parameter_answer_and_header_says_what_it_means(operation_id: str) -> None:
    operation = OPERATIONS[operation_id][2]
    headers = [
        header for answer in operation["responses"].values() for header in answer.get("headers", {}).values()
    ]
    described = [operation, *operation["parameters"], *operation["responses"].values(), *headers]
    if "requestBody" in operation:
        described.append(operation["requestBody"])

    assert operation["summary"]
    assert all(part["description"] for part in described)


@pytest.mark.parametrize("name", ASKED)
def test_every_schema_of_a_request_refuses_unknown_fields(name: str) -> None:
    found = [schema for _, schema in objects(SCHEMAS[name], name)]

    assert found
    assert all(schema["additionalProperties"] is False for schema in found)


@pytest.mark.parametrize("name", ASKED)
def test_every_number_of_a_request_has_a_least_and_a_greatest_value(name: str) -> None:
    unbounded = [
        f"{place}/{field}"
        for place, schema in objects(SCHEMAS[name], name)
        for field, value in schema["properties"].items()
        if value.get("type") in {"number", "integer"} and not {"minimum", "maximum"} <= value.keys()
    ]

    assert unbounded == []


@pytest.mark.parametrize("name", ASKED)
def test_every_text_and_list_of_a_request_has_a_greatest_length(name: str) -> None:
    endless = [
        f"{place}/{field}"
        for place, schema in objects(SCHEMAS[name], name)
        for field, value in schema["properties"].items()
        if (value.get("type") == "string" and not {"maxLength", "const", "enum"} & value.keys())
        or (value.get("type") == "array" and "maxItems" not in value)
    ]

    assert endless == []


def test_every_quantity_takes_each_unit_with_bounds_of_its_own() -> None:
    for kind in INPUTS:
        schema = SCHEMAS[kind.__name__]
        variants = schema.get("anyOf", [schema])
        units = [variant["properties"]["unit"]["const"] for variant in variants]
        bounds = [variant["properties"]["value"] for variant in variants]

        assert len(units) == len(set(units))
        assert all(bound["minimum"] < bound["maximum"] for bound in bounds)


def test_a_length_and_a_pressure_have_no_unit_in_common() -> None:
    def units(name: str) -> set[str]:
        return {variant["properties"]["unit"]["const"] for variant in SCHEMAS[name]["anyOf"]}

    assert units("Depth") & units("GaugePressure") == set()


def test_every_operation_has_an_id_of_its_own_and_a_known_tag() -> None:
    ids = [operation["operationId"] for _, _, operation in operations()]
    tags = {tag["name"] for tag in DOCUMENT["tags"]}

    assert len(ids) == len(set(ids))
    assert all(set(operation["tags"]) <= tags for _, _, operation in operations())


def test_paths_are_kebab_case_and_fields_are_snake_case() -> None:
    fields = {
        field
        for name in SCHEMAS
        for _, schema in objects(SCHEMAS[name], name)
        for field in schema["properties"]
    }

    assert all(path == path.lower() and "_" not in path for path in DOCUMENT["paths"])
    assert all(field == field.lower() and "-" not in field for field in fields)


def test_every_operation_that_takes_a_body_tells_how_it_refuses_one() -> None:
    for _, _, operation in operations():
        if "requestBody" in operation:
            assert {"400", "406", "413", "415", "422"} <= operation["responses"].keys()


def test_every_answer_but_success_is_a_problem() -> None:
    for _, _, operation in operations():
        for status, answer in operation["responses"].items():
            if status not in {"200", "304"}:
                schema = answer["content"]["application/problem+json"]["schema"]
                assert schema == {"$ref": "#/components/schemas/Problem"}
