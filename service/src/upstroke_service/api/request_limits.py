"""Addresses and headers: one host, and no larger than an honest client needs."""

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Receive, Scope, Send

from upstroke_service.wording import said

from .problems import refuse

LONGEST_ADDRESS = 8_000
"""Bytes of path and query: what every recipient should support (RFC 9110, section 4.1)."""

LARGEST_HEADERS = 32_768
"""Bytes of all header fields, names and values; a browser with many cookies sends a quarter of that."""


def limit_head(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: refuse longer addresses and larger headers. The server refuses more than 100 fields."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == ScopeType.HTTP:
            if len(scope["raw_path"]) + len(scope["query_string"]) > LONGEST_ADDRESS:
                detail = said("fault", "long_address", bytes=LONGEST_ADDRESS)
                await refuse(scope, send, "uri-too-long", detail)
                return
            if sum(len(name) + len(value) for name, value in scope["headers"]) > LARGEST_HEADERS:
                detail = said("fault", "large_headers", bytes=LARGEST_HEADERS)
                await refuse(scope, send, "headers-too-large", detail)
                return
            if sum(name == b"host" for name, _ in scope["headers"]) > 1:
                await refuse(scope, send, "unreadable-header", said("fault", "one_host"))
                return
        await app(scope, receive, send)

    return wrapped
