"""Around the application: HEAD."""

from typing import cast

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send


def answer_head(app: ASGIApp) -> ASGIApp:
    """Wrap ``app``: answer HEAD as GET without the content (RFC 9110, 9.3.2), and let Allow say so."""

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        asked = scope["type"] == ScopeType.HTTP and scope["method"] == "HEAD"
        inner = cast("Scope", {**scope, "method": "GET"}) if asked else scope

        async def send_as_asked(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [_with_head(*header) for header in message.get("headers", [])]
            elif message["type"] == "http.response.body" and asked:
                message["body"] = b""
            await send(message)

        await app(inner, receive, send_as_asked)
        if "path_template" in inner:
            scope["path_template"] = inner["path_template"]

    return wrapped


def _with_head(name: bytes, value: bytes) -> tuple[bytes, bytes]:
    """A header; Allow with HEAD wherever it has GET."""
    return (name, value.replace(b"GET", b"GET, HEAD")) if name.lower() == b"allow" else (name, value)
