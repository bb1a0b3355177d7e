"""The service's application, started once for all tests of the SDK."""

from collections.abc import Iterator

import pytest
from litestar.testing import TestClient
from tests.sdk.in_process import InProcess

import upstroke
from upstroke_service.api.app import create_app


@pytest.fixture(scope="session")
def service() -> Iterator[upstroke.Transport]:
    with TestClient(create_app()) as application:
        yield InProcess(application)


@pytest.fixture
def client(service: upstroke.Transport) -> upstroke.Client:
    return upstroke.Client(transport=service)
