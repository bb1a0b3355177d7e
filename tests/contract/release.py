"""Compares the contract with the last released one, and releases it.

    python -m tests.contract.release             what would break whom, and which version that needs
    python -m tests.contract.release --accept    keep openapi/openapi.json as the released contract

The released contract is openapi/released.json: openapi/openapi.json without descriptions and examples.
"""

import argparse
import json
import re
import sys
from pathlib import Path
from typing import Any, NamedTuple

from tests.contract.breaks import Break, breaks
from tests.contract.documents import FILE, Node, committed

RELEASED = FILE.with_name("released.json")
CHANGELOG = FILE.parents[1] / "CHANGELOG.md"
SAID = ("description", "summary", "title", "example")
BREAKING = "### Breaking"


class Version(NamedTuple):
    """A version of the contract."""

    major: int
    minor: int
    patch: int

    def __str__(self) -> str:
        return ".".join(map(str, self))


def version(document: Node) -> Version:
    """The version that a contract states."""
    return Version(*map(int, document["info"]["version"].split(".")))


def bare(node: Any) -> Any:
    """A part of the contract without what people alone read."""
    if isinstance(node, list):
        return [bare(item) for item in node]
    if not isinstance(node, dict):
        return node
    # A property may have such a name too; then a schema stands there, and no text.
    return {
        key: bare(value)
        for key, value in node.items()
        if not (key in SAID and isinstance(value, str)) and not (key == "examples" and "schema" in node)
    }


def least_version(released: Node, document: Node) -> Version:
    """The least version under which ``document`` may follow ``released``.

    As CHANGELOG.md promises: what breaks someone needs a new major version, before 1.0 a new minor one; what only adds
    needs a new minor version, before 1.0 a new patch.
    """
    last = version(released)
    before_1 = last.major == 0
    if breaks(released, document):
        return Version(0, last.minor + 1, 0) if before_1 else Version(last.major + 1, 0, 0)
    if _without_version(bare(document)) != _without_version(released):
        return Version(0, last.minor, last.patch + 1) if before_1 else Version(last.major, last.minor + 1, 0)
    return last


def _without_version(document: Node) -> Node:
    return {**document, "info": {}}


def objections(released: Node, document: Node, changelog: str) -> list[str]:
    """Why ``document`` can't follow ``released`` as it stands."""
    found = []
    least, stated = least_version(released, document), version(document)
    if stated < least:
        found.append(f"version {stated} has to be {least} or higher: __version__ and service/pyproject.toml")
    if stated > version(released):
        section = re.search(
            rf"^## {re.escape(str(stated))}\n(.*?)(?=^## |\Z)", changelog, re.DOTALL | re.MULTILINE
        )
        if section is None:
            found.append(f"CHANGELOG.md has no section {stated}")
        elif breaks(released, document) and BREAKING not in section[1]:
            found.append(f"section {stated} of CHANGELOG.md has to say under '{BREAKING}' what breaks")
    return found


def report(found: list[Break]) -> str:
    """The breaks, one a line."""
    return "\n".join(f"  {one}" for one in found)


def main(arguments: list[str], released: Path = RELEASED, changelog: Path = CHANGELOG) -> int:
    """Compare, and keep the contract as the released one where that is asked for and allowed."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.contract.release", description=__doc__.partition("\n")[0]
    )
    parser.add_argument(
        "--accept", action="store_true", help="keep openapi/openapi.json as the released contract"
    )
    options = parser.parse_args(arguments)
    document = committed()
    if released.exists():
        last = json.loads(released.read_text("utf-8"))
        found = breaks(last, document)
        print(f"{len(found)} breaks from {version(last)} to {version(document)}" + (":" if found else "."))
        if found:
            print(report(found))
        if refused := objections(last, document, changelog.read_text("utf-8")):
            print("Not yet to be released:", *refused, sep="\n  ")
            return 1
    if options.accept:
        text = json.dumps(bare(document), ensure_ascii=False, separators=(",", ":"))
        released.write_text(f"{text}\n", encoding="utf-8")
        print(f"{version(document)} is the released contract now.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
