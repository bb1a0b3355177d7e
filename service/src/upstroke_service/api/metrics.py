"""What the service counts for Prometheus, by route and never by customer.

Where several worker processes serve, each writes its counts into files of a folder that PROMETHEUS_MULTIPROC_DIR
names, and the process that started them adds them up.
"""

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram, start_http_server
from prometheus_client.multiprocess import MultiProcessCollector

from upstroke_service import MODEL_VERSION, __version__

_SECONDS = (0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0)

REQUESTS = Counter("upstroke_requests", "Requests answered.", ["method", "route", "status"])
LATENCY = Histogram(
    "upstroke_request_duration_seconds",
    "Time from the head of a request to the end of its answer.",
    ["route"],
    buckets=_SECONDS,
)
REJECTIONS = Counter("upstroke_rejections", "Requests answered with a problem, by its code.", ["reason"])
CALCULATION = Histogram(
    "upstroke_calculation_duration_seconds",
    "Time that physics, sizing and wording of one answer took, without waiting, reading and writing.",
    ["route"],
    buckets=_SECONDS,
)
UNSHARED_COUNTS = Counter(
    "upstroke_unshared_counts",
    "Requests counted in one process because the store of quotas did not answer.",
)
IN_FLIGHT = Gauge(
    "upstroke_requests_in_flight", "Requests that are being dealt with.", multiprocess_mode="livesum"
)
_BUILD = Gauge(
    "upstroke_build_info",
    "1, with what is running as labels.",
    ["version", "model_version"],
    multiprocess_mode="livemax",
)


def state_build() -> None:
    """Say which version this process runs."""
    _BUILD.labels(__version__, MODEL_VERSION).set(1)


def publish(host: str, port: int, folder: str) -> None:
    """Serve what all workers wrote into ``folder``, at an address of its own. Raises OSError where it is taken."""
    registry = CollectorRegistry()
    MultiProcessCollector(registry, path=folder)  # type: ignore[no-untyped-call]
    start_http_server(port, host, registry)
