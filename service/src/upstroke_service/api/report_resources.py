"""The forms of a sizing besides JSON: a page and a PDF, chosen by Accept."""

from litestar import Response

from upstroke_service.contract.requests import SizingRequest
from upstroke_service.report import render

from . import bodies
from .observing import calculating, template
from .reports import PAPERS, Paper, report
from .responses import context_of
from .shedding import Work
from .tracing import Spans
from .web import AnyRequest

HTML = "text/html"
PDF = "application/pdf"
REPORTS = (HTML, PDF)
"""Media types of a report."""


async def answer_report(request: AnyRequest, media_type: str) -> Response[bytes]:
    """The report that a request asks for, as a ``media_type`` of REPORTS."""
    work: Work = request.app.state.work
    spans: Spans = request.app.state.spans
    context = context_of(request)
    route = template(request.scope)
    paper: Paper = request.query_params.get("paper", PAPERS[context.style.system])
    body = await bodies.receive(request)

    def calculated() -> bytes:
        facts = bodies.decode(body, SizingRequest)
        with calculating(spans, route):
            found = report(facts, context, paper)
        return render.pdf(found) if media_type == PDF else render.html(found)

    content = await work.run(calculated)
    extension = "pdf" if media_type == PDF else "html"
    headers = {
        "Cache-Control": "no-store",
        "Content-Disposition": f'inline; filename="hand-pump.{extension}"',
    }
    return Response(content, media_type=media_type, headers=headers)
