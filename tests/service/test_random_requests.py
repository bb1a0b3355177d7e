"""Whatever the facts, an answer is finite, keeps to the contract and agrees with itself.

A longer run takes more of them: see test_fuzz.
"""

import json
import math
import os
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.contract.documents import OPERATIONS, answer_validator, faults
from tests.service.batches import PATH as BATCHES
from tests.service.batches import answered
from tests.service.consistency import CONTEXT, KINDS
from tests.service.in_process import start
from tests.service.random_facts import requests

from upstroke_service.api import bodies
from upstroke_service.api.compute import Context
from upstroke_service.api.resources import HANDLERS
from upstroke_service.api.style import style

EXAMPLES = int(os.environ.get("UPSTROKE_FUZZ_EXAMPLES", "25"))
SERVICE = start()
SETTINGS = settings(
    max_examples=EXAMPLES,
    derandomize="UPSTROKE_FUZZ_EXAMPLES" not in os.environ,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
IDS = {path: operation_id for operation_id, (path, _, _) in OPERATIONS.items()}
CALCULATE = {
    next(iter(handler.paths)): handler.opt["operation"].calculation
    for handler in HANDLERS
    if "operation" in handler.opt
}
EVERY_CALCULATION = pytest.mark.parametrize("path", KINDS)


def leaves(node: object, place: str = "") -> Iterator[tuple[str, object]]:
    """Every value of an answer that holds no others, with its place."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from leaves(value, f"{place}/{key}")
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from leaves(value, f"{place}/{index}")
    else:
        yield place, node


def answer_to(path: str, facts: object, system: str = "us") -> Any:
    """The answer as it goes over the wire."""
    context = Context(CONTEXT.catalogues, style("si" if system == "si" else "us", "en"))
    request = bodies.decode(msgspec.json.encode(facts), KINDS[path])
    return json.loads(msgspec.json.encode(CALCULATE[path](request, context)))


@EVERY_CALCULATION
@SETTINGS
@given(data=st.data())
def test_no_answer_holds_a_null_or_anything_beyond_numbers(path: str, data: st.DataObject) -> None:
    facts = data.draw(requests(KINDS[path]))
    answer = answer_to(path, facts, data.draw(st.sampled_from(["us", "si"])))

    # Infinity and not-a-number go over the wire as null.
    odd = [
        (place, value)
        for place, value in leaves(answer)
        if value is None or (isinstance(value, float) and not math.isfinite(value))
    ]
    assert odd == []
    assert faults(answer_validator(IDS[path]), answer) == []


@EVERY_CALCULATION
@settings(SETTINGS, max_examples=max(EXAMPLES // 4, 1))
@given(data=st.data())
def test_the_service_answers_what_the_calculation_gives(path: str, data: st.DataObject) -> None:
    facts = data.draw(requests(KINDS[path]))

    if path == BATCHES:
        line, _ = answered(SERVICE, json.dumps(facts).encode())
        assert line == answer_to(path, facts)
    else:
        assert SERVICE.answer(path, facts) == answer_to(path, facts)


@SETTINGS
@given(facts=requests(KINDS["/v1/sizings"]))
def test_a_verdict_agrees_with_its_candidates(facts: object) -> None:
    answer = answer_to("/v1/sizings", facts)
    outcomes = [candidate["outcome"] for candidate in answer["candidates"]]
    order = ["fits", "fits_with_limits", "does_not_fit"]

    assert outcomes == sorted(outcomes, key=order.index)
    if answer["verdict"] == "needs_facts":
        assert outcomes == []
        # Only what kills is asked before it.
        before = [one["effect"] for one in answer["questions"]]
        pointers = [one["pointer"] for one in answer["questions"]]
        assert set(before[: pointers.index("/well/static_water_level")]) <= {"safety"}
    elif answer["verdict"] == "nothing_fits":
        assert set(outcomes) == {"does_not_fit"}
        assert "recommended" not in answer
    else:
        assert answer["verdict"] == outcomes[0]
        assert answer["recommended"] == answer["candidates"][0]["cylinder"]["id"]


@SETTINGS
@given(facts=requests(KINDS["/v1/sizings"]))
def test_a_candidate_agrees_with_its_own_limits(facts: object) -> None:
    for candidate in answer_to("/v1/sizings", facts)["candidates"]:
        ceiling, fill = candidate["ceiling"], candidate["fill"]
        limits = [limit["pressure"]["value"] for limit in ceiling["limits"]]

        assert limits == sorted(limits)
        assert ceiling["pressure"]["value"] == limits[0]
        assert ceiling["governed_by"] == ceiling["limits"][0]["code"]
        assert fill["end"]["value"] >= fill["start"]["value"]
        assert (
            min(fill["strokes"], fill["time"]["value"], fill["work"]["value"], fill["water"]["value"]) >= 0.0
        )
        assert candidate["reasons"]
        if candidate["outcome"] == "fits":
            assert fill["reaches_target"]


@pytest.mark.parametrize("path", ["/v1/sizings", "/v1/water-needs"])
@SETTINGS
@given(data=st.data())
def test_a_days_needs_its_fills_and_the_reserve_agree(path: str, data: st.DataObject) -> None:
    answer = answer_to(path, data.draw(requests(KINDS[path])))
    if "needs" in answer:
        day = answer["needs"]
        for total, column in (("total", "daily"), ("low", "low"), ("high", "high")):
            summed = sum(line[column]["value"] for line in day["lines"])
            assert day[total]["value"] == pytest.approx(summed, rel=2e-5)
        assert ("strokes_a_day" in day) == ("minutes_a_day" in day)
        assert "strokes_a_day" not in day or "recommended" in answer
        if "fills_a_day" in day and "reserve" in answer:
            pumped = day["fills_a_day"] * answer["reserve"]["water"]["value"]
            assert pumped == pytest.approx(day["total"]["value"], rel=1e-4)
    if "reserve" in answer:
        reserve = answer["reserve"]
        assert (reserve["covers"][0]["count"] >= 1.0) == (reserve["findings"] == [])


@SETTINGS
@given(facts=requests(KINDS["/v1/sizings"]))
def test_sessions_add_up_to_the_fill(facts: object) -> None:
    answer = answer_to("/v1/sizings", facts)
    if "recommended" in answer:
        plan, fill = answer["sessions"], answer["candidates"][0]["fill"]
        listed = plan["sessions"]
        assert (plan["count"] == 1) == (plan["findings"] == [])
        assert max(listed["time"]["values"]) <= plan["longest"]["value"] * (1.0 + 1e-5)
        if len(listed["time"]["values"]) == plan["count"]:
            whole = {"strokes": fill["strokes"]} | {
                name: fill[name]["value"] for name in ("time", "water", "body_energy")
            }
            for name, total in whole.items():
                assert sum(listed[name]["values"]) == pytest.approx(total, rel=1e-4, abs=1e-9)


@SETTINGS
@given(facts=requests(KINDS["/v1/stroke-estimates"]))
def test_along_a_fill_everything_counted_grows(facts: object) -> None:
    for estimate in answer_to("/v1/stroke-estimates", facts)["stroke_estimates"]:
        for name in ("pressure", "water", "strokes", "time"):
            values = estimate["curve"][name]["values"]
            assert all(before <= after for before, after in pairwise(values)), name
        totals = estimate["fill"]
        assert estimate["curve"]["strokes"]["values"][-1] == pytest.approx(
            totals["strokes"], rel=1e-3, abs=1e-3
        )
        assert estimate["curve"]["water"]["values"][-1] == pytest.approx(
            totals["water"]["value"], rel=1e-4, abs=1e-6
        )


@SETTINGS
@given(facts=requests(KINDS["/v1/tank-curves"]))
def test_a_tank_holds_more_water_at_more_pressure_and_never_more_than_its_volume(facts: object) -> None:
    answer = answer_to("/v1/tank-curves", facts)
    stored = answer["curve"]["stored_water"]["values"]

    assert all(before <= after for before, after in pairwise(stored))
    assert 0.0 <= stored[0] <= stored[-1] <= answer["total_volume"]["value"]
    assert answer["usable_drawdown"]["value"] == pytest.approx(
        stored[-1] - stored[0], abs=2e-5 * stored[-1] + 1e-9
    )


@SETTINGS
@given(facts=requests(KINDS["/v1/cautions"]))
def test_cautions_come_worst_first_each_once(facts: object) -> None:
    cautions = answer_to("/v1/cautions", facts)["cautions"]
    signals = [caution["signal"] for caution in cautions]
    codes = [caution["code"] for caution in cautions]

    assert signals == sorted(signals, key=["danger", "warning", "caution", "notice"].index)
    assert len(codes) == len(set(codes))
