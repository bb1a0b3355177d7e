"""The client gets a sizing as a document to print."""

import asyncio

import pytest
from tests.sdk.fake_transport import Answering, FakeTransport, reply
from tests.service.sites import SITE

import upstroke

PDF = b"%PDF-1.7 the rest"


def test_it_asks_for_the_form_and_the_paper() -> None:
    transport = FakeTransport([reply(PDF)] * 2)
    client = upstroke.Client(transport=transport)

    assert client.report(SITE) == PDF
    assert client.report(SITE, form="html", paper="a4", units="si") == PDF

    first, second = transport.calls
    assert (first.headers["accept"], first.query) == ("application/pdf", {"units": "us"})
    assert (second.headers["accept"], second.query) == ("text/html", {"units": "si", "paper": "a4"})
    assert first.path == "/v1/sizings"


def test_the_asynchronous_client_asks_for_the_same() -> None:
    transport = FakeTransport([reply(PDF)])
    client = upstroke.AsyncClient(transport=Answering(transport))

    assert asyncio.run(client.report(SITE, paper="letter")) == PDF
    assert transport.calls[0].query == {"units": "us", "paper": "letter"}


def test_a_problem_is_an_error_as_ever() -> None:
    problem = {
        "type": "/problems/invalid-field",
        "title": "t",
        "status": 422,
        "code": "invalid-field",
        "detail": "d",
    }
    transport = FakeTransport([reply({**problem, "request_id": "1"}, 422)])
    with pytest.raises(upstroke.InvalidRequestError):
        upstroke.Client(transport=transport).report(SITE)


def test_the_embedded_service_prints_too() -> None:
    with upstroke.Client.embedded() as client:
        assert client.report(SITE).startswith(b"%PDF-")
        assert client.report(SITE, form="html").startswith(b"<!DOCTYPE html>")
