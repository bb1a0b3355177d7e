"""A client that openapi-python-client makes of the contract gets the service's answers to every operation."""

import importlib
import inspect
import json
import subprocess
import sys
from enum import EnumType
from typing import Any

import httpx
import pytest
from tests.contract.documents import FILE, LINES, OPERATIONS, in_lines, json_of

PACKAGE = "generated_from_the_contract"


@pytest.fixture(scope="session")
def generated(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The name of the generated package, which can be imported."""
    folder = tmp_path_factory.mktemp("generated")
    settings = folder / "settings.yaml"
    # Hooks would only format. Of what comes in lines, the generated types are for one line each.
    as_json = "".join(f"  {name}: application/json\n" for name in (LINES, "application/jsonl"))
    settings.write_text(f"post_hooks: []\ncontent_type_overrides:\n{as_json}")
    done = subprocess.run(  # noqa: S603 - a locked tool, on our own file
        [
            *(sys.executable, "-m", "openapi_python_client", "generate", "--path", FILE),
            *("--output-path", folder / PACKAGE, "--meta", "none", "--config", settings, "--fail-on-warning"),
        ],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, f"{done.stdout}\n{done.stderr}"
    sys.path.insert(0, str(folder))
    return PACKAGE


def asked(package: str, operation_id: str, address: str, **arguments: Any) -> Any:
    """The response that the generated method of an operation returns."""
    operation = OPERATIONS[operation_id][2]
    method = importlib.import_module(f"{package}.api.{operation['tags'][0]}.{operation_id}")
    client = importlib.import_module(f"{package}.client").Client(address, raise_on_unexpected_status=True)
    with client:
        return method.sync_detailed(client=client, **arguments)


def facts(package: str, operation_id: str, value: Any) -> dict[str, Any]:
    """The body of an operation, as the generated class of its facts."""
    body = json_of(OPERATIONS[operation_id][2]["requestBody"])
    name = body["schema"]["$ref"].rpartition("/")[2]
    kind = getattr(importlib.import_module(f"{package}.models"), name)
    filled = kind.from_dict(value)
    assert filled.to_dict() == value
    return {"body": filled}


def chosen(package: str, operation_id: str, query: dict[str, Any]) -> dict[str, Any]:
    """The parameters of a formula, words from a closed list as the generated enumerations."""
    method = importlib.import_module(f"{package}.api.formulas.{operation_id}").sync_detailed
    kinds = {name: one.annotation for name, one in inspect.signature(method).parameters.items()}
    return {
        name: kinds[name](value) if isinstance(kinds[name], EnumType) else value
        for name, value in query.items()
    }


@pytest.mark.parametrize("operation_id", OPERATIONS)
def test_a_generated_method_returns_what_the_service_answers(
    generated: str, address: str, operation_id: str
) -> None:
    path, _, operation = OPERATIONS[operation_id]
    url = f"{address}{path.format(name='demo')}"
    if operation["tags"] == ["formulas"]:
        query = {one["name"]: one["example"] for one in operation["parameters"] if one["required"]}
        response = asked(generated, operation_id, address, **chosen(generated, operation_id, query))
        assert response.status_code == 200
        assert response.parsed == httpx.get(url, params=query, trust_env=False).text
        return
    if in_lines(operation):
        return  # nothing is generated that reads lines; another test sees that the types fit them
    arguments: dict[str, Any] = {"name": "demo"} if "{name}" in path else {}
    if "requestBody" not in operation:
        response = asked(generated, operation_id, address, **arguments)
        assert response.parsed.to_dict() == httpx.get(url, trust_env=False).json()
        return
    for example in json_of(operation["requestBody"])["examples"].values():
        response = asked(generated, operation_id, address, **facts(generated, operation_id, example["value"]))
        assert response.status_code == 200
        assert response.parsed.to_dict() == httpx.post(url, json=example["value"], trust_env=False).json()


def test_the_generated_types_fit_each_line_of_a_batch(generated: str, address: str) -> None:
    models = importlib.import_module(f"{generated}.models")
    path, _, operation = OPERATIONS["size_pumps"]
    examples = [one["value"] for one in json_of(operation["requestBody"])["examples"].values()]
    sent = [facts(generated, "size_pumps", one)["body"].to_dict() for one in examples] + [{"wel": {}}]

    for detail, kind in {"compact": models.SizedLine, "full": models.SizedLineInFull}.items():
        response = httpx.post(
            f"{address}{path}",
            params={"detail": detail},
            content="\n".join(map(json.dumps, sent)),
            headers={"Content-Type": LINES},
            trust_env=False,
        )
        *sized, refused, end = map(json.loads, response.text.splitlines())
        assert len(sized) == len(examples)
        assert [kind.from_dict(line).to_dict() for line in sized] == sized
        assert models.RefusedLine.from_dict(refused).to_dict() == refused
        assert models.BatchEnd.from_dict(end).to_dict() == end


def test_a_generated_method_returns_the_problem_of_a_refused_request(generated: str, address: str) -> None:
    tank = {"precharge": {"value": 60.0, "unit": "psi"}}
    site = {"tank": tank, "pressures": {"target": {"value": 50.0, "unit": "psi"}}}

    response = asked(generated, "compute_tank_curve", address, **facts(generated, "compute_tank_curve", site))

    assert response.status_code == 422
    assert type(response.parsed).__name__ == "Problem"
    assert response.parsed.code == "contradictory-facts"
    assert {error.pointer for error in response.parsed.errors} == {"/tank/precharge", "/pressures/target"}
