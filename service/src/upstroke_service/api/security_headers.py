"""Headers that keep browsers from doing with an answer what it is not meant for."""

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from upstroke_service.report.render import style_source

_NO_GUESSING = (b"x-content-type-options", b"nosniff")
_NO_REFERRER = (b"referrer-policy", b"no-referrer")
# Pages elsewhere can't embed an answer; those that CORS lets read it do so all the same.
_EMBEDDING = b"cross-origin-resource-policy"
_NO_EMBEDDING = (_EMBEDDING, b"same-origin")

_CONTENT_POLICY = b"content-security-policy"
_OF_DATA = b"default-src 'none'; frame-ancestors 'none'"
_OF_PAGES = (
    "default-src 'none'; script-src 'self'; "
    # A report has its style inside, so that it looks the same once it was saved.
    f"style-src 'self' {style_source()}; img-src 'self'; font-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
).encode()


def secure(app: ASGIApp, only_https_for: int) -> ASGIApp:
    """Wrap ``app``: add these headers to every answer, and a policy for what its content may load.

    A page may load what this service serves and nothing else, and nothing inline. ``only_https_for`` are seconds for
    which browsers shall use HTTPS alone (Strict-Transport-Security); 0 leaves that out.
    """
    always: list[tuple[bytes, bytes]] = [_NO_GUESSING, _NO_REFERRER]
    if only_https_for:
        always.append((b"strict-transport-security", b"max-age=%d" % only_https_for))

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        async def send_secured(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = list(message.get("headers", []))
                page = any(
                    name.lower() == b"content-type" and value.lower().startswith(b"text/html")
                    for name, value in headers
                )
                # Who means an answer for pages elsewhere says so.
                embedding = [] if any(name.lower() == _EMBEDDING for name, _ in headers) else [_NO_EMBEDDING]
                policy = (_CONTENT_POLICY, _OF_PAGES if page else _OF_DATA)
                message["headers"] = [*headers, *always, *embedding, policy]
            await send(message)

        await app(scope, receive, send_secured if scope["type"] == ScopeType.HTTP else send)

    return wrapped
