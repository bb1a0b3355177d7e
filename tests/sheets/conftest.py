"""A client without a server, and one of its answers."""

import argparse
from collections.abc import Iterator

import msgspec
import pytest
from litestar.testing import TestClient
from tests.sdk.in_process import InProcess
from tests.sheets.canned import Canned, Connect

import upstroke
from upstroke.sheets._headers import match_headers
from upstroke.sheets._rows import Table
from upstroke.sheets._template import EXAMPLE
from upstroke_service.api.app import create_app


@pytest.fixture(scope="session")
def near() -> Iterator[Connect]:
    """Makes clients of a service that was started once for all tests."""
    with TestClient(create_app()) as application:

        def connect(options: argparse.Namespace) -> upstroke.Client:
            return upstroke.Client(transport=InProcess(application), units=options.units)

        yield connect


@pytest.fixture(scope="session")
def service(near: Connect) -> upstroke.Client:
    return near(argparse.Namespace(units="us"))


@pytest.fixture(scope="session")
def answer(service: upstroke.Client) -> bytes:
    headers = list(EXAMPLE)
    row = Table(headers, match_headers(headers, {}), "point", "us").row(2, list(EXAMPLE.values()))
    assert row.request is not None
    whole = service.size(row.request)
    return msgspec.json.encode(
        msgspec.structs.replace(
            whole,
            candidates=whole.candidates[:2],
            cautions=whole.cautions[:2],
            assumptions=whole.assumptions[:2],
        )
    )


@pytest.fixture
def canned(answer: bytes) -> Canned:
    return Canned(answer)
