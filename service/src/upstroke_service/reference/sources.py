"""Where the published values come from."""

from collections.abc import Iterable, Mapping
from typing import Final

from .table import InvalidTable, Row, Text, read


class Source(Row, frozen=True):
    """A publication, or what stands in for one.

    ``edition`` is the edition or year, ``locator`` the table, equation or section, ``note`` says how
    the value reached this project ('from memory': not compared with a copy).
    """

    title: Text
    author: str = ""
    edition: str = ""
    locator: str = ""
    note: str = ""

    @property
    def citation(self) -> str:
        """The source in one line."""
        cited = ", ".join(part for part in (self.author, self.title, self.edition, self.locator) if part)
        return f"{cited} ({self.note})" if self.note else cited


SOURCES: Final[Mapping[str, Source]] = read("sources.toml", dict[str, Source])
"""Every source by its key."""


def source(key: str) -> Source:
    """The source that ``key`` stands for; raises KeyError where there is none."""
    return SOURCES[key]


def require_known(file_name: str, keys: Iterable[str]) -> None:
    """Raise InvalidTable unless each of ``keys``, used in ``file_name``, stands for a source."""
    unknown = sorted(set(keys) - set(SOURCES))
    if unknown:
        raise InvalidTable(f"{file_name}: not in sources.toml: {', '.join(unknown)}")
