"""Problems as RFC 9457 defines them, and the one map from errors to them."""

import msgspec
import structlog
from litestar import Response
from litestar.exceptions import HTTPException
from litestar.status_codes import HTTP_500_INTERNAL_SERVER_ERROR
from litestar.types import Scope, Send

from upstroke_service import logs
from upstroke_service.contract.problems import Problem, ProblemError
from upstroke_service.wording import LANGUAGES, said, wording

from .web import AnyRequest

MEDIA_TYPE = "application/problem+json"
PATH = "/problems"

STATUSES = {
    "unreadable-header": 400,
    "unreadable-body": 400,
    "unauthenticated": 401,
    "forbidden": 403,
    "invalid-field": 422,
    "contradictory-facts": 422,
    "unknown-reference": 422,
    "not-found": 404,
    "method-not-allowed": 405,
    "not-acceptable": 406,
    "slow-body": 408,
    "body-too-large": 413,
    "uri-too-long": 414,
    "unsupported-media-type": 415,
    "too-many-requests": 429,
    "headers-too-large": 431,
    "internal-error": 500,
    "overloaded": 503,
    "shutting-down": 503,
}
"""HTTP status of every kind of problem."""

CLOSE = {"Connection": "close"}
"""Where the rest of a body stays unread, the connection can't go on, and the client has to know."""

_SMALL = 4096
"""Bytes of a body that have arrived together with the headers as a rule."""

_ALWAYS = {"Cache-Control": "no-store"}
_BY_STATUS = {400: "unreadable-header", 404: "not-found", 405: "method-not-allowed", 413: "body-too-large"}


class RequestProblem(Exception):
    """A request that gets a problem for an answer."""

    def __init__(
        self,
        code: str,
        detail: str,
        errors: list[ProblemError] | None = None,
        headers: dict[str, str] | None = None,
    ) -> None:
        """``code`` is one of STATUSES; ``errors`` are all faults of the body."""
        super().__init__(detail)
        self.code = code
        self.detail = detail
        self.errors = errors
        self.headers = headers or {}


def answer(
    code: str,
    detail: str,
    request_id: str,
    errors: list[ProblemError] | None = None,
    headers: dict[str, str] | None = None,
) -> Response[bytes]:
    """The response that states a problem."""
    sent = {**_ALWAYS, **(headers or {})}
    content = _content(code, detail, request_id, errors)
    return Response(content, status_code=STATUSES[code], media_type=MEDIA_TYPE, headers=sent)


async def refuse(
    scope: Scope, send: Send, code: str, detail: str, headers: dict[str, str] | None = None
) -> None:
    """Answer a request with a problem before it reaches the framework."""
    content = _content(code, detail, _noted(scope, code), None)
    sent = {"Content-Type": MEDIA_TYPE, "Content-Length": str(len(content)), **_ALWAYS, **(headers or {})}
    if _has_large_body(scope):
        sent |= CLOSE
    encoded = [(name.lower().encode(), value.encode()) for name, value in sent.items()]
    await send({"type": "http.response.start", "status": STATUSES[code], "headers": encoded})
    body = b"" if scope.get("method") == "HEAD" else content
    await send({"type": "http.response.body", "body": body, "more_body": False})


def _has_large_body(scope: Scope) -> bool:
    """Whether the server won't wait for the rest of a body that nobody reads, and closes the connection instead."""
    headers = dict(scope.get("headers", ()))
    length = headers.get(b"content-length", b"0")
    return b"transfer-encoding" in headers or not length.isdigit() or int(length) > _SMALL


def _content(code: str, detail: str, request_id: str, errors: list[ProblemError] | None) -> bytes:
    return msgspec.json.encode(problem(code, detail, request_id, errors))


def problem(code: str, detail: str, request_id: str, errors: list[ProblemError] | None = None) -> Problem:
    """The problem of a kind."""
    return Problem(
        type=f"{PATH}/{code}",
        title=said("problem", f"{code}.title"),
        status=STATUSES[code],
        code=code,
        detail=detail,
        request_id=request_id,
        errors=errors or msgspec.UNSET,
    )


def _noted(scope: Scope, code: str) -> str:
    """The id of the request, after noting for the log and the counts what its problem is."""
    state = scope.setdefault("state", {})
    state["problem"] = code
    return str(state.get("request_id", ""))


def on_request_problem(request: AnyRequest, found: RequestProblem) -> Response[bytes]:
    """A fault of the request that this service found itself."""
    return answer(found.code, found.detail, _noted(request.scope, found.code), found.errors, found.headers)


def on_http_exception(request: AnyRequest, error: HTTPException) -> Response[bytes]:
    """A fault of the request that the framework found."""
    if error.status_code >= HTTP_500_INTERNAL_SERVER_ERROR:
        return on_exception(request, error)
    code = _BY_STATUS.get(error.status_code, "invalid-field")
    detail = said("problem", f"{code}.about")
    headers = {key: value for key, value in (error.headers or {}).items() if key.lower() == "allow"}
    if code == "body-too-large":
        headers |= CLOSE
    return answer(code, detail, _noted(request.scope, code), headers=headers)


def on_exception(request: AnyRequest, error: Exception) -> Response[bytes]:
    """A defect of the service."""
    structlog.get_logger().error("unhandled_error", error=type(error).__name__, places=logs.places(error))
    detail = said("problem", "internal-error.about")
    return answer("internal-error", detail, _noted(request.scope, "internal-error"))


def about(code: str) -> tuple[str, str] | None:
    """Title and explanation of one kind of problem for its page, which is in the first language; None: no such kind."""
    if code not in STATUSES:
        return None
    say = wording(LANGUAGES[0]).say
    return say("problem", f"{code}.title"), say("problem", f"{code}.about")
