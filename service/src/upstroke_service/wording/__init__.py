"""Findings become sentences: one folder per language, codes and numbers in, text out."""

import functools
import tomllib
from importlib import resources
from typing import Any, Final

LANGUAGES: Final = ("en",)
"""Languages that have a folder here; the first is the default."""


class Wording:
    """The sentences of one language, by section and code."""

    def __init__(self, language: str, *, open_tank: bool = False) -> None:
        """Load a language of LANGUAGES; of a site with an open tank what is said differently there."""
        self.language = language
        self.open_tank = open_tank
        self.sections: dict[str, dict[str, str]] = {}
        for file in resources.files("upstroke_service.wording").joinpath(language).iterdir():
            if file.name.endswith(".toml"):
                self._add(tomllib.loads(file.read_text("utf-8")))
        if open_tank:
            self.sections = {
                name: entries | self.sections.get(f"open.{name}", {})
                for name, entries in self.sections.items()
            }

    def _add(self, sections: dict[str, dict[str, Any]]) -> None:
        for section, entries in sections.items():
            for code, entry in entries.items():
                # An entry of several sentences is a section of its own: 'caution.freezing'.
                if isinstance(entry, dict):
                    self.sections[f"{section}.{code}"] = entry
                else:
                    self.sections.setdefault(section, {})[code] = entry

    def say(self, section: str, code: str, /, **numbers: object) -> str:
        """The sentence of ``code``, its placeholders filled from ``numbers``, which come formatted.

        Raises KeyError where the file lacks the sentence or the caller a number: a test asks for all.
        """
        return self.sections[section][code].format_map(numbers)


@functools.cache
def wording(language: str, *, open_tank: bool = False) -> Wording:
    """The sentences of ``language``, for a pressure tank or an open one, loaded once."""
    return Wording(language, open_tank=open_tank)
