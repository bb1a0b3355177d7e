"""Whatever the contract allows is answered as the contract says, and what it forbids is refused so.

Every operation goes through all phases: the examples of the contract, systematic coverage of its
schemas, and random requests, well formed and not. Coverage takes thousands of cases of an operation, most
of them the same of another quantity or unit, and each takes more than ten milliseconds. So one in eight
has to do, and what consists of the same blocks of facts as water needs goes without. The longer run takes all of
them, more random requests and a seed:

    UPSTROKE_FUZZ_EXAMPLES=5000 UPSTROKE_FUZZ_SEED=7 bash tests/run.sh tests/service/test_fuzz.py
"""

import json
import os
import random
import zlib
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

import pytest
import schemathesis
from schemathesis import Case, openapi
from schemathesis.config import SchemathesisConfig
from schemathesis.engine import StopReason, events, from_schema
from schemathesis.engine.recorder import ScenarioRecorder
from schemathesis.generation.meta import TestPhase
from schemathesis.hooks import HookContext
from tests.conftest import INPUTS_TRIED
from tests.contract.documents import DOCUMENT, LINES, OPERATIONS, answer_validator, faults, in_lines
from tests.service.consistency import KINDS, settled
from tests.service.in_process import start
from tests.service.settled_queries import BY_PATH, completed
from tests.service.settled_queries import settled as settled_query

pytestmark = pytest.mark.no_cover  # see DEVELOPERS.md: the tracer would double its time

THOROUGH = "UPSTROKE_FUZZ_EXAMPLES" in os.environ
EXAMPLES = int(os.environ.get("UPSTROKE_FUZZ_EXAMPLES", "50"))
SEED = int(os.environ.get("UPSTROKE_FUZZ_SEED", "1"))
LONGEST_RESPONSE = 5.0  # seconds, with room for a busy machine
SAME_BLOCKS = {
    *(
        "size_pump",
        "size_pumps",
        "compute_lift_budgets",
        "estimate_strokes",
        "list_cautions",
        "advise_hookups",
    ),
    *("get_lift_margin", "get_strokes", "get_pumping_time", "get_hand_force", "get_recommended_cylinder"),
}
ONE_IN = 1 if THOROUGH else 8
NOTHING_STORED = {"responses": False}  # no answer holds what another request could ask for
OF_FACTS = {"contradictory-facts", "unknown-reference"}
BATCHES = {name for name, (_, _, operation) in OPERATIONS.items() if in_lines(operation)}

SERVICE = start()
CYLINDERS = [one["id"] for one in SERVICE.get("/v1/catalogues/demo").json()["cylinders"]]


def _configuration(operation_id: str) -> SchemathesisConfig:
    """Every check on; facts that contradict each other are well formed and may be refused."""
    return SchemathesisConfig.from_dict({
        "seed": SEED,
        "continue-on-failure": True,
        "phases": {
            "coverage": {
                "enabled": THOROUGH or operation_id not in SAME_BLOCKS,
                "generate-duplicate-query-parameters": True,
                "extra-data-sources": NOTHING_STORED,
            },
            "fuzzing": {"extra-data-sources": NOTHING_STORED},
        },
        "generation": {"deterministic": not THOROUGH, "max-examples": EXAMPLES, "database": "none"},
        "checks": {
            "positive_data_acceptance": {"expected-statuses": ["2xx", "404", "422"]},
            "max_response_time": LONGEST_RESPONSE,
            # A batch refuses within its answer, which is looked at line by line.
            "negative_data_rejection": {"enabled": operation_id not in BATCHES},
        },
    })  # fmt: skip


@schemathesis.serializer(LINES, "application/jsonl")
def _one_line(context: schemathesis.SerializationContext, value: Any) -> bytes:  # noqa: ARG001 - as it is called
    """A body as the only line of a batch."""
    return json.dumps(value).encode()


@schemathesis.deserializer(LINES, "application/jsonl")
def _first_line(context: schemathesis.DeserializationContext, response: schemathesis.Response) -> Any:  # noqa: ARG001
    """What the answer to a batch says first."""
    return json.loads(response.text.splitlines()[0])


def _known(word: object, known: list[str]) -> object:
    """Half of all words as they are, the others as one that exists."""
    if not isinstance(word, str):
        return word
    number = zlib.crc32(word.encode("utf-8", "surrogatepass"))
    return known[number // 2 % len(known)] if number % 2 else word


def _with_known_names(body: Any) -> None:
    """Let half of the catalogues and cylinders that a body names exist."""
    selection = body.get("selection", {})
    if "catalogue" in selection:
        selection["catalogue"] = _known(selection["catalogue"], ["demo"])
    if "ids" in selection:
        selection["ids"] = [_known(one, CYLINDERS) for one in selection["ids"]]


@schemathesis.hook
def filter_case(context: HookContext, case: Case[Any]) -> bool:  # noqa: ARG001 - as the hook is called
    """Take one in so many cases of systematic coverage, always the same ones."""
    if case.meta is None or case.meta.phase.name is not TestPhase.COVERAGE:
        return True
    sent = repr((case.method, case.path_parameters, case.query, case.headers, case.body))
    return zlib.crc32(sent.encode("utf-8", "surrogatepass")) % ONE_IN == 0


def _settle_query(case: Case[Any]) -> None:
    """Give values their units, and let the facts of three of four queries agree."""
    formula = BY_PATH[case.path]
    query = completed(formula, case.query or {})
    number = zlib.crc32(repr(query).encode("utf-8", "surrogatepass"))
    for name, known in (("catalogue", "demo"), ("cylinder", CYLINDERS[number % len(CYLINDERS)])):
        if name in query and number % 8:
            query[name] = known
    case.query = settled_query(formula, query, random.Random(number)) if number % 4 else query  # noqa: S311


@schemathesis.hook
def before_call(context: HookContext, case: Case[Any], **_: object) -> None:  # noqa: ARG001 - as the hook is called
    """Settle three of four well-formed requests, so that most of them get as far as an answer."""
    if case.meta is None or not case.meta.generation.mode.is_positive:
        return
    if case.path in BY_PATH:
        _settle_query(case)
    if not isinstance(case.body, dict):
        return
    _with_known_names(case.body)
    number = zlib.crc32(json.dumps(case.body, sort_keys=True).encode())
    if number % 4:
        case.body = settled(KINDS[case.path], case.body, random.Random(number))  # noqa: S311 - to vary


def _run(operation_id: str) -> Iterator[events.EngineEvent]:
    """What happens while every phase runs on one operation."""
    schema = openapi.from_dict(DOCUMENT, config=_configuration(operation_id))
    schema.app = SERVICE.app
    return iter(from_schema(schema.include(operation_id=operation_id)).execute())


class Outcome:
    """What came of all cases of one operation."""

    def __init__(self, operation_id: str) -> None:
        """Run every phase on the operation."""
        self.wrong: list[str] = []
        self.inputs = 0
        self.well_formed: Counter[int] = Counter()
        self.refusals: set[str] = set()
        self._check = answer_validator(operation_id) if operation_id in BATCHES else None
        for event in _run(operation_id):
            if isinstance(event, events.ScenarioFinished):
                self._count(event.recorder)
            elif isinstance(event, events.NonFatalError | events.FatalError | events.Interrupted):
                self.wrong.append(str(event))
            elif isinstance(event, events.EngineFinished) and event.stop_reason is not StopReason.COMPLETED:
                self.wrong.append(f"stopped: {event.stop_reason}")

    def _count(self, recorder: ScenarioRecorder) -> None:
        for case_id, node in recorder.cases.items():
            self.inputs += 1
            response = recorder.interactions[case_id].response
            assert response is not None
            assert node.value.meta is not None
            for check in recorder.checks.get(case_id, []):
                if check.failure_info is not None:
                    self.wrong.append(
                        f"{check.name}: {check.failure_info.failure}\n{check.failure_info.code_sample}"
                    )
            status = response.status_code
            problem: dict[str, Any] = {}
            if self._check is not None and status == 200:
                status, problem = self._answered(response, node.value)
            elif status == 422:
                problem = response.json()
            if node.value.meta.generation.mode.is_positive:
                self.well_formed[status] += 1
                if status == 422:
                    self.refusals.add(problem["code"])

    def _answered(self, response: schemathesis.Response, case: Case[Any]) -> tuple[int, dict[str, Any]]:
        """How the only line of a batch is answered: with which status, if it were alone, and which problem."""
        assert self._check is not None
        assert case.meta is not None
        *found, end = map(json.loads, response.text.splitlines())
        self.wrong += [fault for line in (*found, end) for fault in faults(self._check, line)]
        problem = found[0].get("problem", {}) if found else {}
        refused = int(bool(problem))
        if end.get("end") != {"sized": len(found) - refused, "refused": refused}:
            self.wrong.append(f"counts that are wrong: {end}")
        if found and not problem and not case.meta.generation.mode.is_positive:
            self.wrong.append(f"accepted: {case.query} {case.body!r}")
        return problem.get("status", 200), problem


@pytest.mark.parametrize("operation_id", OPERATIONS)
def test_every_response_is_as_the_contract_says(
    operation_id: str, record_property: Callable[[str, object], None]
) -> None:
    outcome = Outcome(operation_id)
    record_property(INPUTS_TRIED, outcome.inputs)

    assert outcome.wrong == []
    assert outcome.well_formed[200] >= 1
    assert outcome.refusals <= OF_FACTS
    assert outcome.well_formed[422] < outcome.well_formed.total() / 2
