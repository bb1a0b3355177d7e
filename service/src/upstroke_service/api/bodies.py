"""Request bodies: strict decoding, and on failure every fault at once."""

import asyncio
import difflib
from typing import Any, TypeVar

import jsonschema_rs
import msgspec
from litestar.exceptions import InternalServerException

from upstroke_service.contract.problems import ProblemError
from upstroke_service.wording import said

from . import problems
from .problems import RequestProblem
from .repeated import members, repeated
from .schemas import part, validator, variants
from .web import AnyRequest

T = TypeVar("T", bound=msgspec.Struct)

MOST_ECHOED = 40
"""Characters of a faulty word that are repeated in its fault."""

MOST_FAULTS = 50
"""Faults reported for one body; a body with more is not a form filled in by mistake."""


_CHARSETS = {"", "utf-8", "utf8"}


LONGEST_LIST = 65
"""Entries of a list in which faults are looked for: one more than any list may have."""


async def receive(request: AnyRequest) -> bytes:
    """The body of ``request``. Raises RequestProblem where it isn't sent as JSON, or not in time."""
    require_sent_as(request, "application/json")
    try:
        async with asyncio.timeout(request.app.state.slowest_body):
            return await request.body()
    except TimeoutError:
        raise RequestProblem(
            "slow-body",
            said("fault", "slow_body", seconds=request.app.state.slowest_body),
            headers=problems.CLOSE,
        ) from None
    except InternalServerException:
        # The framework's name for a client that went away, which is no defect of the service.
        raise RequestProblem(
            "unreadable-body", said("fault", "connection_ended"), headers=problems.CLOSE
        ) from None


def decode(body: bytes, kind: type[T]) -> T:
    """``body`` as a ``kind``. Raises RequestProblem 'unreadable-body' or 'invalid-field'."""
    return filled(parse(body), kind)


def parse(body: bytes) -> Any:
    """``body`` as plain objects, each member of which is there once. Raises RequestProblem 'unreadable-body'."""
    try:
        document = msgspec.json.decode(body)
        # Each member has its colon: with no more colons than members there are, none came twice.
        twice = repeated(body.decode()) if body.count(b":") > members(document) else []
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise RequestProblem("unreadable-body", said("fault", "malformed", error=error)) from None
    except RecursionError:
        raise _nested_too_deeply() from None
    if twice:
        raise _repeating(twice)
    return document


def filled(document: Any, kind: type[T]) -> T:
    """The ``kind`` that plain objects stand for. Raises RequestProblem 'unreadable-body' or 'invalid-field'."""
    # The schema alone decides: it bounds every quantity by its unit, which the structs can't.
    try:
        found = [] if validator(kind).is_valid(document) else faults(document, kind)
    except (RecursionError, ValueError):
        # The validator's words for what no form ever sends.
        raise _nested_too_deeply() from None
    if found:
        raise _invalid(found)
    try:
        return msgspec.convert(document, kind)
    except msgspec.ValidationError:
        # A whole number written as 2.0 is an integer to JSON Schema and not to the structs.
        return msgspec.convert(_whole_numbers(document), kind)


def _nested_too_deeply() -> RequestProblem:
    return RequestProblem("unreadable-body", said("fault", "too_deep"))


def _invalid(errors: list[ProblemError]) -> RequestProblem:
    """The problem that lists these faults."""
    told = "one_field" if len(errors) == 1 else "many_fields"
    return RequestProblem("invalid-field", said("fault", told, count=len(errors)), errors)


def _repeating(paths: list[list[str | int]]) -> RequestProblem:
    """The problem that lists members given more than once."""
    detail = said("fault", "repeated")
    errors = [ProblemError(pointer=pointer(path), detail=detail) for path in paths[:MOST_FAULTS]]
    return RequestProblem("unreadable-body", said("fault", "repeated_fields"), errors)


def require_sent_as(request: AnyRequest, *accepted: str) -> None:
    """Refuse a body that isn't sent as one of these media types. Raises RequestProblem 'unsupported-media-type'."""
    media_type, *options = (
        part.strip() for part in request.headers.get("content-type", "").lower().split(";")
    )
    charset = next((one.removeprefix("charset=") for one in options if one.startswith("charset=")), "")
    encoding = request.headers.get("content-encoding", "identity").strip().lower()
    # Nothing is ever inflated: a small body could become a huge one.
    if media_type not in accepted or charset.strip('"') not in _CHARSETS or encoding not in {"", "identity"}:
        raise RequestProblem(
            "unsupported-media-type",
            said("fault", "send_as", media_types=f" {said('fault', 'one_or_another')} ".join(accepted)),
            headers={"Accept": ", ".join(accepted), "Accept-Encoding": "identity"},
        )


def _whole_numbers(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: _whole_numbers(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_whole_numbers(item) for item in node]
    return int(node) if isinstance(node, float) and node.is_integer() else node


def faults(document: Any, kind: type[msgspec.Struct]) -> list[ProblemError]:
    """Every fault of ``document`` against the schema of ``kind``, up to MOST_FAULTS."""
    found: list[ProblemError] = []
    for error in validator(kind).iter_errors(_cut_short(document)):
        found.extend(_explain(error, kind))
        if len(found) >= MOST_FAULTS:
            break
    return found[:MOST_FAULTS]


def _cut_short(node: Any) -> Any:
    """``node`` with long lists cut short: every fault of thousands of entries would take seconds to find."""
    if isinstance(node, list):
        return [_cut_short(item) for item in node[:LONGEST_LIST]]
    if isinstance(node, dict):
        return {name: _cut_short(value) for name, value in node.items()}
    return node


def pointer(path: list[str | int]) -> str:
    """JSON Pointer (RFC 6901) of a path."""
    return "".join("/" + str(step).replace("~", "~0").replace("/", "~1") for step in path)


def _explain(
    error: jsonschema_rs.ValidationError, request: type[msgspec.Struct], unit: str = ""
) -> list[ProblemError]:
    """An error of a ``request`` as faults that say what would be accepted, in ``unit`` where it is a quantity's."""
    kind: Any = error.kind
    path = list(error.instance_path)
    if kind.name == "anyOf":
        return _explain_variants(error, request)
    if kind.name == "additionalProperties":
        known = list(part(request, error.schema_path[:-1])["properties"])
        return [
            ProblemError(pointer=pointer([*path, name]), detail=_unknown(name, known))
            for name in kind.unexpected[:MOST_FAULTS]
        ]
    if kind.name == "required":
        return [ProblemError(pointer=pointer([*path, kind.property]), detail=said("fault", "needed_field"))]
    return [ProblemError(pointer=pointer(path), detail=_detail(kind, error.message, unit))]


def _unknown(name: str, known: list[str]) -> str:
    near = difflib.get_close_matches(name[:MOST_ECHOED], known)
    if near:
        return said("fault", "misspelled_field", names=f" {said('fault', 'one_or_another')} ".join(near))
    return said("fault", "unknown_field")


def _detail(kind: Any, message: str, unit: str) -> str:  # noqa: PLR0911 - one sentence per keyword
    match kind.name:
        case "minimum" | "maximum":
            return said("fault", kind.name, limit=f"{kind.limit:.10g} {unit}".strip())
        case "const":
            return said("fault", "const", value=kind.expected_value)
        case "enum":
            return said("fault", "enum", words=", ".join(map(str, kind.options)))
        case "type":
            return said("fault", "type", types=f" {said('fault', 'one_or_another')} ".join(kind.types))
        case "minLength" | "minItems" | "maxLength" | "maxItems":
            return said("fault", kind.name, limit=kind.limit)
        case "pattern":
            return said("fault", "pattern", pattern=kind.pattern)
        case _:
            return said("fault", "other", message=message)


def _faults_of_all(branches: Any, request: type[msgspec.Struct]) -> list[ProblemError]:
    """Faults that every variant finds, so that they stay whichever is picked."""
    explained = [
        [fault for error in branch if error.kind.name != "const" for fault in _explain(error, request)]
        for branch in branches
    ]
    return [fault for fault in explained[0] if all(fault in others for others in explained[1:])]


def _explain_variants(
    union: jsonschema_rs.ValidationError, request: type[msgspec.Struct]
) -> list[ProblemError]:
    """Faults of the one variant that a constant (a unit, a kind) picks, or which there are to pick from."""
    kind: Any = union.kind
    branches = kind.context
    members: dict[str, Any] = union.instance if isinstance(union.instance, dict) else {}
    constants: dict[str, Any] = {}
    for branch in branches:
        wrong = [error for error in branch if error.kind.name == "const"]
        if not wrong and members:
            unit = str(members.get("unit", ""))
            return [fault for error in branch for fault in _explain(error, request, unit)]
        constants.update({str(error.kind.expected_value): error for error in wrong})
    if constants:
        field: list[str | int] = list(next(iter(constants.values())).instance_path)
        given = str(members.get(str(field[-1])))[:MOST_ECHOED]
        detail = said("fault", "enum_not", words=", ".join(constants), given=repr(given))
        choice = ProblemError(pointer=pointer(field), detail=detail)
        return [choice, *_faults_of_all(branches, request)]
    member, words = variants(request, part(request, union.schema_path[:-1]))
    example = f'"value": 1, "{member}": "{words[0]}"' if member == "unit" else f'"{member}": "{words[0]}"'
    detail = said("fault", "bare_value", example=f"{{{example}}}", member=member, words=", ".join(words))
    return [ProblemError(pointer=pointer(list(union.instance_path)), detail=detail)]
