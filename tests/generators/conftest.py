"""A service for what is generated to call."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.docs.served import free_port, python, running


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the service listens."""
    port = free_port()
    url = f"http://127.0.0.1:{port}"
    command = " ".join(["exec", *python("-m", "upstroke_service", "--port", str(port))])
    with running(command, url, Path(tmp_path_factory.mktemp("service"))):
        yield url
