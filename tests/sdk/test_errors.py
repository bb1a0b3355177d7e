"""Errors: what the service says becomes one tree of exceptions."""

import pytest
from tests.sdk.fake_transport import client_that_gets, reply
from tests.sdk.invented_answers import problem

import upstroke


@pytest.mark.parametrize(
    ("status", "kind"),
    [
        (400, upstroke.InvalidRequestError),
        (401, upstroke.UnauthenticatedError),
        (403, upstroke.ForbiddenError),
        (404, upstroke.NotFoundError),
        (413, upstroke.ApiError),
        (422, upstroke.InvalidRequestError),
        (429, upstroke.RateLimitedError),
        (500, upstroke.ApiError),
        (502, upstroke.ServiceUnavailableError),
        (503, upstroke.ServiceUnavailableError),
        (504, upstroke.ServiceUnavailableError),
    ],
)
def test_each_status_has_its_error(status: int, kind: type[upstroke.ApiError]) -> None:
    client, _ = client_that_gets(reply(problem(status), status))

    with pytest.raises(upstroke.ApiError, match=rf"Invented \({status}\): What happened.") as caught:
        client.catalogue("nowhere")
    assert type(caught.value) is kind
    assert caught.value.status == status
    assert caught.value.request_id == "r-1"
    assert caught.value.problem is not None
    assert caught.value.problem.code == "invented"


def test_an_invalid_request_names_every_faulty_field() -> None:
    faults = [{"pointer": "/well/well_depth", "detail": "too deep"}, {"pointer": "", "detail": "too odd"}]
    client, _ = client_that_gets(reply(problem(422, errors=faults), 422))

    with pytest.raises(upstroke.InvalidRequestError) as caught:
        client.size()
    assert [(fault.pointer, fault.detail) for fault in caught.value.errors] == [
        ("/well/well_depth", "too deep"),
        ("", "too odd"),
    ]
    assert str(caught.value).endswith("\n  /well/well_depth: too deep\n  (body): too odd")


def test_an_invalid_request_without_a_list_of_faults_has_none() -> None:
    client, _ = client_that_gets(reply(problem(400), 400))

    with pytest.raises(upstroke.InvalidRequestError) as caught:
        client.size()
    assert caught.value.errors == ()


def test_a_busy_service_says_when_to_come_back() -> None:
    client, _ = client_that_gets(reply(problem(429), 429, retry_after="17"))

    with pytest.raises(upstroke.RateLimitedError) as caught:
        client.size()
    assert caught.value.retry_after == 17.0


@pytest.mark.parametrize(
    ("status", "kind"),
    [
        (503, upstroke.ServiceUnavailableError),
        (502, upstroke.ServiceUnavailableError),
        (500, upstroke.UnexpectedResponseError),
        (301, upstroke.UnexpectedResponseError),
    ],
)
def test_a_failure_that_is_not_a_problem_description_keeps_its_status(
    status: int, kind: type[upstroke.ApiError]
) -> None:
    client, _ = client_that_gets(reply(b"<html>\xff", status))

    with pytest.raises(kind, match=f"status {status}: the answer is not a problem description") as caught:
        client.size()
    assert caught.value.problem is None


def test_every_error_is_an_upstroke_error() -> None:
    public = [getattr(upstroke, name) for name in upstroke.__all__]
    kinds = [value for value in public if isinstance(value, type) and issubclass(value, BaseException)]

    assert len(kinds) == 12
    assert all(issubclass(kind, upstroke.UpstrokeError) for kind in kinds)
