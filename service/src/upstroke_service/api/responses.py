"""What handlers share: the style that is asked for, what is accepted, and answers that caches may keep."""

import hashlib
import re

from litestar import Response

from upstroke_service.units import System
from upstroke_service.wording import said, spoken

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
    return style(system, spoken())


def context_of(request: AnyRequest) -> Context:
    """What the answer depends on besides the facts."""
    catalogues: Catalogues = request.app.state.catalogues
    return Context(catalogues, style_of(request))


def require_accepted(request: AnyRequest, media_type: str) -> None:
    """Refuse a request that does not accept ``media_type``. Raises RequestProblem 'not-acceptable'."""
    preferred(request, (media_type,))


def preferred(request: AnyRequest, media_types: tuple[str, ...]) -> str:
    """The one of ``media_types`` that the request prefers, the first of equals (RFC 9110, section 12.5.1).

    Raises RequestProblem 'not-acceptable'.
    """
    header = ",".join(request.headers.getall("accept", [])).strip() or "*/*"
    ranges = [_media_range(one) for one in header.lower().split(",")]
    qualities = [_quality(media_type, ranges) for media_type in media_types]
    if not any(qualities):
        raise RequestProblem("not-acceptable", said("fault", "media_type", media_type=", ".join(media_types)))
    return media_types[qualities.index(max(qualities))]


def _media_range(text: str) -> tuple[str, float]:
    name, *parameters = (part.strip() for part in text.split(";"))
    weights = [one.removeprefix("q=") for one in parameters if one.startswith("q=")]
    # A weight that is no number is none.
    written = (
        weights[0] if weights and re.fullmatch(r"0(\.\d{0,3})?|1(\.0{0,3})?", weights[0], re.ASCII) else "1"
    )
    return name, float(written)


def _quality(media_type: str, ranges: list[tuple[str, float]]) -> float:
    """What the most specific of the ``ranges`` that a media type is in says of it."""
    for name in (media_type, f"{media_type.partition('/')[0]}/*", "*/*"):
        found = [quality for one, quality in ranges if one == name]
        if found:
            return max(found)
    return 0.0


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
