"""Which sites' pages may call the service from a browser (CORS, as the Fetch standard defines it)."""

from collections.abc import Collection

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from .callers import headers_of

_ALLOWED = b"access-control-allow-origin"
_VARY = (b"vary", b"Origin")
_ANSWERED = (
    (b"access-control-allow-methods", b"GET, HEAD, POST"),
    (
        b"access-control-allow-headers",
        b"Authorization, Content-Type, If-None-Match, Traceparent, Tracestate, X-Request-Id",
    ),
    (b"access-control-max-age", b"7200"),  # the longest that browsers in wide use keep
)
_EXPOSED = (
    b"access-control-expose-headers",
    b"Content-Language, ETag, RateLimit, RateLimit-Policy, Retry-After, WWW-Authenticate, X-Request-Id",
)


def allow_origins(app: ASGIApp, origins: Collection[str]) -> ASGIApp:
    """Wrap ``app``: let pages of these origins read its answers, and answer what browsers ask beforehand.

    An origin matches exactly or not at all. Cookies and other credentials of the browser are never allowed; a key
    is sent by the page itself.
    """
    if not origins:
        return app
    allowed = {origin.encode() for origin in origins}

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await app(scope, receive, send)
            return
        sent = headers_of(scope, b"origin")
        matched = [(_ALLOWED, sent[0])] if len(sent) == 1 and sent[0] in allowed else []
        if scope["method"] == "OPTIONS" and sent and headers_of(scope, b"access-control-request-method"):
            # Who is not allowed gets the same answer without the permission, which the browser takes for a no.
            headers = [_VARY, *matched, *(_ANSWERED if matched else ())]
            await send({"type": "http.response.start", "status": 204, "headers": headers})
            await send({"type": "http.response.body", "body": b"", "more_body": False})
            return

        async def send_permitted(message: Message) -> None:
            if message["type"] == "http.response.start":
                if any(name.lower() == _ALLOWED for name, _ in message.get("headers", [])):
                    await send(message)  # open to every site already, as the quote form's files are
                    return
                added = [_VARY, *matched, *([_EXPOSED] if matched else [])]
                message["headers"] = [*message.get("headers", []), *added]
            await send(message)

        await app(scope, receive, send_permitted)

    return wrapped
