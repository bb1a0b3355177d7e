"""Lines of a batch: each a request of its own, answered with a result or a problem."""

from collections.abc import Sequence
from typing import Any, Final, NamedTuple

import msgspec
import structlog
from msgspec import UNSET, UnsetType

from upstroke_service import MODEL_VERSION, logs
from upstroke_service.contract.answers import Sizing
from upstroke_service.contract.batches import (
    BatchCounts,
    BatchEnd,
    CompactSizing,
    Detail,
    RefusedLine,
    SizedLine,
    SizedLineInFull,
)
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.wording import said

from . import bodies, problems, sizings
from .compact import size_compactly
from .compute import Context
from .problems import RequestProblem

DEFAULTS: Final = "defaults"
"""The one member of a first line that holds facts for all others."""

LONGEST_REFERENCE: Final = 64
"""Characters of a caller's own reference, as the contract has it."""

_ENCODER = msgspec.json.Encoder()


class Line(NamedTuple):
    """A line of the body by its number from 1; no content where it was too long to keep."""

    number: int
    content: bytes | None


class Defaults(NamedTuple):
    """Facts for all lines that leave them out: as they were sent, and read."""

    document: dict[str, Any]
    request: SizingRequest


NO_DEFAULTS: Final = Defaults({}, SizingRequest())


class Batch(NamedTuple):
    """What all lines of a batch share."""

    context: Context
    detail: Detail
    defaults: Defaults
    request_id: str
    longest_line: int


class Answered(NamedTuple):
    """Answers to some lines, and how many of these were sized and refused."""

    content: bytes
    sized: int
    refused: int


def defaults_in(line: Line, longest: int) -> Defaults | None:
    """The facts that the first ``line`` of a batch states for all others, or None where it is a request.

    Raises RequestProblem where they are faulty, and where nobody knows because the line is longer than ``longest``
    bytes: without them the others would be sized by assumptions.
    """
    if line.content is None:
        raise RequestProblem("body-too-large", said("batch", "long_line", bytes=longest))
    try:
        document = bodies.parse(line.content)
    except RequestProblem as problem:
        if f'"{DEFAULTS}"'.encode() in line.content:
            detail = said("batch", "in_defaults", fault=problem.detail)
            raise RequestProblem(problem.code, detail, problem.errors) from None
        return None  # a line like any other, refused in its turn
    if not isinstance(document, dict) or DEFAULTS not in document:
        return None
    shared = document.pop(DEFAULTS)
    if document:
        raise RequestProblem("invalid-field", said("batch", "only_defaults"))
    try:
        return Defaults(shared, bodies.filled(shared, SizingRequest))
    except RequestProblem as problem:
        for_all = [
            msgspec.structs.replace(error, pointer=f"/{DEFAULTS}{error.pointer}")
            for error in problem.errors or ()
        ]
        raise RequestProblem(
            problem.code, said("batch", "in_defaults", fault=problem.detail), for_all
        ) from None


def answer_lines(lines: Sequence[Line], batch: Batch) -> Answered:
    """Answers to ``lines``, in their order."""
    found: list[Any] = []
    asked: list[tuple[int, SizingRequest]] = []
    for place, line in enumerate(lines):
        document: Any = None
        try:
            document = bodies.parse(_kept(line, batch))
            asked.append((place, _with_defaults(document, batch.defaults)))
            found.append(None)
        except RequestProblem as problem:
            found.append(_refused(line.number, _reference(document), problem, batch))
    for (place, request), result in zip(asked, _results([one for _, one in asked], batch), strict=True):
        number, reference = lines[place].number, request.client_reference
        if isinstance(result, RequestProblem):
            found[place] = _refused(number, reference, result, batch)
        elif isinstance(result, CompactSizing):
            found[place] = SizedLine(line=number, client_reference=reference, result=result)
        else:
            found[place] = SizedLineInFull(line=number, client_reference=reference, result=result)
    refused = sum(isinstance(one, RefusedLine) for one in found)
    return Answered(_ENCODER.encode_lines(found), len(found) - refused, refused)


def only_line(request: SizingRequest, context: Context) -> SizedLine:
    """The answer to the one line of a batch. Raises RequestProblem."""
    (result,) = size_compactly([request], context)
    if isinstance(result, RequestProblem):
        raise result
    return SizedLine(line=1, client_reference=request.client_reference, result=result)


def cut(number: int, problem: RequestProblem, batch: Batch) -> bytes:
    """The last line of a batch that can't go on at the line of this ``number``: no end follows."""
    return _ENCODER.encode_lines([_refused(number, UNSET, problem, batch)])


def end(sized: int, refused: int) -> bytes:
    """The last line of a batch that is complete."""
    scope = said("general", "scope")
    counts = BatchCounts(sized=sized, refused=refused)
    return _ENCODER.encode_lines([BatchEnd(end=counts, model_version=MODEL_VERSION, scope=scope)])


def _kept(line: Line, batch: Batch) -> bytes:
    if line.content is None:
        raise RequestProblem("body-too-large", said("batch", "long_line", bytes=batch.longest_line))
    return line.content


def _with_defaults(document: Any, defaults: Defaults) -> SizingRequest:
    """A line's request: its own facts, and for what it leaves out the defaults, in blocks field by field.

    Raises RequestProblem where they are faulty.
    """
    if not isinstance(document, dict):
        return bodies.filled(document, SizingRequest)
    merged: dict[str, Any] = {}
    for name, own in document.items():
        shared = defaults.document.get(name)
        merged[name] = {**shared, **own} if isinstance(own, dict) and isinstance(shared, dict) else own
    request = bodies.filled(merged, SizingRequest)
    # Blocks that the defaults alone state were checked with them: no rule concerns two blocks.
    rest = {name: getattr(defaults.request, name) for name in defaults.document if name not in document}
    return msgspec.structs.replace(request, **rest)


def _reference(document: Any) -> str | UnsetType:
    """The caller's own reference in a line that is refused, where it has one."""
    stated = document.get("client_reference") if isinstance(document, dict) else None
    return stated if isinstance(stated, str) and len(stated) <= LONGEST_REFERENCE else UNSET


def _refused(number: int, reference: str | UnsetType, problem: RequestProblem, batch: Batch) -> RefusedLine:
    stated = problems.problem(problem.code, problem.detail, batch.request_id, problem.errors)
    return RefusedLine(line=number, client_reference=reference, problem=stated)


def _results(
    requests: Sequence[SizingRequest], batch: Batch
) -> Sequence[CompactSizing | Sizing | RequestProblem]:
    if batch.detail == "full":
        return [_in_full(request, batch) for request in requests]
    try:
        return size_compactly(requests, batch.context)
    except Exception as error:  # noqa: BLE001 - a defect must not cost other lines their answers
        if len(requests) == 1:
            return [_defect(error)]
        return [result for request in requests for result in _results([request], batch)]


def _in_full(request: SizingRequest, batch: Batch) -> Sizing | RequestProblem:
    try:
        return sizings.size(request, batch.context)
    except RequestProblem as problem:
        return problem
    except Exception as error:  # noqa: BLE001 - a defect must not cost other lines their answers
        return _defect(error)


def _defect(error: Exception) -> RequestProblem:
    structlog.get_logger().error("unhandled_error", error=type(error).__name__, places=logs.places(error))
    return RequestProblem("internal-error", said("problem", "internal-error.about"))
