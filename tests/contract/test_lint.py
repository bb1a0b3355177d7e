"""The linter of OpenAPI documents finds nothing in the contract."""

import copy
import json
from pathlib import Path

from tests.contract.documents import DOCUMENT, FILE, Node
from tests.node import tools

RULES = Path(__file__).with_name("redocly.yaml")


def findings(document: Path) -> list[str]:
    """What the linter finds, each with its rule and place."""
    done = tools.run(
        tools.LINTER, "lint", document, "--config", RULES, "--format=json", "--max-problems=1000"
    )
    assert done.stdout, done.stderr
    problems: list[Node] = json.loads(done.stdout)["problems"]
    return [f"{one['ruleId']}: {one['location'][0].get('pointer')}: {one['message']}" for one in problems]


def test_the_linter_finds_nothing_in_the_contract() -> None:
    assert findings(FILE) == []


def test_the_linter_finds_what_is_missing(tmp_path: Path) -> None:
    faulty = copy.deepcopy(DOCUMENT)
    del faulty["paths"]["/v1/sizings"]["post"]["summary"]
    faulty["paths"]["/v1/units"]["get"]["tags"] = ["unheard of"]
    file = tmp_path / "openapi.json"
    file.write_text(json.dumps(faulty))

    assert {one.partition(":")[0] for one in findings(file)} == {"operation-summary", "operation-tag-defined"}


def test_every_rule_that_is_asked_otherwise_has_its_reason_beside_it() -> None:
    lines = RULES.read_text("utf-8").partition("rules:\n")[2].splitlines()
    rules = [line for line in lines if not line.strip().startswith("#")]

    assert rules
    assert [line for line in rules if len(line.partition(" # ")[2]) < len("RFC 9457")] == []
