"""The command that runs the service: which addresses it takes without keys, and keys on a real connection."""

import os
import subprocess
import sys
from pathlib import Path

import httpx
import pytest
from tests.access.entrances import bearer, key_file
from tests.docs.served import free_port, running


def refused(*arguments: str, **environment: str) -> str:
    """What the service says as it refuses to start."""
    done = subprocess.run(  # noqa: S603 - the service under test
        [sys.executable, "-m", "upstroke_service", "--port", str(free_port()), *arguments],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=60.0,
    )
    assert done.returncode == 2
    assert done.stdout == ""
    return done.stderr


@pytest.mark.parametrize("host", ["0.0.0.0", "::"])  # noqa: S104 - refused
def test_it_does_not_answer_strangers_by_oversight(host: str) -> None:
    said = refused("--host", host)
    assert all(name in said for name in (host, "UPSTROKE_KEYS", "UPSTROKE_TOKEN_KEYS", "UPSTROKE_OPEN=yes"))


def test_it_does_not_count_in_processes_that_know_nothing_of_each_other() -> None:
    assert "UPSTROKE_RATE_STORE" in refused("--workers", "2", UPSTROKE_RATE_LIMIT="10/60")


def test_it_does_not_start_with_a_faulty_file_of_keys(tmp_path: Path) -> None:
    path = tmp_path / "keys.toml"
    path.write_text("[[keys]]", "utf-8")
    assert "UPSTROKE_KEYS" in refused(UPSTROKE_KEYS=str(path))


def test_on_a_real_connection_a_key_decides(tmp_path: Path) -> None:
    """Also where a large body follows a key that is wrong: it is not waited for, and the next request is answered."""
    port = free_port()
    # Only this machine reaches the address, but the service does not know that.
    url = f"http://127.0.0.1:{port}"
    command = f"exec '{sys.executable}' -m upstroke_service --host 0.0.0.0 --port {port}"
    with (
        running(command, url, tmp_path, UPSTROKE_KEYS=str(key_file(tmp_path))),
        httpx.Client(base_url=url, trust_env=False, timeout=10.0) as client,
    ):
        body = b'{"x": "' + b"y" * 200_000 + b'"}'
        refusal = client.post("/v1/sizings", content=body, headers=bearer("revoked"))
        assert (refusal.status_code, refusal.headers["connection"]) == (401, "close")
        assert client.get("/v1/units", headers=bearer("reading")).status_code == 200
        head = client.head("/v1/units")
        assert (head.status_code, head.content) == (401, b"")
        assert "connection" not in head.headers
        assert client.get("/readyz").status_code == 200
