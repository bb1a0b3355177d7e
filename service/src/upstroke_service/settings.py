"""Settings from the environment, checked when the service starts."""

import os
from collections.abc import Mapping
from pathlib import Path

import msgspec


class SettingsError(ValueError):
    """A setting that the service can't start with."""


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """Settings of the service.

    ``catalogues``: catalogue files, the first being the default (none: the invented demo catalogue);
    ``largest_body``: bytes that a request body may have; ``log_level``: debug, info, warning or error.
    """

    catalogues: tuple[Path, ...] = ()
    largest_body: int = 262_144
    log_level: str = "info"


_LEVELS = ("debug", "info", "warning", "error")


def from_environment(environment: Mapping[str, str] = os.environ) -> Settings:
    """Settings from the variables UPSTROKE_CATALOGUES, UPSTROKE_LARGEST_BODY and UPSTROKE_LOG_LEVEL.

    Catalogues are paths, separated like those of PATH. Raises SettingsError, which names the variable.
    """
    paths = tuple(Path(part) for part in environment.get("UPSTROKE_CATALOGUES", "").split(os.pathsep) if part)
    for path in paths:
        if not path.is_file():
            raise SettingsError(f"UPSTROKE_CATALOGUES: there is no file {path}")
    largest = environment.get("UPSTROKE_LARGEST_BODY", str(Settings().largest_body))
    if not largest.isdecimal() or not 1_024 <= int(largest) <= 16_777_216:  # noqa: PLR2004 - said in the message
        raise SettingsError("UPSTROKE_LARGEST_BODY: must be a number of bytes from 1024 to 16777216")
    level = environment.get("UPSTROKE_LOG_LEVEL", Settings().log_level).lower()
    if level not in _LEVELS:
        raise SettingsError(f"UPSTROKE_LOG_LEVEL: must be one of {', '.join(_LEVELS)}")
    return Settings(catalogues=paths, largest_body=int(largest), log_level=level)
