"""Quotas: so many requests of each client in so many seconds."""

import math

from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from upstroke_service.settings import Quota, Settings, SettingsError
from upstroke_service.wording import said

from . import problems
from .access import PROBES
from .callers import caller_of, origin_address
from .counting import Counter, MemoryCounter

FORM = "/quote/"
"""Folder of the form's files: a page asks for a dozen of them at once, which is no use of the service."""


def counter(settings: Settings) -> Counter:
    """Where requests are counted. Raises SettingsError where that needs what is not installed."""
    if not settings.rate_store:
        return MemoryCounter()
    try:
        # Imported where it is used: it needs what the extra "redis" installs.
        from .shared_counting import SharedCounter  # noqa: PLC0415
    except ImportError as error:
        raise SettingsError(
            "UPSTROKE_RATE_STORE: needs the extra: pip install 'upstroke-service[redis]'"
        ) from error
    return SharedCounter(settings.rate_store, settings.rate_store_patience / 1_000)


def require_one_count(workers: int, settings: Settings) -> None:
    """Refuse quotas that would not hold. Raises SettingsError where several processes would count alone."""
    limited = settings.rate_limit or settings.keyless_rate_limit
    if workers > 1 and limited and not settings.rate_store:
        raise SettingsError(
            f"--workers {workers}: each process would count alone, and clients would get {workers} times what "
            "UPSTROKE_RATE_LIMIT says; set UPSTROKE_RATE_STORE"
        )


def limit_rate(app: ASGIApp, counter: Counter, settings: Settings) -> ASGIApp:
    """Wrap ``app``: count requests, say in every answer what is left, refuse what goes beyond.

    A client is who showed a key or token, and otherwise the address that the request came from. Headers are those
    of the IETF draft "RateLimit header fields for HTTP", version 11.
    """
    if settings.rate_limit is None and settings.keyless_rate_limit is None:
        return app

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP or scope["path"] in PROBES or scope["path"].startswith(FORM):
            await app(scope, receive, send)
            return
        name, quota, client = _measure(scope, settings)
        if quota is None:
            await app(scope, receive, send)
            return
        used, left = await counter.count(client, quota.seconds)
        seconds = max(1, math.ceil(left))
        headers = {
            "RateLimit-Policy": f'"{name}";q={quota.requests};w={quota.seconds}',
            "RateLimit": f'"{name}";r={max(0, quota.requests - used)};t={seconds}',
        }
        if used > quota.requests:
            detail = said("fault", "quota", requests=quota.requests, seconds=quota.seconds)
            await problems.refuse(
                scope, send, "too-many-requests", detail, {**headers, "Retry-After": str(seconds)}
            )
            return
        added = [(key.lower().encode(), value.encode()) for key, value in headers.items()]

        async def send_with_rest(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), *added]
            await send(message)

        scope.setdefault("state", {})["allowance"] = Allowance(counter, client, quota)
        await app(scope, receive, send_with_rest)

    return wrapped


class Allowance:
    """What a client may still ask within its quota, for a request that counts as several."""

    def __init__(self, counter: Counter, client: str, quota: Quota) -> None:
        """The ``quota`` of a ``client``, as counted by the ``counter``."""
        self._counter = counter
        self._client = client
        self._quota = quota

    async def wait_after_one(self) -> float:
        """Count one request more; seconds to wait until it may be answered, 0 within the quota."""
        used, left = await self._counter.count(self._client, self._quota.seconds)
        return left if used > self._quota.requests else 0.0


def _measure(scope: HTTPScope, settings: Settings) -> tuple[str, Quota | None, str]:
    """The name of the policy, its quota, and the client whose requests are counted."""
    caller = caller_of(scope)
    if caller is not None:
        return "default", settings.rate_limit, caller.name
    address = f"address:{origin_address(scope, settings.trusted_proxies)}"
    if settings.keyless_rate_limit is not None:
        return "keyless", settings.keyless_rate_limit, address
    return "default", settings.rate_limit, address
