"""A client asks for a language, or leaves it to the service."""

import asyncio

import pytest
from tests.sdk.fake_transport import Answering, FakeTransport, reply
from tests.service.sites import SITE

import upstroke

HEALTHY = {"status": "ok", "model_version": "1"}


def asked(language: str | None = None) -> str | None:
    transport = FakeTransport([reply(HEALTHY)])
    upstroke.Client(transport=transport, language=language).live()
    return transport.calls[0].headers.get("accept-language")


def test_it_asks_for_the_language_that_it_was_given_and_otherwise_for_none() -> None:
    assert asked(language="es") == "es"
    assert asked() is None


def test_the_environment_names_one_unless_the_program_does(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("UPSTROKE_LANGUAGE", "es-MX")
    assert asked() == "es-MX"
    assert asked(language="en") == "en"
    assert asked(language="") is None


@pytest.mark.parametrize("language", ["es, en", "es\r\nx: y", "español", "-", "*"])
def test_what_is_no_language_is_refused(language: str) -> None:
    with pytest.raises(ValueError, match="is no language"):
        upstroke.Client(transport=FakeTransport([]), language=language)


def test_the_asynchronous_client_asks_for_the_same() -> None:
    transport = FakeTransport([reply(HEALTHY)])
    asyncio.run(upstroke.AsyncClient(transport=Answering(transport), language="es").live())
    assert transport.calls[0].headers["accept-language"] == "es"


def test_the_embedded_service_speaks_it() -> None:
    with upstroke.Client.embedded(language="es") as client:
        assert client.size(SITE).summary.startswith("Recomendado")
