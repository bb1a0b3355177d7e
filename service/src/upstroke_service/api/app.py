"""The application, put together without side effects of importing it."""

from collections.abc import Mapping, Sequence
from functools import cache

import msgspec
from litestar import Litestar
from litestar.datastructures import State
from litestar.exceptions import HTTPException
from litestar.handlers import HTTPRouteHandler
from litestar.types import ASGIApp

from upstroke_service import logs
from upstroke_service.settings import Settings

from . import documentation, metrics, problems, quote_pages
from .access import gate, guard
from .batches import Places
from .cors import allow_origins
from .document import document
from .draining import Draining, end_connections
from .languages import speak
from .lineups import load_catalogues
from .middleware import answer_head
from .observing import identify
from .pages import PAGES
from .queries import require_known_query
from .rate_limits import counter, limit_rate
from .request_limits import limit_head
from .resources import HANDLERS
from .security_headers import secure
from .shedding import Work, shed
from .tracing import Spans, spans


def create_app(
    settings: Settings | None = None,
    *,
    draining: Draining | None = None,
    tracing: Spans | None = None,
    beside: Sequence[HTTPRouteHandler] = (),
) -> ASGIApp:
    """The service as an ASGI application. Raises CatalogueError where a catalogue is faulty, and SettingsError.

    ``draining`` tells it that its end is near; ``tracing`` makes spans, by the settings unless stated otherwise;
    ``beside`` are further handlers, for measuring in the same server what the service's own are worth.
    """
    chosen = settings or Settings()
    logs.configure(chosen.log_level)
    contract, pages = _described()
    ending, traced = draining or Draining(), tracing or spans(chosen)
    metrics.state_build()
    entrance, requests = gate(chosen), counter(chosen)
    routed: ASGIApp = Litestar(
        route_handlers=[*HANDLERS, *PAGES, *quote_pages.QUOTE_PAGES, *beside],
        before_request=require_known_query,
        exception_handlers={
            problems.RequestProblem: problems.on_request_problem,
            HTTPException: problems.on_http_exception,
            Exception: problems.on_exception,
        },
        on_shutdown=[requests.close, traced.close],
        openapi_config=None,
        # Logging belongs to whoever runs it: the server, or a program that embeds it.
        logging_config=None,
        request_max_body_size=chosen.largest_body,
        state=State(
            {
                "catalogues": load_catalogues(chosen),
                "openapi": contract,
                "pages": pages,
                "quote_form": quote_pages.files(),
                "draining": ending,
                "spans": traced,
                "settings": chosen,
                "places": Places(chosen.most_batches),
                "slowest_body": chosen.slowest_body,
                "work": Work(
                    at_once=chosen.calculations_at_once,
                    most_waiting=chosen.most_waiting,
                    longest_wait=chosen.longest_wait,
                ),
            }
        ),
    )
    # Outside the framework, so that what it refuses to route is identified and logged too.
    limited = limit_rate(answer_head(routed), requests, chosen)
    guarded = guard(limited, entrance, chosen.keyless_scopes)
    shared = shed(guarded, most_open=chosen.most_open)
    announced = end_connections(limit_head(shared), ending)
    # Outside all that refuses, so that pages of allowed sites can read the refusal.
    permitted = allow_origins(speak(announced), chosen.cors_origins)
    return identify(secure(permitted, chosen.only_https_for), traced)


@cache
def _described() -> tuple[bytes, Mapping[str, str]]:
    """The contract as JSON and as pages: the same whatever the settings, and most of the work of a start."""
    contract = document(HANDLERS)
    return msgspec.json.encode(contract), documentation.pages(contract)
