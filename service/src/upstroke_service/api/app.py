"""The application, put together without side effects of importing it."""

import msgspec
from litestar import Litestar
from litestar.datastructures import State
from litestar.exceptions import HTTPException
from litestar.types import ASGIApp

from upstroke_service import logs
from upstroke_service.settings import Settings

from . import problems
from .document import document
from .lineups import load_catalogues
from .middleware import identify
from .queries import require_known_query
from .resources import HANDLERS


def create_app(settings: Settings | None = None) -> ASGIApp:
    """The service as an ASGI application. Raises CatalogueError where a catalogue is faulty."""
    chosen = settings or Settings()
    logs.configure(chosen.log_level)
    contract = msgspec.json.encode(document(HANDLERS))
    routed = Litestar(
        route_handlers=list(HANDLERS),
        before_request=require_known_query,
        exception_handlers={
            problems.RequestProblem: problems.on_request_problem,
            HTTPException: problems.on_http_exception,
            Exception: problems.on_exception,
        },
        openapi_config=None,
        request_max_body_size=chosen.largest_body,
        state=State({"catalogues": load_catalogues(chosen), "openapi": contract}),
    )
    # Outside the framework, so that what it refuses to route is identified and logged too.
    return identify(routed)
