"""The service with a no-physics endpoint beside it: decode the same request, encode an equal answer."""

import msgspec
from litestar import Response, post
from litestar.types import ASGIApp

from upstroke_service.__main__ import serving
from upstroke_service.api import bodies, sizings
from upstroke_service.api.app import create_app
from upstroke_service.api.compute import Context
from upstroke_service.api.lineups import load_catalogues
from upstroke_service.api.operation import quotes
from upstroke_service.api.responses import JSON
from upstroke_service.api.style import style
from upstroke_service.api.web import AnyRequest
from upstroke_service.contract.answers import Sizing
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.settings import Settings, from_environment


def quote(name: str) -> SizingRequest:
    """A quote request of the demo scenario."""
    return msgspec.convert(quotes()[name], SizingRequest)


def answer(name: str) -> Sizing:
    """Its answer with the demo catalogue, in US units."""
    context = Context(load_catalogues(Settings()), style("us", "en"))
    return sizings.size(quote(name), context)


_ANSWERS = {name: answer(name) for name in quotes()}


@post("/no-physics/{name:str}", status_code=200, opt={"units": True})
async def no_physics(request: AnyRequest, name: str) -> Response[bytes]:
    """The way of a sizing without the sizing."""
    body = await bodies.receive(request)
    bodies.decode(body, SizingRequest)
    return Response(msgspec.json.encode(_ANSWERS[name]), media_type=JSON)


def application() -> ASGIApp:
    """The service, for an ASGI server's factory option."""
    return serving(create_app(from_environment(), beside=[no_physics]))
