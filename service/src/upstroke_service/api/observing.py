"""Around everything: a request id, the trace, one log line and the counts of each request."""

import re
import secrets
import time
from collections.abc import Generator
from contextlib import contextmanager

import structlog
from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send
from structlog.contextvars import bound_contextvars

from . import metrics
from .tracing import Spans

_ACCEPTABLE_ID = re.compile(rb"[A-Za-z0-9._-]{1,64}")
_METHODS = {"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"}

UNROUTED = "none"
"""Stands for the route of a request that reached none."""


def identify(app: ASGIApp, spans: Spans) -> ASGIApp:
    """Wrap ``app``: honour or make an X-Request-Id, answer with it, and say what came of the request.

    What is said has no body, query, address or key: only what the contract names, and ids.
    """
    log = structlog.get_logger()

    async def wrapped(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await app(scope, receive, send)
            return
        request_id = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
        if not _ACCEPTABLE_ID.fullmatch(request_id):
            request_id = secrets.token_hex(8).encode()
        state = scope.setdefault("state", {})
        state["request_id"] = request_id.decode()
        started = time.perf_counter()
        status = 0

        async def send_with_id(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                message["headers"] = [*message.get("headers", []), (b"x-request-id", request_id)]
            await send(message)

        metrics.IN_FLIGHT.inc()
        with (
            spans.request(scope) as span,
            bound_contextvars(request_id=request_id.decode(), trace_id=span.trace_id),
        ):
            try:
                await app(scope, receive, send_with_id)
            finally:
                metrics.IN_FLIGHT.dec()
                seconds = time.perf_counter() - started
                abandoned = state.get("abandoned", False)
                method = scope["method"] if scope["method"] in _METHODS else "other"
                route = template(scope)
                span.answered(method, route, status)
                _count(method, route, status, seconds, state.get("problem"))
                log.info(
                    "request",
                    method=method,
                    route=route,
                    status=status,
                    outcome=state.get("problem") or ("answered" if status and not abandoned else "abandoned"),
                    milliseconds=round(1000.0 * seconds, 3),
                )

    return wrapped


def template(scope: Scope) -> str:
    """The route of a request as the contract writes it, such as /v1/catalogues/{name}."""
    return re.sub(r":\w+}", "}", scope.get("path_template", "")) or UNROUTED


def _count(method: str, route: str, status: int, seconds: float, problem: str | None) -> None:
    metrics.REQUESTS.labels(method, route, str(status)).inc()
    metrics.LATENCY.labels(route).observe(seconds)
    if problem:
        metrics.REJECTIONS.labels(problem).inc()


@contextmanager
def calculating(spans: Spans, route: str) -> Generator[None]:
    """Measure a calculation."""
    with spans.calculation(route), metrics.CALCULATION.labels(route).time():
        yield
