"""The structs and the contract: one is written from the other."""

from typing import Any

import pytest
from tests.sdk.contract_document import ROOT, contract, generator

QUANTITY: dict[str, Any] = {
    "description": "A depth.",
    "anyOf": [
        {"properties": {"value": {"type": "number"}, "unit": {"const": unit}}} for unit in ("cm", "ft", "m")
    ],
}


def small_document(fields: dict[str, Any], answered: dict[str, Any]) -> dict[str, Any]:
    def reference(name: str) -> dict[str, Any]:
        return {"content": {"application/json": {"schema": {"$ref": f"#/components/schemas/{name}"}}}}

    def block(description: str, properties: dict[str, Any]) -> dict[str, Any]:
        required = [name for name in properties if name.startswith("must")]
        return {"description": description, "properties": properties, "required": required}

    schemas = {
        "Depth": QUANTITY,
        "AskRequest": block("What is asked.", fields),
        "Told": block("What is told.", answered),
    }
    operation = {"requestBody": reference("AskRequest"), "responses": {"200": reference("Told")}}
    return {"paths": {"/v1/asks": {"post": operation}}, "components": {"schemas": schemas}}


def test_the_structs_are_those_of_the_committed_contract() -> None:
    written = (ROOT / "sdk/src/upstroke/_models.py").read_text()

    assert generator().render(contract()) == written, "run: python sdk/generate.py"


def test_requests_are_strict_and_what_may_be_left_out_is_unset() -> None:
    depth = {"$ref": "#/components/schemas/Depth"}
    fields = {"must_have": depth, "kind": {"enum": ["a", "b"]}, "count": {"type": "integer", "default": 3}}
    text = generator().render(small_document(fields, {"x": {"type": "number"}}))

    assert 'Depth: TypeAlias = Annotated[QuantityInput, Meta(extra={"units": ("ft", "m", "cm")})]' in text
    assert "class AskRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):" in text
    assert "    must_have: Depth\n" in text
    assert '    kind: Literal["a", "b"] | UnsetType = UNSET\n' in text
    assert '    count: int | UnsetType = UNSET\n    """Default: 3."""' in text
    assert "class AskFacts(TypedDict, total=False):" in text
    assert "    must_have: Depth | Mapping[str, object]\n" in text


def test_answers_take_any_word_and_read_none_for_what_is_absent() -> None:
    quantity = {"properties": {"value": {"type": "number"}, "unit": {"enum": ["ft", "m"]}}}
    answered = {
        "must_say": {"enum": ["yes", "no"], "description": "The word."},
        "depths": {"type": "array", "items": {"$ref": "#/components/schemas/Height"}},
    }
    document = small_document({}, answered)
    document["components"]["schemas"]["Height"] = quantity
    text = generator().render(document)

    assert "class Told(Struct, frozen=True, kw_only=True, omit_defaults=True):" in text
    assert '    must_say: str\n    """The word. Known words: yes, no; more may come."""' in text
    assert "    depths: tuple[Quantity, ...] | None = None\n" in text


def test_a_block_cannot_be_both_strict_and_tolerant() -> None:
    shared = {"must": {"$ref": "#/components/schemas/Told"}}

    with pytest.raises(ValueError, match=r"both in requests and in answers.*\['Told'\]"):
        generator().render(small_document(shared, {"x": {"type": "number"}}))


def test_blocks_that_differ_only_in_what_they_require_become_the_less_demanding_one() -> None:
    document = small_document({"must": {"$ref": "#/components/schemas/Strict"}}, {"x": {"type": "number"}})
    block: dict[str, Any] = {
        "description": "A block.",
        "properties": {"a": {"type": "number"}},
        "required": [],
    }
    document["components"]["schemas"] |= {"Strict": block | {"required": ["a"]}, "Loose": block}
    text = generator().render(document)

    assert "    must: Loose\n" in text
    assert "Strict" not in text


def test_a_schema_without_a_python_type_stops_the_generator() -> None:
    with pytest.raises(KeyError, match="object"):
        generator().render(small_document({}, {"x": {"type": "object"}}))
