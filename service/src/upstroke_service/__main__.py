"""Run the service: ``python -m upstroke_service --host 127.0.0.1 --port 8080``."""

import argparse
import gc
import json
import multiprocessing
import os
import signal
import sys
import tempfile
from pathlib import Path

from granian.constants import HTTPModes, Interfaces
from litestar.types import ASGIApp

from upstroke_service import logs
from upstroke_service.api import metrics
from upstroke_service.api.access import require_guard
from upstroke_service.api.app import create_app
from upstroke_service.api.document import document
from upstroke_service.api.draining import Draining
from upstroke_service.api.rate_limits import require_one_count
from upstroke_service.api.resources import HANDLERS
from upstroke_service.catalogue.faults import CatalogueError
from upstroke_service.server import ANNOUNCED, AnnouncingServer
from upstroke_service.settings import Settings, SettingsError, from_environment


def application() -> ASGIApp:
    """The application with the settings of the environment, for an ASGI server's factory option."""
    draining = Draining()
    signal.signal(ANNOUNCED, draining.begin)
    return serving(create_app(from_environment(), draining=draining))


def serving(app: ASGIApp) -> ASGIApp:
    """``app`` with the garbage collector set for serving."""
    # What is loaded now lives as long as the process: keep it out of every later collection. What a
    # request makes dies by its reference count, so collecting often finds nothing.
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 50, 100)
    return app


def main() -> int:
    """Check the settings, then serve until a signal ends it."""
    parser = argparse.ArgumentParser(
        prog="upstroke-service", description="Sizing of hand-operated well pumps."
    )
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (default: %(default)s)")
    parser.add_argument("--port", type=int, default=8080, help="port to listen on (default: %(default)s)")
    parser.add_argument("--workers", type=int, default=1, help="worker processes (default: %(default)s)")
    parser.add_argument(
        "--write-contract", type=Path, metavar="FILE", help="write the OpenAPI document and exit"
    )
    options = parser.parse_args()
    if options.write_contract:
        text = json.dumps(document(HANDLERS), indent=1, ensure_ascii=False)
        options.write_contract.write_text(f"{text}\n", encoding="utf-8")
        return 0
    try:
        settings = from_environment()
        require_guard(options.host, settings)
        require_one_count(options.workers, settings)
        create_app(settings)
    except (SettingsError, CatalogueError) as error:
        print(f"upstroke-service: {error}", file=sys.stderr)
        return 2
    with tempfile.TemporaryDirectory(prefix="upstroke-metrics-") as folder:
        if settings.metrics_port:
            try:
                _measure(settings, folder)
            except OSError as error:
                print(f"upstroke-service: UPSTROKE_METRICS_PORT: {error}", file=sys.stderr)
                return 2
        _server(options.host, options.port, options.workers, settings).serve()
    return 0


def _measure(settings: Settings, folder: str) -> None:
    """Have workers count into ``folder``, and publish the sums. Raises OSError where the address is taken."""
    metrics.publish(settings.metrics_host, settings.metrics_port, folder)
    # The library looks at the variable when it is loaded: workers have to load it anew, not inherit it.
    os.environ["PROMETHEUS_MULTIPROC_DIR"] = folder
    multiprocessing.set_start_method("spawn")


def _server(host: str, port: int, workers: int, settings: Settings) -> AnnouncingServer:
    return AnnouncingServer(
        "upstroke_service.__main__:application",
        address=host,
        port=port,
        workers=workers,
        # By connections, idle ones included: enough to tell those beyond the service's own limit so.
        backpressure=2 * settings.most_open,
        # Proxies speak HTTP/1.1 to what is behind them; nothing here needs more.
        http=HTTPModes.http1,
        websockets=False,
        interface=Interfaces.ASGI,
        factory=True,
        log_access=False,
        log_dictconfig=logs.SERVER,
        workers_kill_timeout=settings.stop_seconds,
        drain_seconds=settings.drain_seconds,
    )


if __name__ == "__main__":
    sys.exit(main())
