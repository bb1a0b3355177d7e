"""The resources: thin handlers, each a request type, a calculation and an answer type."""

from collections.abc import Callable
from typing import Any, TypeVar

import msgspec
from litestar import Response, get, post
from litestar.datastructures import State
from litestar.exceptions import NotFoundException
from litestar.params import FromPath

from upstroke_service import MODEL_VERSION
from upstroke_service.contract import answers, requests
from upstroke_service.contract import listings as listed
from upstroke_service.contract.hookups import Hookups
from upstroke_service.contract.needs import WaterNeeds, WaterUseList
from upstroke_service.contract.tanks import TankCurve
from upstroke_service.wording import said

from . import bodies, compute, hookups, listings, sizings, tank_curves, water_needs, water_uses
from .batches import size_pumps
from .compute import Context
from .draining import Draining
from .formula_resources import FORMULA_HANDLERS
from .observing import calculating, template
from .operation import EXAMPLE_CATALOGUE, Operation
from .problems import RequestProblem
from .report_resources import REPORTS, answer_report
from .responses import JSON, cacheable, context_of, preferred, require_accepted
from .shedding import Work
from .tracing import Spans
from .web import AnyRequest

Facts = TypeVar("Facts", bound=msgspec.Struct)

_HEALTHY = listed.Health(status="ok", model_version=MODEL_VERSION)


def _health(_: Context) -> listed.Health:
    return _HEALTHY


def _example_catalogue(context: Context) -> listed.CatalogueDetail:
    return listings.catalogue_detail(context, EXAMPLE_CATALOGUE)


async def _calculate(
    request: AnyRequest, kind: type[Facts], calculation: Callable[[Facts, Context], Any]
) -> Response[bytes]:
    """Read, calculate, answer: the way of every calculation."""
    require_accepted(request, JSON)
    work: Work = request.app.state.work
    context = context_of(request)
    traced: Spans = request.app.state.spans
    route = template(request.scope)
    body = await bodies.receive(request)

    def calculated() -> bytes:
        facts = bodies.decode(body, kind)
        with calculating(traced, route):
            found = calculation(facts, context)
        return msgspec.json.encode(found)

    answer = await work.run(calculated)
    return Response(answer, media_type=JSON, headers={"Cache-Control": "no-store"})


@post(
    "/v1/lift-budgets",
    status_code=200,
    operation_id="compute_lift_budgets",
    summary="Compute lift budgets",
    description="The total dynamic head line by line, against each cylinder's rated lift: margin, and the highest "
    "gauge pressure that it leaves room for.",
    tags=["calculations"],
    opt={
        "operation": Operation(answers.LiftBudgets, requests.LiftBudgetRequest, compute.lift_budgets),
        "units": True,
    },
)
async def compute_lift_budgets(request: AnyRequest) -> Response[bytes]:
    """POST /v1/lift-budgets."""
    return await _calculate(request, requests.LiftBudgetRequest, compute.lift_budgets)


@post(
    "/v1/tank-curves",
    status_code=200,
    operation_id="compute_tank_curve",
    summary="Compute a tank curve",
    description="Points of gauge pressure against stored water, and the usable drawdown between start and target.",
    tags=["calculations"],
    opt={
        "operation": Operation(TankCurve, requests.TankCurveRequest, tank_curves.tank_curve),
        "units": True,
    },
)
async def compute_tank_curve(request: AnyRequest) -> Response[bytes]:
    """POST /v1/tank-curves."""
    return await _calculate(request, requests.TankCurveRequest, tank_curves.tank_curve)


@post(
    "/v1/stroke-estimates",
    status_code=200,
    operation_id="estimate_strokes",
    summary="Estimate strokes",
    description="Strokes, time, work and hand force from start to target, as totals and along the fill, with the "
    "practical ceiling and what governs it. A fill stops where no more water arrives or something could break, not "
    "where it becomes hard: the hand force says how hard.",
    tags=["calculations"],
    opt={
        "operation": Operation(
            answers.StrokeEstimates, requests.StrokeEstimateRequest, compute.stroke_estimates
        ),
        "units": True,
    },
)
async def estimate_strokes(request: AnyRequest) -> Response[bytes]:
    """POST /v1/stroke-estimates."""
    return await _calculate(request, requests.StrokeEstimateRequest, compute.stroke_estimates)


@post(
    "/v1/cautions",
    status_code=200,
    operation_id="list_cautions",
    summary="List cautions",
    description="What could hurt someone or break something, given these facts: worst first, each with who may do the "
    "work and what it rests on.",
    tags=["calculations"],
    opt={
        "operation": Operation(answers.Cautions, requests.CautionRequest, compute.site_cautions),
        "units": True,
    },
)
async def list_cautions(request: AnyRequest) -> Response[bytes]:
    """POST /v1/cautions."""
    return await _calculate(request, requests.CautionRequest, compute.site_cautions)


@post(
    "/v1/hookups",
    status_code=200,
    operation_id="advise_hookups",
    summary="Advise hookups",
    description="The ways to join a hand pump to this household's water, best first, each with conditions, checks, "
    "parts, steps in order and who may do them; and the ways that must never be used here, with the reason. Listed "
    "connections are judged one by one; where none is listed, those that such premises usually have.",
    tags=["calculations"],
    opt={"operation": Operation(Hookups, requests.HookupRequest, hookups.advise), "units": True},
)
async def advise_hookups(request: AnyRequest) -> Response[bytes]:
    """POST /v1/hookups."""
    return await _calculate(request, requests.HookupRequest, hookups.advise)


@post(
    "/v1/water-needs",
    status_code=200,
    operation_id="estimate_water_needs",
    summary="Estimate water needs",
    description="What people, uses and animals need every day by published figures, what one fill of the tank covers, "
    "and how many fills, strokes and minutes a day that takes with the cylinder that a sizing would recommend. Where "
    "the static water level is not known there are no strokes and minutes.",
    tags=["calculations"],
    opt={
        "operation": Operation(WaterNeeds, requests.WaterNeedRequest, water_needs.water_needs),
        "units": True,
    },
)
async def estimate_water_needs(request: AnyRequest) -> Response[bytes]:
    """POST /v1/water-needs."""
    return await _calculate(request, requests.WaterNeedRequest, water_needs.water_needs)


@post(
    "/v1/sizings",
    status_code=200,
    operation_id="size_pump",
    summary="Size a pump",
    description="The whole job from a quote form: every candidate cylinder assessed, ranked and explained, one "
    "recommended or none; cautions, assumptions and the questions to ask next. Candidates are ranked by outcome, "
    "water stored, lift margin of a tenth, comfortable hand force, a rod that falls by itself, minutes, hand force. "
    "Accept: text/html or application/pdf gets the same as a report to print.",
    tags=["calculations"],
    opt={
        "operation": Operation(answers.Sizing, requests.SizingRequest, sizings.size, reports=REPORTS),
        "units": True,
        "paper": True,
    },
)
async def size_pump(request: AnyRequest) -> Response[bytes]:
    """POST /v1/sizings."""
    media_type = preferred(request, (JSON, *REPORTS))
    if media_type != JSON:
        return await answer_report(request, media_type)
    return await _calculate(request, requests.SizingRequest, sizings.size)


def _listed(request: AnyRequest, content: bytes) -> Response[bytes]:
    """An answer that changes only with the deployment."""
    require_accepted(request, JSON)
    return cacheable(request, content)


@get(
    "/v1/catalogues",
    operation_id="list_catalogues",
    summary="List catalogues",
    description="The cylinder catalogues that this deployment offers.",
    tags=["reference"],
    opt={"operation": Operation(listed.CatalogueList, listing=listings.catalogue_list)},
)
async def list_catalogues(request: AnyRequest) -> Response[bytes]:
    """GET /v1/catalogues."""
    return _listed(request, msgspec.json.encode(listings.catalogue_list(context_of(request))))


@get(
    "/v1/catalogues/{name:str}",
    operation_id="get_catalogue",
    summary="Get a catalogue",
    description="One catalogue with all its cylinders.",
    tags=["reference"],
    opt={
        "operation": Operation(
            listed.CatalogueDetail,
            listing=_example_catalogue,
        ),
        "units": True,
    },
)
async def get_catalogue(request: AnyRequest, name: FromPath[str]) -> Response[bytes]:
    """GET /v1/catalogues/{name}."""
    context = context_of(request)
    if name not in context.catalogues.by_name:
        raise NotFoundException
    answer = listings.catalogue_detail(context, name)
    return _listed(request, msgspec.json.encode(answer))


@get(
    "/v1/units",
    operation_id="list_units",
    summary="List units",
    description="The accepted units with their factors, the bounds of every input, and the units of answers.",
    tags=["reference"],
    opt={"operation": Operation(listed.UnitList, listing=listings.unit_list)},
)
async def list_units(request: AnyRequest) -> Response[bytes]:
    """GET /v1/units."""
    return _listed(request, msgspec.json.encode(listings.unit_list(context_of(request))))


@get(
    "/v1/defaults",
    operation_id="list_defaults",
    summary="List defaults",
    description="What is assumed where a fact is left out, with plausible range and basis.",
    tags=["reference"],
    opt={"operation": Operation(listed.DefaultList, listing=listings.default_list), "units": True},
)
async def list_defaults(request: AnyRequest) -> Response[bytes]:
    """GET /v1/defaults."""
    return _listed(request, msgspec.json.encode(listings.default_list(context_of(request))))


@get(
    "/v1/operators",
    operation_id="list_operators",
    summary="List operators",
    description="Profiles of the people who pump, with what each figure rests on.",
    tags=["reference"],
    opt={"operation": Operation(listed.OperatorList, listing=listings.operator_list), "units": True},
)
async def list_operators(request: AnyRequest) -> Response[bytes]:
    """GET /v1/operators."""
    return _listed(request, msgspec.json.encode(listings.operator_list(context_of(request))))


@get(
    "/v1/water-uses",
    operation_id="list_water_uses",
    summary="List water uses",
    description="The published figures behind water needs: uses in a household with what their fixtures need, people "
    "by level, and livestock, each figure with its source.",
    tags=["reference"],
    opt={"operation": Operation(WaterUseList, listing=water_uses.water_use_list), "units": True},
)
async def list_water_uses(request: AnyRequest) -> Response[bytes]:
    """GET /v1/water-uses."""
    return _listed(request, msgspec.json.encode(water_uses.water_use_list(context_of(request))))


def _healthy() -> Response[bytes]:
    return Response(msgspec.json.encode(_HEALTHY), media_type=JSON, headers={"Cache-Control": "no-store"})


@get(
    "/livez",
    operation_id="check_live",
    summary="Check that the service lives",
    description="Answers as soon as the process runs.",
    tags=["operations"],
    opt={"operation": Operation(listed.Health, listing=_health)},
)
async def check_live() -> Response[bytes]:
    """GET /livez."""
    return _healthy()


@get(
    "/readyz",
    operation_id="check_ready",
    summary="Check that the service is ready",
    description="Answers 200 once the catalogues are loaded, and 503 from the moment the process is told to end: it "
    "still answers for a while, but new requests belong elsewhere.",
    tags=["operations"],
    opt={
        "operation": Operation(listed.Health, listing=_health, refusals=("shutting-down",)),
    },
)
async def check_ready(state: State) -> Response[bytes]:
    """GET /readyz."""
    draining: Draining = state.draining
    if draining.begun:
        raise RequestProblem("shutting-down", said("fault", "ending"))
    return _healthy()


@get("/openapi.json", include_in_schema=False)
async def openapi_document(request: AnyRequest) -> Response[bytes]:
    """The contract."""
    return _listed(request, request.app.state.openapi)


HANDLERS = (
    compute_lift_budgets,
    compute_tank_curve,
    estimate_strokes,
    list_cautions,
    advise_hookups,
    estimate_water_needs,
    size_pump,
    size_pumps,
    list_catalogues,
    get_catalogue,
    list_units,
    list_defaults,
    list_operators,
    list_water_uses,
    *FORMULA_HANDLERS,
    check_live,
    check_ready,
    openapi_document,
)
"""Every route handler."""
