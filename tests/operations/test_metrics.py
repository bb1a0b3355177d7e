"""What Prometheus reads: sums over all worker processes, by route, on a port of its own."""

import time
from pathlib import Path

import httpx
import pytest
from prometheus_client import Metric
from prometheus_client.parser import text_string_to_metric_families
from tests.operations.processes import free_port, serving
from tests.service.in_process import start
from tests.service.sites import SITE

from upstroke_service import MODEL_VERSION
from upstroke_service.api import metrics

ASKED = 20


def published(port: int) -> dict[str, Metric]:
    text = httpx.get(f"http://127.0.0.1:{port}/metrics", trust_env=False).text
    return {family.name: family for family in text_string_to_metric_families(text)}


def value(family: Metric, suffix: str = "", **labels: str) -> float:
    return sum(
        sample.value
        for sample in family.samples
        if sample.name == family.name + suffix and labels.items() <= sample.labels.items()
    )


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Metric]:
    """What is published after some requests to two workers."""
    port = free_port()
    folder = tmp_path_factory.mktemp("metrics")
    with serving(folder, "--workers", "2", UPSTROKE_METRICS_PORT=str(port)) as process:
        for number in range(ASKED):
            # Each over a connection of its own, so that both workers are asked.
            answer = httpx.post(f"{process.url}/v1/sizings?secret={number}", json=SITE, trust_env=False)
            assert answer.status_code == 422
            httpx.post(f"{process.url}/v1/sizings", json=SITE, trust_env=False).raise_for_status()
        httpx.get(f"{process.url}/v1/catalogues/demo", trust_env=False).raise_for_status()
        for path in ("/nowhere", "/metrics"):
            assert httpx.get(f"{process.url}{path}", trust_env=False).status_code == 404
        httpx.request("BREW", f"{process.url}/v1/units", trust_env=False)
        time.sleep(0.2)
        return published(port)


def test_requests_of_all_workers_are_counted_by_method_route_and_status(read: dict[str, Metric]) -> None:
    requests = read["upstroke_requests"]

    assert value(requests, "_total", method="POST", route="/v1/sizings", status="200") == ASKED
    assert value(requests, "_total", method="GET", route="/v1/catalogues/{name}", status="200") == 1
    assert value(requests, "_total", route="none", status="404") == 2


def test_what_strangers_make_up_makes_no_new_series(read: dict[str, Metric]) -> None:
    labels = {
        text for family in read.values() for sample in family.samples for text in sample.labels.values()
    }

    assert not {one for one in labels if "nowhere" in one or "BREW" in one or "secret" in one}
    assert value(read["upstroke_requests"], "_total", method="other") == 1


def test_rejections_are_counted_by_their_reason(read: dict[str, Metric]) -> None:
    assert value(read["upstroke_rejections"], "_total", reason="invalid-field") == ASKED
    assert value(read["upstroke_rejections"], "_total", reason="not-found") == 2


def test_time_is_measured_of_requests_and_of_calculations_alone(read: dict[str, Metric]) -> None:
    latency = read["upstroke_request_duration_seconds"]
    calculation = read["upstroke_calculation_duration_seconds"]

    assert value(latency, "_count", route="/v1/sizings") == 2 * ASKED
    assert value(calculation, "_count", route="/v1/sizings") == ASKED
    assert 0.0 < value(calculation, "_sum", route="/v1/sizings") < value(latency, "_sum", route="/v1/sizings")


def test_nothing_is_in_flight_when_nothing_is_asked(read: dict[str, Metric]) -> None:
    assert [sample.value for sample in read["upstroke_requests_in_flight"].samples] == [0.0]


def test_what_runs_is_named(read: dict[str, Metric]) -> None:
    assert value(read["upstroke_build_info"], model_version=MODEL_VERSION) == 1


def test_a_port_that_is_taken_keeps_the_service_from_starting(tmp_path: Path) -> None:
    port = str(free_port())
    with (
        serving(tmp_path, UPSTROKE_METRICS_PORT=port),
        pytest.raises(RuntimeError, match="UPSTROKE_METRICS_PORT"),
        serving(tmp_path, UPSTROKE_METRICS_PORT=port),
    ):
        pytest.fail("it started")


def test_a_request_is_counted_even_where_the_application_fails() -> None:
    before = metrics.IN_FLIGHT._value.get()  # noqa: SLF001 - the library's own tests read it so
    start().get("/v1/catalogues/none")

    assert metrics.IN_FLIGHT._value.get() == before  # noqa: SLF001
