"""The command that runs the service: it answers, logs without prying, and ends when told to."""

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

import httpx
import pytest
from tests.service.in_process import start
from tests.service.sites import SITE

LONGEST_START = 30.0
LONGEST_END = 10.0


def _command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "upstroke_service", *arguments]


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


def _wait_until_ready(client: httpx.Client, process: subprocess.Popen[str]) -> None:
    deadline = time.monotonic() + LONGEST_START
    while time.monotonic() < deadline:
        assert process.poll() is None, "the server ended before it answered"
        try:
            if client.get("/readyz").status_code == 200:
                return
        except httpx.TransportError:
            time.sleep(0.1)
    pytest.fail("the server did not become ready")


@contextmanager
def _server() -> Iterator[tuple[subprocess.Popen[str], httpx.Client]]:
    port = _free_port()
    process = subprocess.Popen(  # noqa: S603 - the service under test
        _command("--port", str(port)), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    try:
        with httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=10.0) as client:
            _wait_until_ready(client, process)
            yield process, client
    finally:
        process.kill()
        process.communicate()


def test_the_server_answers_as_the_application_does_and_ends_in_time_when_told_to() -> None:
    with _server() as (process, client):
        response = client.post("/v1/sizings?units=si", json=SITE, headers={"X-Request-Id": "order-1"})
        head = client.head("/v1/units")
        process.send_signal(signal.SIGTERM)
        output, _ = process.communicate(timeout=LONGEST_END)

    assert response.status_code == 200
    assert response.json() == start().answer("/v1/sizings?units=si", SITE)
    assert head.status_code == 200
    assert head.content == b""
    assert process.returncode == 0

    lines = [json.loads(line) for line in output.splitlines() if line.startswith("{")]
    sizing = next(line for line in lines if line.get("request_id") == "order-1")
    assert (sizing["method"], sizing["route"], sizing["status"]) == ("POST", "/v1/sizings", 200)
    assert sizing.keys() == {
        "event",
        "level",
        "timestamp",
        "method",
        "route",
        "status",
        "outcome",
        "milliseconds",
        "request_id",
        "trace_id",
    }
    assert "HEAD" in {line.get("method") for line in lines}
    assert "units=si" not in output
    assert "static_water_level" not in output


@pytest.mark.parametrize("variable", ["UPSTROKE_LARGEST_BODY", "UPSTROKE_LOG_LEVEL", "UPSTROKE_CATALOGUES"])
def test_a_wrong_setting_ends_the_command_with_a_line_that_names_it(variable: str) -> None:
    ended = subprocess.run(  # noqa: S603 - the service under test
        _command(),
        env={**os.environ, variable: "nonsense"},
        capture_output=True,
        text=True,
        timeout=LONGEST_START,
        check=False,
    )

    assert ended.returncode == 2
    assert ended.stderr.startswith(f"upstroke-service: {variable}")
    assert "Traceback" not in ended.stderr
