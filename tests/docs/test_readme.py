"""The README is true: its commands run, and print what it shows."""

import json
import re
import shutil
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from tests.docs import served
from tests.docs.markdown import ROOT, Block, numbers, read

import upstroke
from upstroke_service.api.request_limits import LARGEST_HEADERS, LONGEST_ADDRESS

README = read("README.md")
CONTRACT = json.loads((ROOT / "openapi/openapi.json").read_text("utf-8"))
FETCHES = [block for block in README.blocks if block.language == "bash" and "/v1/formulas/" in block.text]
CALLS = [
    block
    for block in README.blocks
    if block.language == "bash" and "curl " in block.text and block not in FETCHES
]
PROGRAMS = [block for block in README.blocks if block.language == "python"]
LEFT_OUT = "…"


def numbered(block: Block) -> str:
    """A name for a block of calls, told apart by its place."""
    resources = re.findall(r"8080/(?:v1/)?([\w-]+)", block.text)
    return "-".join([str(CALLS.index(block)), *resources])


needs_curl = pytest.mark.skipif(shutil.which("curl") is None, reason="curl is not installed")


@pytest.fixture(scope="module")
def url() -> Iterator[str]:
    """Where the service listens, in a process of its own."""
    port = served.free_port()
    address = f"http://127.0.0.1:{port}"
    command = f"exec '{sys.executable}' -m upstroke_service --port {port}"
    with served.running(command, address, ROOT, UPSTROKE_CATALOGUES=""):
        yield address


def called(block: Block, url: str) -> list[Any]:
    """What each curl of a block prints, as JSON."""
    script = block.text.replace(served.DOCUMENTED, url).replace("curl -sS", "printf '\\n'; curl -sS")
    text = served.printed(["bash", "-euo", "pipefail", "-c", script], ROOT)
    return [json.loads(line) for line in text.splitlines() if line]


def assert_part(shown: Any, whole: Any, place: str = "") -> None:
    """All that is shown is there, and lists begin with what is shown of them."""
    if isinstance(shown, dict):
        assert isinstance(whole, dict), place
        for key, value in shown.items():
            assert key in whole, f"{place}/{key}"
            assert_part(value, whole[key], f"{place}/{key}")
    elif isinstance(shown, list):
        assert isinstance(whole, list), place
        assert len(shown) <= len(whole), place
        for index, (one, other) in enumerate(zip(shown, whole, strict=False)):
            assert_part(one, other, f"{place}/{index}")
    else:
        assert shown == whole, place


def assert_excerpt(shown: str, whole: str) -> None:
    """The shown lines are printed in this order, without a gap except where one is marked."""
    printed = whole.splitlines()
    place, gap = 0, True
    for line in shown.splitlines():
        if line.strip() == LEFT_OUT:
            gap = True
            continue
        found = printed.index(line, place) if gap and line in printed[place:] else place
        assert found < len(printed), f"not printed: {line}"
        assert line == printed[found]
        place, gap = found + 1, False


@needs_curl
@pytest.mark.parametrize("block", CALLS, ids=numbered)
def test_a_call_is_answered_as_shown(block: Block, url: str) -> None:
    answers = called(block, url)
    shown = block.following if block.following and block.following.language == "json" else None

    assert len(answers) == block.text.count("curl ")
    if shown:
        assert_part(json.loads(shown.text), answers[-1])
    else:
        assert all("/problems/" not in json.dumps(answer.get("type", "")) for answer in answers)


def test_the_readme_calls_every_operation_of_the_contract() -> None:
    script = "\n".join(block.text for block in [*CALLS, *FETCHES])
    paths = set(re.findall(r"127\.0\.0\.1:8080(/[\w/.-]+)", script))
    templates = {path.replace("{name}", "demo") for path in CONTRACT["paths"]}

    assert templates | {"/openapi.json"} == paths


def test_the_table_of_resources_is_that_of_the_contract() -> None:
    listed = {row[0] for row in README.table("resource")}

    assert listed == {
        f"`{method.upper()} {path}`" for path, methods in CONTRACT["paths"].items() for method in methods
    }


def fetched(block: Block, url: str) -> str:
    """What the curls of a block print, as it is."""
    script = block.text.replace(served.DOCUMENTED, url)
    return served.printed(["bash", "-euo", "pipefail", "-c", script], ROOT)


@needs_curl
@pytest.mark.parametrize("block", FETCHES, ids=["formulas"])
def test_a_formula_is_answered_as_shown(block: Block, url: str) -> None:
    assert block.following is not None
    assert fetched(block, url) == block.following.text


def test_the_formulas_of_cells_make_addresses_that_are_answered(url: str) -> None:
    (block,) = [one for one in README.blocks if one.text.startswith("=")]
    cells = {"A2": "60", "B2": "ft", "C2": "50", "D2": "psi", "E2": "lift-1-1-4-300"}
    for formula in block.text.splitlines():
        joined = re.sub(r'" & (\w+)(?: & ")?', lambda match: cells[match[1]], formula)
        address = re.findall(r'"([^")]+)', joined)[0].replace(served.DOCUMENTED, url)
        answer = httpx.get(address, trust_env=False)
        assert answer.status_code == 200, answer.text


def test_the_command_for_one_site_runs_as_shown(url: str, monkeypatch: pytest.MonkeyPatch) -> None:
    (block,) = [one for one in README.blocks if "upstroke.ask --no" in one.text]
    monkeypatch.setenv("UPSTROKE_URL", url)
    command = block.text.splitlines()[-1].replace(".venv-quickstart/bin/python", f"'{sys.executable}'")
    answer = json.loads(served.printed(["bash", "-c", command], ROOT))

    assert answer["recommended"]


@pytest.mark.parametrize("block", PROGRAMS, ids=lambda block: block.text.splitlines()[-1])
def test_the_python_example_prints_what_is_shown(block: Block, url: str) -> None:
    assert block.following is not None
    printed = served.printed(served.python("-c", block.text.replace(served.DOCUMENTED, url)), ROOT)

    assert printed == block.following.text


def quickstart_page(url: str, folder: Path) -> str:
    """What the quickstart's request to the service prints."""
    script = (ROOT / "deploy/quickstart.sh").read_text("utf-8")
    quote = re.findall(r"^quote=\$root/(\S+)$", script, re.MULTILINE)
    output = re.findall(r"^output=(\S+)$", script, re.MULTILINE)
    arguments = ["--url", url, "--request", str(ROOT / quote[0]), "--output", output[0]]
    page = served.printed(served.python("-m", "upstroke.quickstart", *arguments), folder)
    assert f"`{output[0]}`" in README.text
    answer = json.loads((folder / output[0]).read_text("utf-8"))
    assert answer["summary"] in " ".join(page.split())
    return page


def test_the_quickstart_prints_what_is_shown(url: str, tmp_path: Path) -> None:
    (block,) = [one for one in README.blocks if one.text.startswith("Hand pump")]

    assert_excerpt(block.text, quickstart_page(url, tmp_path))


def test_the_scripts_take_the_options_that_are_shown() -> None:
    usage = served.printed(["bash", "deploy/quickstart.sh", "--help"], ROOT)
    shown = " ".join(
        block.text for block in README.blocks if block.language == "bash" and "deploy/" in block.text
    )

    assert set(re.findall(r"--\w+", shown)) == set(re.findall(r"--\w+", usage))
    assert (ROOT / "tests/run.sh").is_file()


def test_a_catalogue_of_ones_own_is_served_as_described(tmp_path: Path) -> None:
    (block,) = [one for one in README.blocks if "UPSTROKE_CATALOGUES=" in one.text]
    port = served.free_port()
    address = f"http://127.0.0.1:{port}"
    (tmp_path / "service").symlink_to(ROOT / "service")
    copying, starting = block.text.strip().splitlines()
    served.printed(["bash", "-c", copying], tmp_path)
    catalogue = tmp_path / "my-catalogue.toml"
    own = catalogue.read_text("utf-8").replace('name = "demo"', 'name = "ours"', 1)
    catalogue.write_text(own.replace("invented = true", "invented = false", 1), "utf-8")
    starting = starting.replace(".venv-quickstart/bin/python", f"'{sys.executable}'").replace(
        "8081", str(port)
    )
    with served.running(starting, address, tmp_path), upstroke.Client(address) as client:
        (listed,) = client.catalogues().catalogues

    assert (listed.name, listed.invented, listed.default) == ("ours", False, True)


def test_the_sources_are_known_and_those_from_memory_are_marked() -> None:
    known: dict[str, bool] = {}
    for file in ("service/src/upstroke_service/reference/sources.toml", "tests/published/sources.toml"):
        for key, fields in tomllib.loads((ROOT / file).read_text("utf-8")).items():
            known[key] = known.get(key, False) or "from memory" in " ".join(fields.values())
    table = "\n".join(" | ".join(row) for row in README.table("topic"))
    cited = {key: bool(memory) for key, memory in re.findall(r"`([\w-]+)`( \(from memory\))?", table)}

    assert cited
    assert cited == {key: known.get(key) for key in cited}


@needs_curl
def test_every_number_in_words_is_printed_by_something_that_the_readme_names(
    url: str, tmp_path: Path
) -> None:
    printed = [json.dumps([called(block, url) for block in CALLS]), quickstart_page(url, tmp_path)]
    printed += [
        (ROOT / name).read_text("utf-8")
        for name in ("deploy/quickstart.sh", "deploy/environment.sh", "sdk/pyproject.toml")
    ]
    printed.append(f"{LONGEST_ADDRESS} {LARGEST_HEADERS}")

    assert README.numbers - numbers("\n".join(printed)) == set()
