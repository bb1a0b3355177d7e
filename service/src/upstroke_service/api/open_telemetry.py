"""Spans by OpenTelemetry: named by route, without addresses, queries, bodies or texts of errors."""

from collections.abc import Generator
from contextlib import contextmanager

from litestar.types import HTTPScope
from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
from opentelemetry.sdk.resources import SERVICE_NAME, OTELResourceDetector, Resource
from opentelemetry.sdk.trace import TracerProvider
from opentelemetry.sdk.trace.export import BatchSpanProcessor
from opentelemetry.trace import Span, SpanKind, StatusCode, format_trace_id
from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

from upstroke_service import __version__

from .tracing import RequestSpan

_CONTEXT_HEADERS = {b"traceparent", b"tracestate"}
_A_DEFECT = 500


def exporting() -> TracerProvider:
    """A provider that exports over HTTP, as the standard variables OTEL_* say."""
    named = {SERVICE_NAME: "upstroke", **OTELResourceDetector().detect().attributes}
    provider = TracerProvider(resource=Resource.create(named))
    provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return provider


class _Told:
    """A request whose span is collected."""

    def __init__(self, span: Span) -> None:
        self._span = span
        self.trace_id = format_trace_id(span.get_span_context().trace_id)

    def answered(self, method: str, route: str, status: int) -> None:
        """Name the span and say what it came to."""
        self._span.update_name(f"{method} {route}")
        self._span.set_attributes(
            {
                "http.request.method": method,
                "http.route": route,
                "http.response.status_code": status,
            }
        )
        if status >= _A_DEFECT or not status:
            self._span.set_status(StatusCode.ERROR)


class OpenTelemetrySpans:
    """Spans that ``provider`` deals with."""

    def __init__(self, provider: TracerProvider) -> None:
        """``provider`` decides what is sampled and where it goes."""
        self._provider = provider
        self._tracer = provider.get_tracer("upstroke_service", __version__)
        self._propagator = TraceContextTextMapPropagator()

    @contextmanager
    def request(self, scope: HTTPScope) -> Generator[RequestSpan]:
        """A server span in the trace that the headers name, or the first of a new one."""
        named = {
            name.decode(): value.decode("latin-1")
            for name, value in scope["headers"]
            if name in _CONTEXT_HEADERS
        }
        with self._tracer.start_as_current_span(
            "request",
            context=self._propagator.extract(named),
            kind=SpanKind.SERVER,
            record_exception=False,
            set_status_on_exception=False,
        ) as span:
            yield _Told(span)

    @contextmanager
    def calculation(self, route: str) -> Generator[None]:
        """A span within the request's."""
        with self._tracer.start_as_current_span(
            f"calculate {route}", record_exception=False, set_status_on_exception=False
        ):
            yield

    def close(self) -> None:
        """Send what is left to send."""
        self._provider.shutdown()
