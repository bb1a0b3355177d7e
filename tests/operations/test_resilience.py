"""Ending a process under load costs no client more than one retry."""

import pytest
from tests.operations import resilience


@pytest.mark.skipif(bool(resilience.missing()), reason=resilience.missing() or "all is here")
def test_a_killed_and_a_restarted_process_cost_nobody_an_answer() -> None:
    figures = resilience.run(restarts=2, clients=4)

    assert dict(figures.ended) == {"SIGKILL": 1, "SIGTERM": 1}
    assert figures.failed == []
    assert figures.wrong == []
    assert figures.counted >= figures.answered > 0
