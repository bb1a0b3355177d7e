"""The parts of a Markdown document that can be held against the project."""

import re
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGES = (ROOT / "service/src/upstroke_service", ROOT / "sdk/src/upstroke")

_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_LINK = re.compile(r"\[[^\]]*\]\(([^)]+)\)")
_CODE = re.compile(r"`([^`\n]+)`")
_NUMBER = re.compile(r"(?<![\w.])\d+(?:[.,]\d+)*(?!\w)")


@dataclass(frozen=True)
class Block:
    """A fenced block, and the one that comes next."""

    language: str
    text: str
    following: "Block | None" = None


@dataclass(frozen=True)
class Document:
    """One of the documents at the root."""

    name: str
    text: str

    @property
    def blocks(self) -> list[Block]:
        """Every fenced block in order; one that shows output comes next to the one that prints it."""
        found: list[Block] = []
        for match in reversed(list(_FENCE.finditer(self.text))):
            found.insert(0, Block(match[1], match[2], found[0] if found else None))
        return found

    @property
    def prose(self) -> str:
        """The text outside fenced blocks."""
        return _FENCE.sub("", self.text)

    @property
    def links(self) -> list[str]:
        """The targets of all links."""
        return _LINK.findall(self.prose)

    @property
    def code(self) -> list[str]:
        """Everything set as code within the prose."""
        return [" ".join(span.split()) for span in _CODE.findall(self.prose)]

    @property
    def numbers(self) -> set[str]:
        """Every number in words of its own: not in code, nor in the target of a link."""
        return numbers(_LINK.sub("", _CODE.sub("", self.prose)))

    def table(self, heading: str) -> list[list[str]]:
        """The rows of the table whose first column has this heading."""
        _, _, rest = self.text.partition(f"| {heading} |")
        lines = rest.split("\n\n")[0].splitlines()[2:]
        return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def read(name: str) -> Document:
    """The document of that name at the root."""
    return Document(name, (ROOT / name).read_text("utf-8"))


def numbers(text: str) -> set[str]:
    """Every number that stands alone in a text."""
    return set(_NUMBER.findall(text))


def anchor(heading: str) -> str:
    """The fragment by which forges link to a heading."""
    return re.sub(r"[^\w\- ]", "", heading.lower()).strip().replace(" ", "-")
