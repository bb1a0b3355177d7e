"""What a client is set to: its arguments, or else the environment."""

import os
import re
from math import isfinite
from typing import Final

ADDRESS_VARIABLE: Final = "UPSTROKE_URL"
KEY_VARIABLE: Final = "UPSTROKE_API_KEY"
TIMEOUT_VARIABLE: Final = "UPSTROKE_TIMEOUT"
LANGUAGE_VARIABLE: Final = "UPSTROKE_LANGUAGE"

_ADDRESS: Final = "http://127.0.0.1:8080"
_TIMEOUT: Final = 10.0


def address(given: str | None) -> str:
    """Address of the service."""
    return (os.environ.get(ADDRESS_VARIABLE) or _ADDRESS) if given is None else given


def key(given: str | None) -> str:
    """The key to show; empty where there is none.

    Raises:
        ValueError: where it can't be sent; the message doesn't repeat it.
    """
    chosen = os.environ.get(KEY_VARIABLE, "") if given is None else given
    if not (chosen.isascii() and chosen.isprintable()) or " " in chosen:
        raise ValueError("an API key has letters, digits and signs of ASCII only, without spaces")
    return chosen


def language(given: str | None) -> str:
    """The language to ask for, such as 'es' or 'es-MX'; empty for the service's own.

    Raises:
        ValueError: where it is no name of a language.
    """
    chosen = os.environ.get(LANGUAGE_VARIABLE, "") if given is None else given
    if chosen and not re.fullmatch(r"[A-Za-z]{1,8}(-[A-Za-z0-9]{1,8})*", chosen):
        raise ValueError(f"{chosen!r} is no language such as 'en' or 'es-MX'")
    return chosen


def timeout(given: float | None) -> float:
    """Seconds that each step of a call may take.

    Raises:
        ValueError: where it is not a positive number.
    """
    text = os.environ.get(TIMEOUT_VARIABLE) if given is None else None
    if given is None and not text:
        return _TIMEOUT
    try:
        seconds = float(text) if text else float(given or 0.0)
    except ValueError:
        seconds = 0.0
    if not (isfinite(seconds) and seconds > 0.0):
        where = f"{TIMEOUT_VARIABLE} in the environment" if text else "timeout"
        raise ValueError(f"{where}: {text or given!r} is not a number of seconds above 0")
    return seconds
