"""Around the application: a request id for every request, one log line, and HEAD."""

import re
import secrets
import time
from typing import cast

import structlog
from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

_log = structlog.get_logger("upstroke_service.requests")
_ACCEPTABLE_ID = re.compile(rb"[A-Za-z0-9._-]{1,64}")


def identify(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: honour or make an X-Request-Id, answer with it, and log the outcome."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await app(scope, receive, send)
            return
        request_id = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
        if not _ACCEPTABLE_ID.fullmatch(request_id):
            request_id = secrets.token_hex(8).encode()
        scope.setdefault("state", {})["request_id"] = request_id.decode()
        started = time.perf_counter()
        method, status = scope["method"], 0

        async def send_with_id(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message["headers"] = [*message.get("headers", []), (b"x-request-id", request_id)]
            await send(message)

        try:
            await app(scope, receive, send_with_id)
        finally:
            _log.info(
                "request",
                method=method,
                route=scope.get("path_template", ""),
                status=status,
                milliseconds=round(1000.0 * (time.perf_counter() - started), 3),
                request_id=request_id.decode(),
            )

    return wrapped


def answer_head(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: answer HEAD as GET without the content (RFC 9110, 9.3.2), and let Allow say so."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        asked = scope["type"] == ScopeType.HTTP and scope["method"] == "HEAD"
        if asked:
            scope = cast("Scope", {**scope, "method": "GET"})

        async def send_as_asked(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [_with_head(*header) for header in message.get("headers", [])]
            elif message["type"] == "http.response.body" and asked:
                message["body"] = b""
            await send(message)

        await app(scope, receive, send_as_asked)

    return wrapped


def _with_head(name: bytes, value: bytes) -> tuple[bytes, bytes]:
    """A header; Allow with HEAD wherever it has GET."""
    return (name, value.replace(b"GET", b"GET, HEAD")) if name.lower() == b"allow" else (name, value)
