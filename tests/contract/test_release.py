"""The contract breaks nobody who built on the released one, and a new one is released by rule."""

import copy
import json
from pathlib import Path

import pytest
from tests.contract.breaks import breaks
from tests.contract.documents import DOCUMENT, Node
from tests.contract.release import (
    RELEASED,
    Version,
    bare,
    least_version,
    main,
    objections,
    report,
    version,
)


def contract(number: str, **changes: object) -> Node:
    """A small contract with one operation, or what stands in its place."""
    operation = {"operationId": "list_units", "summary": "List units", "responses": {"200": {}}, **changes}
    return {
        "info": {"version": number},
        "paths": {"/v1/units": {"get": operation}},
        "components": {"schemas": {}},
    }


def grown(number: str) -> Node:
    return contract(number, responses={"200": {}, "503": {}})


def broken(number: str) -> Node:
    return contract(number, responses={})


def test_the_contract_breaks_nothing_that_was_released() -> None:
    found = breaks(json.loads(RELEASED.read_text("utf-8")), DOCUMENT)

    assert found == [], f"run 'python -m tests.contract.release' to see what to do:\n{report(found)}"


def test_the_released_contract_is_not_newer_than_the_contract() -> None:
    assert version(json.loads(RELEASED.read_text("utf-8"))) <= version(DOCUMENT)


def test_the_released_contract_leaves_out_only_what_people_read() -> None:
    shortened = contract("1.0.0")
    del shortened["paths"]["/v1/units"]["get"]["summary"]

    assert bare(contract("1.0.0")) == shortened
    assert breaks(bare(DOCUMENT), DOCUMENT) == []
    assert breaks(DOCUMENT, bare(DOCUMENT)) == []


def test_a_field_may_be_called_as_what_is_left_out() -> None:
    fields = {"title": {"type": "string"}, "description": {"type": "string"}, "example": {"type": "string"}}

    assert bare({"properties": fields}) == {"properties": fields}


@pytest.mark.parametrize(
    ("released", "document", "least"),
    [
        (contract("0.3.1"), contract("0.3.1"), Version(0, 3, 1)),
        (contract("0.3.1"), contract("0.3.1", summary="Units"), Version(0, 3, 1)),
        (contract("0.3.1"), grown("0.3.1"), Version(0, 3, 2)),
        (contract("0.3.1"), broken("0.3.1"), Version(0, 4, 0)),
        (contract("2.3.1"), grown("2.3.1"), Version(2, 4, 0)),
        (contract("2.3.1"), broken("2.3.1"), Version(3, 0, 0)),
    ],
)
def test_the_least_version_follows_from_what_changed(released: Node, document: Node, least: Version) -> None:
    assert least_version(bare(released), document) == least


@pytest.mark.parametrize(
    ("document", "changelog", "refusal"),
    [
        (broken("1.1.0"), "## 1.1.0\n\n### Breaking\n\n- Units are gone.\n", "2.0.0 or higher"),
        (broken("2.0.0"), "## Unreleased\n\n## 1.0.0\n", "no section 2.0.0"),
        (broken("2.0.0"), "## 2.0.0\n\n- Units are gone.\n\n## 1.0.0\n\n### Breaking\n", "what breaks"),
        (grown("1.0.0"), "## 1.0.0\n", "1.1.0 or higher"),
        (broken("2.0.0"), "## 2.0.0\n\n### Breaking\n\n- Units are gone.\n\n## 1.0.0\n", ""),
        (grown("1.1.0"), "## 1.1.0\n\n- More.\n\n## 1.0.0\n", ""),
        (contract("1.0.0"), "## 1.0.0\n", ""),
    ],
)
def test_a_release_is_refused_until_version_and_changelog_say_what_changed(
    document: Node, changelog: str, refusal: str
) -> None:
    found = objections(bare(contract("1.0.0")), document, changelog)

    assert [refusal in one for one in found] == ([True] if refusal else [])


def test_the_command_shows_what_breaks_and_keeps_the_contract_only_when_it_may(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    released, changelog = tmp_path / "released.json", tmp_path / "CHANGELOG.md"
    last = copy.deepcopy(bare(DOCUMENT))
    last["paths"]["/v1/pumps"] = {"get": {"responses": {}}}
    before = json.dumps(last)
    released.write_text(before)
    changelog.write_text("## Unreleased\n")

    assert main(["--accept"], released, changelog) == 1
    assert "operation removed: GET /v1/pumps" in capsys.readouterr().out
    assert released.read_text() == before

    last["info"]["version"] = "0.0.1"
    released.write_text(json.dumps(last))
    changelog.write_text(f"## {version(DOCUMENT)}\n\n### Breaking\n\n- Pumps are gone.\n")
    assert main([], released, changelog) == 0
    assert json.loads(released.read_text()) == last
    assert main(["--accept"], released, changelog) == 0
    assert json.loads(released.read_text()) == bare(DOCUMENT)
