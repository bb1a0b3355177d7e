"""Applications with keys, and what callers send to them."""

import hashlib
from pathlib import Path
from typing import Any

from tests.service.in_process import Service, start

SECRETS = {
    "whole": "upstroke_whole",
    "calculating": "upstroke_calculating",
    "reading": "upstroke_reading",
    "expired": "upstroke_expired",
    "revoked": "upstroke_revoked",
    "second": "upstroke_second",
}
"""Keys by their ids; real ones are random."""

_FIELDS = {
    "whole": 'client = "example"\nscopes = ["calculate", "read"]',
    "calculating": 'client = "shop"\nscopes = ["calculate"]',
    "reading": 'client = "lister"\nscopes = ["read"]',
    "expired": 'client = "example"\nscopes = ["calculate", "read"]\nexpires = 2020-01-01T00:00:00Z',
    "revoked": 'client = "example"\nscopes = ["calculate", "read"]\nrevoked = true',
    "second": 'client = "example"\nscopes = ["calculate", "read"]\nexpires = 2999-01-01T00:00:00Z',
}


def key_file(folder: Path, *ids: str) -> Path:
    """A file with these keys, or all."""
    path = folder / "keys.toml"
    path.write_text(
        "\n".join(
            f'[[keys]]\nid = "{name}"\nsha256 = "{hashlib.sha256(SECRETS[name].encode()).hexdigest()}"\n{_FIELDS[name]}'
            for name in ids or SECRETS
        ),
        "utf-8",
    )
    return path


def guarded(folder: Path, **settings: Any) -> Service:
    """The application with all of the keys."""
    return start(keys=key_file(folder), **settings)


def bearer(name: str) -> dict[str, str]:
    """The header that shows a key."""
    return {"Authorization": f"Bearer {SECRETS[name]}"}
