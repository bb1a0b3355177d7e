"""Pages for people: the contract, and what each kind of problem means."""

from importlib import resources

from litestar import MediaType, Response, get
from litestar.datastructures import State
from litestar.exceptions import NotFoundException
from litestar.params import FromPath

from . import documentation, problems

_CACHED = {"Cache-Control": "public, max-age=300"}
_STYLE = resources.files("upstroke_service.api").joinpath("documentation.css").read_bytes()


def _page(content: str | None) -> Response[str]:
    if content is None:
        raise NotFoundException
    return Response(content, media_type=MediaType.HTML, headers=_CACHED)


@get(documentation.FOLDER, include_in_schema=False)
async def overview(state: State) -> Response[str]:
    """Every operation in a line."""
    return _page(state.pages[""])


@get(f"{documentation.FOLDER}/{{name:str}}", include_in_schema=False)
async def part(state: State, name: FromPath[str]) -> Response[str]:
    """One operation, or all schemas."""
    return _page(state.pages.get(name))


@get(documentation.STYLE, include_in_schema=False)
async def style() -> Response[bytes]:
    """How pages look."""
    return Response(_STYLE, media_type=MediaType.CSS, headers=_CACHED)


@get(f"{problems.PATH}/{{code:str}}", include_in_schema=False)
async def problem(code: FromPath[str]) -> Response[str]:
    """The short page that a problem's type points to."""
    found = problems.about(code)
    if found is None:
        raise NotFoundException
    title, text = found
    told = documentation.prose(f"HTTP status {problems.STATUSES[code]}, code `{code}`", "quiet")
    return _page(documentation.page(title, f"{documentation.prose(text)}\n{told}"))


PAGES = (overview, part, style, problem)
"""Every handler of a page."""
