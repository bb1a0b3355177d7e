"""What handlers share: the style that is asked for, what is accepted, and answers that caches may keep."""

import hashlib

from litestar import Response

from upstroke_service.units import System
from upstroke_service.wording import LANGUAGES

from .compute import Context
from .lineups import Catalogues
from .problems import RequestProblem
from .style import Style, style
from .web import AnyRequest

JSON = "application/json"
_CACHED = {"Cache-Control": "public, max-age=300"}


def style_of(request: AnyRequest) -> Style:
    """The style that the request asks for; the query has been checked."""
    system: System = "si" if request.query_params.get("units") == "si" else "us"
    return style(system, LANGUAGES[0])


def context_of(request: AnyRequest) -> Context:
    """What the answer depends on besides the facts."""
    catalogues: Catalogues = request.app.state.catalogues
    return Context(catalogues, style_of(request))


def require_accepted(request: AnyRequest, media_type: str) -> None:
    """Refuse a request that does not accept ``media_type``. Raises RequestProblem 'not-acceptable'."""
    accepted_of(request, (media_type,))


def accepted_of(request: AnyRequest, media_types: tuple[str, ...]) -> str:
    """The first of ``media_types`` that the request accepts. Raises RequestProblem 'not-acceptable'."""
    accepted = ",".join(request.headers.getall("accept", [])).strip() or "*/*"
    media_ranges = {one.partition(";")[0].strip() for one in accepted.lower().split(",")}
    for media_type in media_types:
        if not media_ranges.isdisjoint({media_type, f"{media_type.partition('/')[0]}/*", "*/*"}):
            return media_type
    raise RequestProblem("not-acceptable", f"Answers come as {' or '.join(media_types)}.")


def cacheable(
    request: AnyRequest, content: bytes, media_type: str = JSON, headers: dict[str, str] | None = None
) -> Response[bytes]:
    """An answer with an entity tag, or none where the client has it already."""
    tag = f'"{hashlib.blake2b(content, digest_size=16).hexdigest()}"'
    sent = {**_CACHED, "ETag": tag, **(headers or {})}
    known = {one.strip().removeprefix("W/") for one in request.headers.get("if-none-match", "").split(",")}
    if known & {tag, "*"}:
        return Response(b"", status_code=304, headers=sent)
    return Response(content, media_type=media_type, headers=sent)
