"""What a client takes from its arguments, what from the environment, and what it says about itself."""

import logging
import re

import pytest
from tests.sdk.fake_transport import FakeTransport, reply
from tests.sdk.invented_answers import sizing

import upstroke
from upstroke import _configuration as configuration
from upstroke._version import VERSION


def test_an_address_is_the_argument_or_else_that_of_the_environment_or_else_this_machine(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("UPSTROKE_URL", raising=False)
    assert configuration.address(None) == "http://127.0.0.1:8080"
    monkeypatch.setenv("UPSTROKE_URL", "https://pumps.invalid/sizing")
    assert configuration.address(None) == "https://pumps.invalid/sizing"
    assert configuration.address("http://other.invalid") == "http://other.invalid"


@pytest.mark.parametrize("client", [upstroke.Client, upstroke.AsyncClient])
def test_clients_go_by_the_environment(
    client: type[upstroke.Client] | type[upstroke.AsyncClient], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("UPSTROKE_URL", "nowhere")
    with pytest.raises(ValueError, match="'nowhere' is not an address"):
        client()
    monkeypatch.setenv("UPSTROKE_URL", "http://pumps.invalid")
    monkeypatch.setenv("UPSTROKE_TIMEOUT", "soon")
    with pytest.raises(ValueError, match="UPSTROKE_TIMEOUT"):
        client()
    monkeypatch.setenv("UPSTROKE_TIMEOUT", "5")
    monkeypatch.setenv("UPSTROKE_API_KEY", "two words")
    with pytest.raises(ValueError, match="API key"):
        client()


def test_a_timeout_is_the_argument_or_else_that_of_the_environment_or_else_ten_seconds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("UPSTROKE_TIMEOUT", raising=False)
    assert configuration.timeout(None) == 10.0
    monkeypatch.setenv("UPSTROKE_TIMEOUT", "2.5")
    assert configuration.timeout(None) == 2.5
    assert configuration.timeout(4) == 4.0


@pytest.mark.parametrize("text", ["0", "-1", "nan", "inf", "1e999", "ten", "1 s"])
def test_a_timeout_that_is_none_is_refused(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("UPSTROKE_TIMEOUT", text)
    with pytest.raises(ValueError, match=r"UPSTROKE_TIMEOUT in the environment: .* seconds above 0"):
        configuration.timeout(None)


@pytest.mark.parametrize("seconds", [0.0, -1.0, float("nan"), float("inf")])
def test_so_is_an_argument(seconds: float) -> None:
    with pytest.raises(ValueError, match=r"timeout: .* seconds above 0"):
        upstroke.Client(timeout=seconds)


def test_a_call_says_who_asks_and_gives_itself_an_id_that_the_service_takes() -> None:
    transport = FakeTransport([reply(sizing())])
    upstroke.Client(transport=transport).size()
    headers = transport.calls[0].headers

    assert headers["user-agent"].startswith(f"upstroke-python/{VERSION} (Python 3.")
    assert re.fullmatch("[A-Za-z0-9._-]{1,64}", headers["x-request-id"])


def test_the_log_tells_what_became_of_a_call_and_nothing_of_its_facts(
    caplog: pytest.LogCaptureFixture,
) -> None:
    caplog.set_level(logging.DEBUG, "upstroke")
    transport = FakeTransport([upstroke.TransportError("cut off"), reply(sizing())])
    upstroke.Client(transport=transport, api_key="invented-key").size(client_reference="Jane Invented")
    request_id = transport.calls[0].headers["x-request-id"]
    again, answered = (record.getMessage() for record in caplog.records)

    assert re.fullmatch(
        rf"POST /v1/sizings \(request {request_id}\): cut off; again in 0\.[0-9]{{2}} s", again
    )
    assert re.fullmatch(rf"POST /v1/sizings \(request {request_id}\): status 200, [0-9]+ ms", answered)
    assert not re.search("Jane|invented-key", caplog.text)
