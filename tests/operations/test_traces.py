"""Traces: a span for each request and one for its calculation, in the trace that the caller began."""

import builtins
from typing import Any

import pytest
from opentelemetry.sdk.trace import ReadableSpan, TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter
from opentelemetry.trace import SpanKind, StatusCode
from tests.service.in_process import Service, start
from tests.service.sites import SITE

from upstroke_service.api import listings
from upstroke_service.api.app import create_app
from upstroke_service.api.open_telemetry import OpenTelemetrySpans, exporting
from upstroke_service.settings import Settings, SettingsError

TRACE = "0af7651916cd43dd8448eb211c80319c"
SPAN = "b7ad6b7169203331"


@pytest.fixture
def collected() -> InMemorySpanExporter:
    return InMemorySpanExporter()


@pytest.fixture
def service(collected: InMemorySpanExporter) -> Service:
    provider = TracerProvider()
    provider.add_span_processor(SimpleSpanProcessor(collected))
    return Service(create_app(Settings(log_level="critical"), tracing=OpenTelemetrySpans(provider)))


def spans(collected: InMemorySpanExporter) -> dict[str, ReadableSpan]:
    return {span.name: span for span in collected.get_finished_spans()}


def test_a_calculation_is_a_span_within_its_request_within_the_trace_of_the_caller(
    service: Service, collected: InMemorySpanExporter
) -> None:
    service.post("/v1/sizings?units=si", SITE, traceparent=f"00-{TRACE}-{SPAN}-01")
    found = spans(collected)
    request, calculation = found["POST /v1/sizings"], found["calculate /v1/sizings"]

    assert request.kind is SpanKind.SERVER
    assert request.parent is not None
    assert (format(request.context.trace_id, "032x"), format(request.parent.span_id, "016x")) == (TRACE, SPAN)
    assert calculation.parent is not None
    assert calculation.parent.span_id == request.context.span_id
    assert calculation.context.trace_id == request.context.trace_id
    assert dict(request.attributes or {}) == {
        "http.request.method": "POST",
        "http.route": "/v1/sizings",
        "http.response.status_code": 200,
    }


def test_the_name_of_a_span_is_the_route(service: Service, collected: InMemorySpanExporter) -> None:
    service.get("/v1/catalogues/demo")
    service.get("/nobody/Jane-Doe")

    assert set(spans(collected)) == {"GET /v1/catalogues/{name}", "GET none"}


def test_only_defects_are_errors_and_their_text_stays_here(
    service: Service, collected: InMemorySpanExporter, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise ZeroDivisionError("Jane Doe")

    monkeypatch.setattr(listings, "unit_list", fail)
    service.get("/v1/units")
    service.get("/nowhere")
    found = spans(collected)

    assert found["GET /v1/units"].status.status_code is StatusCode.ERROR
    assert found["GET none"].status.status_code is StatusCode.UNSET
    assert "Jane" not in "".join(span.to_json() for span in found.values())


def test_the_standard_variables_say_who_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("OTEL_SERVICE_NAME", raising=False)
    assert exporting().resource.attributes["service.name"] == "upstroke"
    monkeypatch.setenv("OTEL_SERVICE_NAME", "pumps-west")
    assert exporting().resource.attributes["service.name"] == "pumps-west"


def test_traces_without_what_they_need_keep_the_service_from_starting(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    real = builtins.__import__

    def without(name: str, *arguments: Any, **options: Any) -> Any:
        if name == "open_telemetry":
            raise ImportError(name)
        return real(name, *arguments, **options)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(SettingsError, match="UPSTROKE_TRACES"):
        start(traces=True)
