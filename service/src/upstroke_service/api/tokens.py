"""Bearer tokens: JSON Web Tokens (RFC 7519) that somebody else issues, checked by a set of public keys."""

import asyncio
import time
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any, Protocol, cast

import jwt
import structlog

from upstroke_service.settings import Settings, SettingsError
from upstroke_service.watched import Watched

from .callers import Caller

SECONDS_BETWEEN_FETCHES = 60.0
"""Between two fetches of a key set, whatever tokens arrive."""

SECONDS_KEPT = 3_600.0
"""Age at which a key set is fetched again though no token asks for it, so that withdrawn keys go."""

_SECONDS_TO_FETCH = 3.0
_MOST_BYTES = 262_144
_CLAIMS = ["exp", "iss", "aud", "sub"]

_log = structlog.get_logger(__name__)

Keys = dict[str | None, jwt.PyJWK]


def read_key_set(content: bytes) -> Keys:
    """The keys of a JSON Web Key Set (RFC 7517) by their ids. Raises ValueError where there is none.

    A set of one key may leave out its id, and so may the tokens.
    """
    try:
        found = jwt.PyJWKSet.from_json(content.decode()).keys
    except (jwt.PyJWTError, ValueError, AttributeError, RecursionError) as error:
        raise ValueError("this is no JSON Web Key Set with a usable key") from error
    by_id: Keys = {key.key_id: key for key in found}
    if len(found) == 1:
        by_id[None] = found[0]
    return by_id


class KeySet(Protocol):
    """Where the public keys come from."""

    async def key(self, key_id: str | None) -> jwt.PyJWK | None:
        """The key of this id, or None where there is none."""
        ...


class FileKeySet:
    """A key set in a file."""

    def __init__(self, path: Path) -> None:
        """Read the file. Raises ValueError where it is faulty."""
        self._file = Watched(path, read_key_set)

    async def key(self, key_id: str | None) -> jwt.PyJWK | None:
        """The key of this id, or None where there is none."""
        return self._file.current().get(key_id)


class FetchedKeySet:
    """A key set at an address: fetched when a token names an unknown key, and when it is old; never more often."""

    def __init__(self, fetch: Callable[[], bytes], clock: Callable[[], float] = time.monotonic) -> None:
        """Fetch nothing yet."""
        self._fetch = fetch
        self._clock = clock
        self._keys: Keys = {}
        self._next = float("-inf")
        self._old = float("-inf")
        self._fetching: asyncio.Task[None] | None = None

    async def key(self, key_id: str | None) -> jwt.PyJWK | None:
        """The key of this id, or None where there is none."""
        now = self._clock()
        if self._fetching is None and now >= self._next and (key_id not in self._keys or now >= self._old):
            self._next = now + SECONDS_BETWEEN_FETCHES
            self._fetching = asyncio.create_task(self._refresh())
        if self._fetching is not None and key_id not in self._keys:
            # One who gives up must not stop what others wait for.
            await asyncio.shield(self._fetching)
        return self._keys.get(key_id)

    async def _refresh(self) -> None:
        try:
            self._keys = read_key_set(await asyncio.to_thread(self._fetch))
            self._old = self._clock() + SECONDS_KEPT
        except (OSError, ValueError) as error:
            _log.error("key_set_not_fetched", reason=str(error))
        finally:
            self._fetching = None


class _NoRedirects(urllib.request.HTTPRedirectHandler):
    """Keys come from the address that was stated and no other."""

    def redirect_request(self, *_: Any, **__: Any) -> None:
        """Follow nothing."""


def fetcher(url: str) -> Callable[[], bytes]:
    """A function that fetches ``url`` and raises OSError or ValueError where it can't."""
    opener = urllib.request.build_opener(_NoRedirects)

    def fetch() -> bytes:
        with opener.open(url, timeout=_SECONDS_TO_FETCH) as response:
            content = cast("bytes", response.read(_MOST_BYTES + 1))
        if len(content) > _MOST_BYTES:
            raise ValueError(f"the key set is larger than {_MOST_BYTES} bytes")
        return content

    return fetch


class BearerTokens:
    """Knows callers by the tokens of one issuer."""

    def __init__(self, settings: Settings) -> None:
        """Read the key set where it is a file. Raises SettingsError where something is missing or faulty."""
        missing = [
            f"UPSTROKE_{name.upper()}"
            for name in ("token_issuer", "token_audience")
            if not getattr(settings, name)
        ]
        if missing:
            raise SettingsError(f"UPSTROKE_TOKEN_KEYS: needs {' and '.join(missing)} too")
        self._settings = settings
        self._keys = _key_set(cast("str | Path", settings.token_keys))

    async def caller(self, token: bytes) -> Caller | None:
        """Who a token names, or None where it is not valid, for whatever reason."""
        try:
            text = token.decode("ascii")
            key = await self._keys.key(jwt.get_unverified_header(text).get("kid"))
            if key is None:
                return None
            claims = jwt.decode(
                text,
                key,
                algorithms=list(self._settings.token_algorithms),
                issuer=self._settings.token_issuer,
                audience=self._settings.token_audience,
                leeway=self._settings.token_leeway,
                options={"require": _CLAIMS, "enforce_minimum_key_length": True},
            )
        except (jwt.PyJWTError, ValueError, TypeError, RecursionError):
            return None
        return Caller(f"token:{claims['sub']}", _scopes(claims.get(self._settings.token_scope_claim)))


def _key_set(source: str | Path) -> KeySet:
    if isinstance(source, str):
        return FetchedKeySet(fetcher(source))
    try:
        return FileKeySet(source)
    except ValueError as error:
        raise SettingsError(f"UPSTROKE_TOKEN_KEYS: {source}: {error}") from error


def _scopes(claim: object) -> frozenset[str]:
    """Scopes of a claim: words in one text (RFC 9068), or a list of them."""
    words = claim.split() if isinstance(claim, str) else claim
    return frozenset(one for one in words if isinstance(one, str)) if isinstance(words, list) else frozenset()
