"""The handlers of the formulas: GET one address, get one number."""

from litestar import Response, get
from litestar.handlers import HTTPRouteHandler

from .formulas import FORMULAS, MEDIA_TYPES, Formula, Found, as_csv, as_text
from .observing import calculating, template
from .responses import cacheable, context_of, require_accepted
from .shedding import Work
from .tracing import Spans
from .web import AnyRequest

ASSUMED = "Upstroke-Assumed"
"""Header that names the facts which were assumed."""


def _handler(formula: Formula) -> HTTPRouteHandler:
    @get(
        formula.path,
        operation_id=formula.operation_id,
        summary=formula.summary,
        description=formula.description,
        tags=["formulas"],
        opt={"formula": formula},
    )
    async def answer_formula(request: AnyRequest) -> Response[bytes]:
        return await _answer(request, formula)

    return answer_formula


async def _answer(request: AnyRequest, formula: Formula) -> Response[bytes]:
    """Read the query, calculate, and answer in the form that it asks for."""
    query = {name: request.query_params.getall(name) for name in request.query_params}
    # The query itself is judged below; until then a faulty word counts as the default.
    form = "csv" if query.get("format") == ["csv"] else "text"
    require_accepted(request, MEDIA_TYPES[form])
    work: Work = request.app.state.work
    traced: Spans = request.app.state.spans
    context = context_of(request)
    route = template(request.scope)

    def calculated() -> Found:
        with calculating(traced, route):
            return formula.ask(query, context)

    found = await work.run(calculated)
    content = as_csv(found, formula) if form == "csv" else as_text(found)
    headers = {ASSUMED: ", ".join(one.pointer for one in found.answer.assumptions)}
    return cacheable(request, content, MEDIA_TYPES[form], headers)


FORMULA_HANDLERS = tuple(_handler(formula) for formula in FORMULAS)
"""A handler for each formula."""
