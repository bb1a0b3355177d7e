"""Settings from the environment, in one table that is checked when the service starts.

To add a setting, add a field to Settings with its kind, its meaning and its default, and the same row to the
README's table. Its variable is the field's name in capitals after UPSTROKE_.
"""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Annotated, Any, NamedTuple, get_type_hints

import msgspec

PREFIX = "UPSTROKE_"


class SettingsError(ValueError):
    """Settings that the service can't start with: a line for each fault, which names the variable."""


class Kind(NamedTuple):
    """What a setting may be. ``read`` raises ValueError saying what would do, without repeating the text."""

    read: Callable[[str], Any]
    says: str
    """How a list of settings puts it."""


class Setting(NamedTuple):
    """What the table says of a setting; ``unset`` names a default that is no value."""

    kind: Kind
    meaning: str
    unset: str = ""


def whole(lowest: int, highest: int) -> Kind:
    """A whole number from ``lowest`` to ``highest``."""

    def read(text: str) -> int:
        if not (text.isascii() and text.isdecimal()) or not lowest <= int(text) <= highest:
            raise ValueError(f"must be a whole number from {lowest} to {highest}")
        return int(text)

    return Kind(read, f"whole number from `{lowest}` to `{highest}`")


def choice(*options: str) -> Kind:
    """One of these words, in capitals or not."""

    def read(text: str) -> str:
        if text.lower() not in options:
            raise ValueError(f"must be one of {', '.join(options)}")
        return text.lower()

    return Kind(read, ", ".join(f"`{one}`" for one in options[:-1]) + f" or `{options[-1]}`")


def _read_files(text: str) -> tuple[Path, ...]:
    paths = tuple(Path(part) for part in text.split(os.pathsep) if part)
    missing = [str(path) for path in paths if not path.is_file()]
    if missing:
        raise ValueError(f"there is no file {', '.join(missing)}")
    return paths


FILES = Kind(_read_files, "paths, separated by colons")
"""Files that exist, separated like the folders of PATH."""


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """The table of settings, and their values in one deployment."""

    catalogues: Annotated[
        tuple[Path, ...],
        Setting(
            FILES,
            "catalogue files; requests that name none use the first",
            unset="the invented demo catalogue",
        ),
    ] = ()
    largest_body: Annotated[int, Setting(whole(1_024, 16_777_216), "bytes that a request body may have")] = (
        262_144
    )
    log_level: Annotated[
        str,
        Setting(choice("debug", "info", "warning", "error"), "what is logged: this and all that is worse"),
    ] = "info"


def table() -> dict[str, Setting]:
    """Every setting by the name of its field."""
    hints = get_type_hints(Settings, include_extras=True)
    return {
        name: next(one for one in hints[name].__metadata__ if isinstance(one, Setting))
        for name in Settings.__struct_fields__
    }


def variable(name: str) -> str:
    """The environment variable of the field ``name``."""
    return f"{PREFIX}{name.upper()}"


def from_environment(environment: Mapping[str, str] = os.environ) -> Settings:
    """The settings that the environment states, and the defaults of the others.

    Raises SettingsError with every fault at once.
    """
    values: dict[str, Any] = {}
    faults: list[str] = []
    for name, setting in table().items():
        text = environment.get(variable(name))
        if text is None:
            continue
        try:
            values[name] = setting.kind.read(text)
        except ValueError as error:
            faults.append(f"{variable(name)}: {error}")
    if faults:
        raise SettingsError("\n".join(faults))
    return Settings(**values)


def rows() -> list[tuple[str, str, str, str]]:
    """The table as the README shows it: variable, meaning, what it may be, default."""
    defaults = Settings()
    return [
        (
            f"`{variable(name)}`",
            setting.meaning,
            setting.kind.says,
            setting.unset or f"`{getattr(defaults, name)}`",
        )
        for name, setting in table().items()
    ]
