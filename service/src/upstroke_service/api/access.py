"""Who may call what: keys and tokens, before a request reaches the framework."""

from datetime import UTC, datetime
from typing import Protocol

from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from upstroke_service.keys import PREFIX, SCOPES, Key, read_keys, valid_key
from upstroke_service.settings import Settings, SettingsError, is_loopback
from upstroke_service.watched import Watched
from upstroke_service.wording import said

from . import problems
from .callers import Caller, headers_of

CALCULATE, READ, FORMULAS = SCOPES

PROBES = frozenset({"/livez", "/readyz"})
"""Addresses that tell whoever runs the service how it is doing: never refused, and never counted."""

OPEN = PROBES | {"/", "/openapi.json", "/docs"}
"""Addresses that answer everyone; all others need a scope, so that a new one is never open by oversight."""

OPEN_FOLDERS = ("/problems/", "/docs/", "/quote/")
"""Folders of pages that answer everyone."""

FORMULA_FOLDER = "/v1/formulas/"
"""Folder of the formulas: calculations by GET, with a scope of their own, so that they can be opened alone."""

_REALM = 'Bearer realm="upstroke"'


class Tokens(Protocol):
    """Something that knows callers by bearer tokens."""

    async def caller(self, token: bytes) -> Caller | None:
        """Who a token names, or None where it is not valid, for whatever reason."""
        ...


class Gate:
    """Knows callers by what they show: API keys, tokens, or both."""

    def __init__(self, keys: Watched[tuple[Key, ...]] | None, tokens: Tokens | None) -> None:
        """What is None is not accepted."""
        self._keys = keys
        self._tokens = tokens

    async def caller(self, credential: bytes) -> Caller | None:
        """Who shows ``credential``, or None where it is not valid, for whatever reason."""
        if self._tokens and not credential.startswith(PREFIX.encode()):
            return await self._tokens.caller(credential)
        key = valid_key(self._keys.current() if self._keys else (), credential, datetime.now(UTC))
        return Caller(f"key:{key.client}", frozenset(key.scopes)) if key else None


def require_guard(host: str, settings: Settings) -> None:
    """Refuse to answer strangers unless that is meant.

    Raises SettingsError where ``host`` can be reached from other machines and nothing says who may call.
    """
    if is_loopback(host) or settings.open or _is_guarded(settings):
        return
    raise SettingsError(
        f"--host {host}: everyone who reaches this address could use the service. Name a file of keys in "
        "UPSTROKE_KEYS or a key set in UPSTROKE_TOKEN_KEYS; or, where that is meant or something in front decides who "
        "may, set UPSTROKE_OPEN=yes"
    )


def _is_guarded(settings: Settings) -> bool:
    return settings.keys is not None or settings.token_keys is not None


def gate(settings: Settings) -> Gate | None:
    """What the settings say about who may call, or None where everyone may.

    Raises SettingsError where a file is faulty, or where what tokens need is not stated or not installed.
    """
    if not _is_guarded(settings):
        return None
    keys: Watched[tuple[Key, ...]] | None = None
    if settings.keys is not None:
        try:
            keys = Watched(settings.keys, read_keys)
        except ValueError as error:
            raise SettingsError(f"UPSTROKE_KEYS: {settings.keys}: {error}") from error
    tokens: Tokens | None = None
    if settings.token_keys is not None:
        try:
            # Imported where it is used: it needs what the extra "jwt" installs.
            from .tokens import BearerTokens  # noqa: PLC0415
        except ImportError as error:
            raise SettingsError(
                "UPSTROKE_TOKEN_KEYS: needs the extra: pip install 'upstroke-service[jwt]'"
            ) from error
        tokens = BearerTokens(settings)
    return Gate(keys, tokens)


def guard(app: ASGIApp, entrance: Gate | None, keyless: frozenset[str]) -> ASGIApp:
    """Wrap ``app``: find out who calls, and refuse those who may not; ``keyless`` are scopes of everyone.

    Whatever is wrong with a key or token, the refusal is the same.
    """
    if entrance is None:
        return app

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP or is_open(scope["path"]):
            await app(scope, receive, send)
            return
        opening = opened_by(scope["method"], scope["path"])
        shown = headers_of(scope, b"authorization")
        caller = await _caller(entrance, shown) if shown else None
        if caller is not None:
            scope.setdefault("state", {})["caller"] = caller
        allowed = caller.scopes if caller else keyless if not shown else frozenset()
        if not allowed.isdisjoint(opening):
            await app(scope, receive, _kept_private(send))
        elif caller is None:
            await _refuse_unknown(scope, send, shown=bool(shown))
        else:
            needed = opening[0]
            challenge = f'{_REALM}, error="insufficient_scope", scope="{needed}"'
            detail = said("fault", "scope", scope=needed)
            await problems.refuse(scope, send, "forbidden", detail, {"WWW-Authenticate": challenge})

    return wrapped


def opened_by(method: str, path: str) -> tuple[str, ...]:
    """The scopes of which any one opens an address; the least that does comes first."""
    if path.startswith(FORMULA_FOLDER):
        return (FORMULAS, CALCULATE)
    return (CALCULATE,) if method == "POST" else (READ,)


def is_open(path: str) -> bool:
    """Whether an address answers everyone."""
    return path in OPEN or path.startswith(OPEN_FOLDERS)


async def _caller(entrance: Gate, shown: list[bytes]) -> Caller | None:
    """Who sent these Authorization headers; two of them are none."""
    if len(shown) != 1:
        return None
    scheme, _, credential = shown[0].partition(b" ")
    return await entrance.caller(credential.strip()) if scheme.lower() == b"bearer" else None


async def _refuse_unknown(scope: HTTPScope, send: Send, *, shown: bool) -> None:
    # RFC 6750, 3.1: who showed nothing is not told of an error.
    challenge = f'{_REALM}, error="invalid_token"' if shown else _REALM
    detail = said("fault", "credential")
    await problems.refuse(scope, send, "unauthenticated", detail, {"WWW-Authenticate": challenge})


def _kept_private(send: Send) -> Send:
    """``send`` that lets shared caches keep nothing of what not everyone may read."""

    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            message["headers"] = [
                (name, value.replace(b"public", b"private") if name.lower() == b"cache-control" else value)
                for name, value in message.get("headers", [])
            ]
        await send(message)

    return sending
