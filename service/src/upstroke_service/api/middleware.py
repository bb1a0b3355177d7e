"""A request id for every request, and one log line."""

import re
import secrets
import time

import structlog
from litestar.types import ASGIApp, Message, Receive, Scope, Send

_log = structlog.get_logger("upstroke_service.requests")
_ACCEPTABLE_ID = re.compile(rb"[A-Za-z0-9._-]{1,64}")


def identify(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: honour or make an X-Request-Id, answer with it, and log the outcome."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await app(scope, receive, send)
            return
        request_id = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
        if not _ACCEPTABLE_ID.fullmatch(request_id):
            request_id = secrets.token_hex(8).encode()
        scope.setdefault("state", {})["request_id"] = request_id.decode()
        started = time.perf_counter()
        status = 0

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
                method=scope["method"],
                route=scope.get("path_template", ""),
                status=status,
                milliseconds=round(1000.0 * (time.perf_counter() - started), 3),
                request_id=request_id.decode(),
            )

    return wrapped
