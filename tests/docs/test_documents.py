"""What the documents at the root name is there."""

import re
import tomllib

import pytest
from tests.docs.markdown import PACKAGES, ROOT, Document, anchor, read

NAMES = ("README.md", "DEVELOPERS.md", "CHANGELOG.md")
DOCUMENTS = pytest.mark.parametrize("document", [read(name) for name in NAMES], ids=NAMES)


@DOCUMENTS
def test_every_link_leads_somewhere(document: Document) -> None:
    lost = []
    for link in document.links:
        path, _, fragment = link.partition("#")
        target = ROOT / path if path else ROOT / document.name
        headings = re.findall(r"^#+ (.+)$", target.read_text("utf-8"), re.MULTILINE) if fragment else []
        if not target.exists() or (fragment and fragment not in map(anchor, headings)):
            lost.append(link)

    assert document.links
    assert lost == []


@DOCUMENTS
def test_no_link_leads_out_of_the_repository(document: Document) -> None:
    assert [link for link in document.links if "://" in link or link.startswith(("/", ".."))] == []


@DOCUMENTS
def test_every_path_that_is_named_exists(document: Document) -> None:
    named = {word for span in document.code for word in span.split() if is_path(word)}

    assert [
        path for path in sorted(named) if not any((base / path).exists() for base in (ROOT, *PACKAGES))
    ] == []


def is_path(word: str) -> bool:
    """Whether a word names a file or a folder of the repository."""
    return bool(re.fullmatch(r"[\w.-]+(/[\w.-]+)*(/|/[\w-]*\.(py|toml|sh|json|in|lock|md))", word))


def test_the_developers_document_names_every_import_rule() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    text = " ".join(read("DEVELOPERS.md").text.split())

    rules = [contract["name"] for contract in settings["tool"]["importlinter"]["contracts"]]
    assert [rule for rule in rules if rule not in text] == []


def test_the_changelog_names_the_versions_of_both_packages() -> None:
    text = read("CHANGELOG.md").text
    for package in ("service", "sdk"):
        version = tomllib.loads((ROOT / package / "pyproject.toml").read_text("utf-8"))["project"]["version"]
        assert f"## {version}" in text
