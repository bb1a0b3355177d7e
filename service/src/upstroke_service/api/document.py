"""The OpenAPI document, built from the route handlers and the contract's structs."""

import inspect
import re
from collections.abc import Iterable
from typing import Any

import msgspec
from litestar.handlers import HTTPRouteHandler

from upstroke_service import __version__
from upstroke_service.contract.problems import Problem, ProblemError
from upstroke_service.settings import Settings
from upstroke_service.wording import LANGUAGES, wording

from . import problems
from .access import PROBES, is_open, opened_by
from .compute import Context
from .formula_queries import documented
from .formulas import COLUMNS, MEDIA_TYPES, Formula, as_csv, as_text, example
from .languages import ANSWERS
from .lineups import load_catalogues
from .operation import EXAMPLE_CATALOGUE, Operation, examples
from .queries import parameters
from .schemas import REFERENCE, components
from .style import style

Document = dict[str, Any]

ANSWERED = "suction-at-altitude"
"""The example whose answer the document shows: the one with the fewest candidates."""

_TAGS = {
    "calculations": "Pure calculations: the same body gets the same answer, and nothing is stored.",
    "formulas": "One figure of a calculation each, for what can only fetch an address, such as the web functions of "
    "spreadsheets. A quantity is two parameters, its value and its unit. Units of the answer are those of the system "
    "that 'units' asks for.",
    "operations": "For whoever runs the service.",
    "reference": "What a deployment offers and assumes.",
}
_OF_BODIES = ("unreadable-body", "slow-body", "body-too-large", "unsupported-media-type", "invalid-field")
_OF_BATCHES = ("slow-body", "body-too-large", "unsupported-media-type", "invalid-field")
_OF_FACTS = ("contradictory-facts", "unknown-reference")
_OF_LOAD = ("overloaded", "too-many-requests")
_OF_ACCESS = ("unauthenticated", "forbidden")
_BEARER = "bearer"


def document(handlers: Iterable[HTTPRouteHandler]) -> Document:
    """The contract as an OpenAPI 3.1 document."""
    described = [handler for handler in handlers if {"operation", "formula"} & handler.opt.keys()]
    kinds: list[type[msgspec.Struct]] = [Problem]
    paths: dict[str, Any] = {}
    for handler in described:
        operation: Operation | None = handler.opt.get("operation")
        if operation is not None:
            described_by = (operation.request, operation.answer, *operation.other_lines)
            kinds += [kind for kind in described_by if kind is not None]
        path = re.sub(r":\w+}", "}", next(iter(handler.paths)))
        method = next(iter(handler.http_methods)).lower()
        paths.setdefault(path, {})[method] = _operation(handler, operation)
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "upstroke",
            "version": __version__,
            "summary": "Sizing of hand-operated well pumps that fill a home's pressure tank.",
            "description": wording(LANGUAGES[0]).say("general", "scope"),
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": "/", "description": "This deployment."}],
        "tags": [{"name": name, "description": text} for name, text in _TAGS.items()],
        "paths": dict(sorted(paths.items())),
        "components": {"schemas": components(kinds), "securitySchemes": _SCHEMES},
    }


def _operation(handler: HTTPRouteHandler, operation: Operation | None) -> dict[str, Any]:
    described: dict[str, Any] = {
        "operationId": handler.operation_id,
        "summary": handler.summary,
        "description": handler.description,
        "tags": list(handler.tags or ()),
        "security": _security(handler),
        "parameters": _parameters(handler),
        "responses": _responses(handler, operation),
    }
    if operation is not None and operation.request is not None:
        content = {
            "schema": _reference(operation.request),
            "examples": {
                name: {"summary": f"Invented: {name.replace('-', ' ')}", "value": value}
                for name, value in examples(operation.request).items()
            },
        }
        described["requestBody"] = {
            "required": True,
            "description": (_LINES_SENT if operation.other_lines else "") + _FACTS_SENT,
            "content": dict.fromkeys(operation.media_types, content),
        }
    return described


def _security(handler: HTTPRouteHandler) -> list[dict[str, list[str]]]:
    """A key or token with the scope that is needed; or nothing, where a deployment asks for none."""
    path = next(iter(handler.paths))
    if is_open(path):
        return []
    method = "POST" if "POST" in handler.http_methods else "GET"
    return [*({_BEARER: [scope]} for scope in opened_by(method, path)), {}]


def _reference(kind: type[msgspec.Struct]) -> dict[str, str]:
    return {"$ref": REFERENCE.format(name=kind.__name__)}


def _parameters(handler: HTTPRouteHandler) -> list[dict[str, Any]]:
    names = inspect.signature(handler.fn).parameters
    found: list[dict[str, Any]] = []
    formula: Formula | None = handler.opt.get("formula")
    if formula is not None:
        found += [one for fact in formula.parameters for one in documented(fact, formula.request)]
        found.append(_FORMAT)
    if "name" in names:
        found.append(
            {
                "name": "name",
                "in": "path",
                "required": True,
                "description": "Name of the catalogue, as the list gives it.",
                "schema": {"type": "string", "minLength": 1},
                "example": EXAMPLE_CATALOGUE,
            }
        )
    if formula is not None or parameters(handler.opt):
        found.append(
            {
                "name": "units",
                "in": "query",
                "required": False,
                "description": "Units of the answer: 'us' (ft, in, psi, gal, lbf) or 'si' (m, mm, kPa, L, N).",
                "schema": {"type": "string", "enum": ["us", "si"], "default": "us"},
            }
        )
    if "detail" in parameters(handler.opt):
        found.append(_DETAIL)
    if handler.opt.get("paper"):
        found.append(_PAPER)
    if next(iter(handler.paths)).startswith(ANSWERS):
        found.append(_ACCEPT_LANGUAGE)
    return found


def _responses(handler: HTTPRouteHandler, operation: Operation | None) -> dict[str, Any]:
    codes: list[str] = [
        "internal-error",
        "invalid-field",
        "unreadable-header",
        "uri-too-long",
        "headers-too-large",
    ]
    path = next(iter(handler.paths))
    codes += operation.refusals if operation is not None else _OF_FACTS
    if path not in PROBES:
        codes += _OF_LOAD
    if not is_open(path):
        codes += _OF_ACCESS
    if "request" in inspect.signature(handler.fn).parameters:
        codes.append("not-acceptable")
    if operation is not None and operation.request is not None:
        # A line of many that can't be read, or whose facts can't be, gets its problem within the answer.
        codes += _OF_BATCHES if operation.other_lines else (*_OF_BODIES, *_OF_FACTS)
    if "name" in inspect.signature(handler.fn).parameters:
        codes.append("not-found")
    said_in = _LANGUAGE if path.startswith(ANSWERS) else {}
    headers = {"X-Request-Id": _REQUEST_ID, **said_in, **({} if path in PROBES else _QUOTA)}
    if operation is None:
        found: dict[str, Any] = {
            "200": {"headers": {**headers, **_ASSUMED}, **_of_formula(handler.opt["formula"])}
        }
    else:
        about = _LINES_TOLD if operation.other_lines else inspect.cleandoc(operation.answer.__doc__ or "")
        content = {"schema": _answer_schema(operation), **_answered(operation)}
        found = {
            "200": {
                "description": about,
                "headers": headers,
                "content": {
                    **dict.fromkeys(operation.media_types, content),
                    **dict.fromkeys(operation.reports, _REPORT),
                },
            }
        }
    for code in sorted(set(codes)):
        status = str(problems.STATUSES[code])
        about = wording(LANGUAGES[0]).say("problem", f"{code}.title")
        example = _refusal(code, _fault(code, operation))
        if status in found:
            found[status]["description"] += f"; or: {about[0].lower()}{about[1:]} ({code})"
            found[status]["content"][problems.MEDIA_TYPE]["examples"][code] = example
        else:
            found[status] = {
                "description": f"{about} ({code})",
                "headers": {"X-Request-Id": _REQUEST_ID, **_LANGUAGE, **_HEADERS.get(code, {})},
                "content": {
                    problems.MEDIA_TYPE: {"schema": _reference(Problem), "examples": {code: example}}
                },
            }
    if operation is None or "reference" in (handler.tags or ()):
        found["200"]["headers"]["ETag"] = _ENTITY_TAG
        found["304"] = {
            "description": "Not changed since the answer whose ETag If-None-Match names.",
            "headers": {"X-Request-Id": _REQUEST_ID, "ETag": _ENTITY_TAG, **said_in},
        }
    return dict(sorted(found.items()))


def _answer_schema(operation: Operation) -> dict[str, Any]:
    """The schema of an answer, or of each of its lines."""
    if not operation.other_lines:
        return dict(_reference(operation.answer))
    return {
        "description": "One line.",
        "anyOf": [_reference(kind) for kind in (operation.answer, *operation.other_lines)],
    }


def _of_formula(formula: Formula) -> dict[str, Any]:
    """The answer of a formula: in both forms, to the examples of its parameters."""
    context = Context(load_catalogues(Settings()), style("us", LANGUAGES[0]))
    found = formula.ask(example(formula), context)
    shown = {"text": as_text(found).decode(), "csv": as_csv(found, formula).decode()}
    return {
        "description": "One number, without its unit, or a sentence where no number answers the question; or as CSV "
        f"with the columns {', '.join(COLUMNS)}: the number, what was found beside it, every assumption with its "
        "basis, and what the answer is and is not.",
        "content": {
            MEDIA_TYPES[form]: {
                "schema": {"type": "string", "description": _FORMS[form]},
                "examples": {"default": {"summary": "Invented.", "value": text}},
            }
            for form, text in shown.items()
        },
    }


def _fault(code: str, operation: Operation | None) -> ProblemError | None:
    """What the example of a problem points at: a field of the body, or a parameter of a formula."""
    if operation is None:
        return _FAULTS_OF_QUERIES.get(code)
    return _FAULTS.get(code) if operation.request else None


def _refusal(code: str, fault: ProblemError | None) -> dict[str, Any]:
    """An example of a problem."""
    say = wording(LANGUAGES[0]).say
    shown = problems.problem(
        code, say("problem", f"{code}.about"), "0d9ed44a2b1f4c5f", [fault] if fault else None
    )
    return {"summary": say("problem", f"{code}.title"), "value": msgspec.to_builtins(shown)}


def _answered(operation: Operation) -> dict[str, Any]:
    """An answer as the service gives it by default: to one of the example requests, where it takes requests."""
    context = Context(load_catalogues(Settings()), style("us", LANGUAGES[0]))
    if operation.listing is not None:
        answer = operation.listing(context)
        return {
            "examples": {
                "default": {"summary": "As deployed by default.", "value": msgspec.to_builtins(answer)}
            }
        }
    if operation.request is None or operation.calculation is None:
        return {}
    requests = examples(operation.request)
    name = ANSWERED if ANSWERED in requests else next(iter(requests))
    answer = operation.calculation(msgspec.convert(requests[name], operation.request), context)
    return {"examples": {name: {"summary": "Invented.", "value": msgspec.to_builtins(answer)}}}


_FAULTS = {
    "invalid-field": ProblemError(
        pointer="/pressures/target/unit", detail="Must be one of psi, kPa, bar; not 'ft'."
    ),
    "contradictory-facts": ProblemError(
        pointer="/tank/precharge", detail="A precharge of 60 psi is above the target pressure of 50 psi."
    ),
    "unknown-reference": ProblemError(
        pointer="/selection/catalogue", detail="There is no catalogue 'demmo'."
    ),
}
"""What the examples of problems with a body point at."""

_FAULTS_OF_QUERIES = {
    "invalid-field": ProblemError(pointer="/target_unit", detail="Needed with target: one of psi, kPa, bar."),
    "contradictory-facts": ProblemError(
        pointer="/precharge", detail="A precharge of 60 psi is above the target pressure of 50 psi."
    ),
    "unknown-reference": ProblemError(pointer="/catalogue", detail="There is no catalogue 'demmo'."),
}
"""The same of problems with a query of facts."""

_FORMS = {
    "text": "A number; or a sentence that says why none answers the question.",
    "csv": "Lines that end in CR and LF, the first of them with the names of the columns.",
}
_FACTS_SENT = "The facts; whatever is left out is assumed, and the answer says what was assumed."
_LINES_SENT = "JSON Lines: one object a line. The schema is that of a line, and so is each example. "
_LINES_TOLD = (
    "JSON Lines: one object for each line of the request that is not blank, in the same order, and one with counts at "
    "the end. The schema is that of a line, and so is the example."
)
_DETAIL = {
    "name": "detail",
    "in": "query",
    "required": False,
    "description": "'compact': figures and codes of the best cylinder. 'full': all that a single sizing answers, at "
    "the cost of one.",
    "schema": {"type": "string", "enum": ["compact", "full"], "default": "compact"},
}
_FORMAT = {
    "name": "format",
    "in": "query",
    "required": False,
    "description": "'text': the number alone. 'csv': the number with its unit, and all that it rests on.",
    "schema": {"type": "string", "enum": ["text", "csv"], "default": "text"},
}
_PAPER = {
    "name": "paper",
    "in": "query",
    "required": False,
    "description": "Size of paper of a report; where left out 'letter' with units=us, 'a4' with units=si.",
    "schema": {"type": "string", "enum": ["letter", "a4"]},
}
_REPORT = {"schema": {"type": "string", "description": "A report to print, in the language of the answer."}}
_ACCEPT_LANGUAGE = {
    "name": "Accept-Language",
    "in": "header",
    "required": False,
    "description": "The language of sentences: en or es, by the quality values of RFC 9110; es-MX asks for es, and "
    "where none of them is wanted it is en. Numbers, codes and units are the same in every language.",
    "schema": {"type": "string", "default": LANGUAGES[0]},
    "example": LANGUAGES[0],
}
_LANGUAGE = {
    "Content-Language": {
        "description": "The language of the sentences.",
        "schema": {"type": "string", "enum": list(LANGUAGES)},
    },
    "Vary": {
        "description": "Names Accept-Language: caches keep one answer for each language.",
        "schema": {"type": "string"},
    },
}
_ASSUMED = {
    "Upstroke-Assumed": {
        "description": "JSON Pointers of the facts that were assumed, separated by commas; the CSV form says what was "
        "assumed, and GET /v1/defaults explains it.",
        "schema": {"type": "string"},
    }
}

_SCHEMES = {
    _BEARER: {
        "type": "http",
        "scheme": "bearer",
        "description": "An API key, or a JSON Web Token, from whoever runs the service; where they ask for none, leave "
        "it out. The scope 'calculate' opens calculations, 'read' everything that is looked up, 'formulas' the "
        "formulas alone.",
    }
}
_QUOTA = {
    "RateLimit-Policy": {
        "description": 'The quota, where there is one: in "default";q=600;w=60 it is 600 requests in 60 seconds.',
        "schema": {"type": "string"},
    },
    "RateLimit": {
        "description": 'What is left of it: in "default";r=42;t=30 it is 42 requests, and a new quota in 30 seconds.',
        "schema": {"type": "string"},
    },
}
_CHALLENGE = {
    "WWW-Authenticate": {
        "description": "What is needed, as RFC 6750 defines it.",
        "schema": {"type": "string"},
    }
}
_RETRY = {
    "Retry-After": {"description": "Seconds to wait before trying again.", "schema": {"type": "integer"}}
}
_HEADERS = {
    "unauthenticated": _CHALLENGE,
    "forbidden": _CHALLENGE,
    "too-many-requests": {**_RETRY, **_QUOTA},
    "overloaded": _RETRY,
}
"""Headers of some problems beyond those of all."""

_ENTITY_TAG = {
    "description": "Changes whenever the answer does; send it back in If-None-Match.",
    "schema": {"type": "string"},
}
_REQUEST_ID = {
    "description": "The id of this request: as sent, or made by the service.",
    "schema": {"type": "string"},
}
