"""API keys: the file that lists them by their hashes, and the command that makes a new one.

``python -m upstroke_service.keys --client NAME`` prints a key, once, and its lines for the file.
"""

import argparse
import hashlib
import hmac
import re
import secrets
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Annotated

import msgspec

SCOPES = ("calculate", "read", "formulas")
"""What a caller may be allowed: calculations, everything that is looked up, and formulas alone."""

PREFIX = "upstroke_"
"""How every key begins, so that a key that ended up in the wrong place is recognised."""

_RANDOM_BYTES = 32
_NAME = r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}"


class Key(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A key as the file lists it.

    ``sha256`` is the digest of the key, in hexadecimal. A digest without salt or stretching is enough, because a
    key is 256 random bits and can't be guessed. Several keys of one ``client`` let it change from one to the next.
    """

    id: Annotated[str, msgspec.Meta(pattern=f"^{_NAME}$")]
    client: Annotated[str, msgspec.Meta(pattern=f"^{_NAME}$")]
    sha256: Annotated[str, msgspec.Meta(pattern="^[0-9a-f]{64}$")]
    scopes: list[str]
    expires: Annotated[datetime, msgspec.Meta(tz=True)] | None = None
    revoked: bool = False


class _KeyFile(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    keys: list[Key]


def read_keys(content: bytes) -> tuple[Key, ...]:
    """The keys of a file in TOML. Raises ValueError, which says what is wrong and where."""
    try:
        listed = msgspec.toml.decode(content, type=_KeyFile).keys
    except msgspec.MsgspecError as error:
        raise ValueError(str(error)) from error
    for name, values in (("id", [key.id for key in listed]), ("sha256", [key.sha256 for key in listed])):
        twice = sorted({value for value in values if values.count(value) > 1})
        if twice:
            raise ValueError(f"{name} is given to more than one key: {', '.join(twice)}")
    for key in listed:
        unknown = sorted(set(key.scopes) - set(SCOPES))
        if unknown:
            raise ValueError(
                f"key {key.id}: no such scope: {', '.join(unknown)}; there are {', '.join(SCOPES)}"
            )
    return tuple(listed)


def valid_key(keys: Sequence[Key], presented: bytes, now: datetime) -> Key | None:
    """The key that was presented, or None where it is unknown, expired or revoked.

    Every key is compared, to its end, so that the time it takes tells nothing.
    """
    digest = hashlib.sha256(presented).hexdigest()
    found: Key | None = None
    for key in keys:
        if hmac.compare_digest(key.sha256, digest):
            found = key
    if found is None or found.revoked or (found.expires is not None and found.expires <= now):
        return None
    return found


def new_key() -> str:
    """A key that nobody can guess."""
    return PREFIX + secrets.token_urlsafe(_RANDOM_BYTES)


def listing(key: str, client: str, scopes: Sequence[str], expires: datetime | None, now: datetime) -> str:
    """The lines that list a key in the file; its id is the client's name and the time."""
    allowed = ", ".join(f'"{scope}"' for scope in scopes)
    lines = [
        "[[keys]]",
        f'id = "{client}-{now:%Y%m%dT%H%M%S}"',
        f'client = "{client}"',
        f'sha256 = "{hashlib.sha256(key.encode()).hexdigest()}"',
        f"scopes = [{allowed}]",
    ]
    if expires is not None:
        lines.append(f"expires = {expires:%Y-%m-%dT%H:%M:%SZ}")
    return "\n".join(lines) + "\n"


def _client(text: str) -> str:
    if not re.fullmatch(_NAME, text):
        raise argparse.ArgumentTypeError("letters, digits, dots, dashes and underscores only, at most 64")
    return text


def _scopes(text: str) -> list[str]:
    scopes = text.split(",")
    if not set(scopes) <= set(SCOPES):
        raise argparse.ArgumentTypeError(f"there are {', '.join(SCOPES)}")
    return scopes


def _day(text: str) -> datetime:
    try:
        return datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=UTC)
    except ValueError as error:
        raise argparse.ArgumentTypeError("must be a day such as 2030-12-31") from error


def main() -> int:
    """Make a key."""
    parser = argparse.ArgumentParser(
        prog="python -m upstroke_service.keys", description="Makes an API key and prints it, once."
    )
    parser.add_argument("--client", type=_client, required=True, help="who gets the key")
    parser.add_argument(
        "--scopes",
        type=_scopes,
        default=["calculate", "read"],
        help=f"some of {', '.join(SCOPES)}, separated by commas; who may calculate may also ask formulas "
        "(default: calculate,read)",
    )
    parser.add_argument(
        "--expires", type=_day, help="day on which it ends, as in 2030-12-31 (default: never)"
    )
    options = parser.parse_args()
    key = new_key()
    lines = listing(key, options.client, options.scopes, options.expires, datetime.now(UTC))
    print(f"The key, for {options.client} alone; it is not kept anywhere:\n\n{key}\n")
    print(f"Its lines for the file that UPSTROKE_KEYS names:\n\n{lines}", end="")
    return 0


if __name__ == "__main__":
    sys.exit(main())
