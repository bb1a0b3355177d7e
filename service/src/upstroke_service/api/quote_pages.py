"""The quote form: the page that shows it, and the modules, texts and limits that it is made of."""

import gzip
import hashlib
from collections.abc import Iterator
from importlib import resources
from importlib.resources.abc import Traversable
from typing import NamedTuple

import msgspec
from litestar import Response, get
from litestar.datastructures import State
from litestar.exceptions import NotFoundException
from litestar.params import FromPath

from .quote_fields import fields
from .web import AnyRequest

FOLDER = "/quote/"
PAGE = "page.html"
FIELDS = "fields.json"
_LANGUAGES = "languages/"

_TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".svg": "image/svg+xml",
}
# Any site may load the form. It holds nothing of anybody's; what it asks of the service, CORS still decides.
_ANY_SITE = {"Access-Control-Allow-Origin": "*", "Cross-Origin-Resource-Policy": "cross-origin"}
_CACHED = {"Cache-Control": "public, max-age=300", "Vary": "Accept-Encoding"}


class File(NamedTuple):
    """A file as it is served."""

    media_type: str
    plain: bytes
    packed: bytes
    """The same, compressed by gzip."""

    tag: str


def _file(name: str, content: bytes) -> File:
    packed = gzip.compress(content, mtime=0)
    tag = hashlib.blake2b(content, digest_size=16).hexdigest()
    return File(_TYPES[f".{name.rpartition('.')[2]}"], content, packed, tag)


def _found(folder: Traversable, prefix: str = "") -> Iterator[tuple[str, bytes]]:
    for one in folder.iterdir():
        if one.is_dir():
            yield from _found(one, f"{prefix}{one.name}/")
        elif f".{one.name.rpartition('.')[2]}" in _TYPES:
            yield f"{prefix}{one.name}", one.read_bytes()


def files() -> dict[str, File]:
    """Every file by its path below the folder, and the limits of every field."""
    found = dict(_found(resources.files("upstroke_service").joinpath("web", "quote")))
    languages = sorted(
        name.removeprefix(_LANGUAGES).removesuffix(".js") for name in found if name.startswith(_LANGUAGES)
    )
    found[FIELDS] = msgspec.json.encode({"languages": languages, "fields": fields()})
    return {name: _file(name, content) for name, content in found.items()}


def _served(request: AnyRequest, one: File) -> Response[bytes]:
    """The file, compressed where the client takes that, or nothing where it has it already."""
    taken = {part.strip().lower() for part in request.headers.get("accept-encoding", "").split(",")}
    small = "gzip" in taken
    tag = f'"{one.tag}{"-gzip" if small else ""}"'
    headers = {**_ANY_SITE, **_CACHED, "ETag": tag}
    known = {part.strip().removeprefix("W/") for part in request.headers.get("if-none-match", "").split(",")}
    if known & {tag, "*"}:
        return Response(b"", status_code=304, headers=headers)
    if small:
        return Response(
            one.packed, media_type=one.media_type, headers={**headers, "Content-Encoding": "gzip"}
        )
    return Response(one.plain, media_type=one.media_type, headers=headers)


@get("/", include_in_schema=False)
async def quote_page(request: AnyRequest, state: State) -> Response[bytes]:
    """The page with the form."""
    return _served(request, state.quote_form[PAGE])


@get(f"{FOLDER}{{name:path}}", include_in_schema=False)
async def quote_file(request: AnyRequest, state: State, name: FromPath[str]) -> Response[bytes]:
    """A module, a text or the limits of the fields."""
    found: File | None = state.quote_form.get(name.removeprefix("/"))
    if found is None:
        raise NotFoundException
    return _served(request, found)


QUOTE_PAGES = (quote_page, quote_file)
"""Every handler of the quote form."""
