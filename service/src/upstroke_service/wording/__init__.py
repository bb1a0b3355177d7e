"""Findings become sentences: one folder per language, codes and numbers in, text out."""

import contextlib
import contextvars
import functools
import tomllib
from collections.abc import Generator
from importlib import resources
from typing import Any, Final

LANGUAGES: Final = ("en", "es")
"""Languages that have a folder here; the first is the default."""


class Wording:
    """The sentences of one language, by section and code."""

    def __init__(self, language: str, *, open_tank: bool = False) -> None:
        """Load a language of LANGUAGES; of a site with an open tank what is said differently there."""
        self.language = language
        self.open_tank = open_tank
        self.sections: dict[str, dict[str, str]] = {}
        # What a language lacks is said in the first one: a sentence too few must not become an error.
        for folder in dict.fromkeys((LANGUAGES[0], language)):
            for file in resources.files("upstroke_service.wording").joinpath(folder).iterdir():
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


_spoken = contextvars.ContextVar("spoken", default=LANGUAGES[0])


def spoken() -> str:
    """The language of the request that is being answered; the first of LANGUAGES outside of one."""
    return _spoken.get()


@contextlib.contextmanager
def speaking(language: str) -> Generator[None]:
    """Answer in ``language`` of LANGUAGES within this context, and on threads that copy it."""
    token = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(token)


def said(section: str, code: str, /, **numbers: object) -> str:
    """The sentence of ``code`` in the language that is spoken; raises as Wording.say does."""
    return wording(spoken()).say(section, code, **numbers)
