"""A short run of the command that sends many requests."""

from tests.endurance.run import STAGES, endure

REQUESTS = 600


def test_a_mixture_of_requests_is_answered_without_a_5xx() -> None:
    shown: list[str] = []
    report = endure(REQUESTS, seed=1, show=shown.append)

    assert report.unanswered == []
    assert report.statuses.total() == report.tried == REQUESTS
    assert report.server_errors == 0
    assert report.statuses.keys() >= {200, 400, 404, 405, 406, 413, 414, 415, 422, 431}
    assert len(shown) == len(report.memory) == STAGES
