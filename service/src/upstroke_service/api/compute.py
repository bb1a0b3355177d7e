"""What each resource does: a request in, an answer out. No web here: tests and tools call it directly."""

import hashlib
from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec
from msgspec import UNSET

from upstroke_service import MODEL_VERSION
from upstroke_service.contract import answers
from upstroke_service.contract.cylinders import Selection
from upstroke_service.contract.facts import Pump
from upstroke_service.contract.requests import (
    CautionRequest,
    LiftBudgetRequest,
    StrokeEstimateRequest,
)
from upstroke_service.sizing import assessment, circumstances
from upstroke_service.sizing.facts import Site

from . import candidates
from .assumed import Reading, block
from .assumptions import assumptions
from .cautioning import cautions
from .details import explain
from .lineups import Candidates, Catalogues, select
from .reasons import placement_reasons, reasons
from .style import Style
from .translate import read_site, read_surroundings


class Context(NamedTuple):
    """What an answer depends on besides the request."""

    catalogues: Catalogues
    style: Style


def envelope(request: Any, context: Context, digest: str = "") -> dict[str, Any]:
    """What every calculation's answer carries."""
    facts = msgspec.structs.replace(request, client_reference=UNSET)
    key = f"{type(request).__name__} {MODEL_VERSION} {digest} {context.style.system} {context.style.words.language} "
    content = key.encode() + msgspec.json.encode(facts)
    return {
        "calculation_id": hashlib.blake2b(content, digest_size=16).hexdigest(),
        "model_version": MODEL_VERSION,
        "scope": context.style.words.say("general", "scope"),
        "client_reference": request.client_reference,
    }


def _digest(chosen: Candidates) -> str:
    return "" if chosen.catalogue is None else chosen.catalogue.digest


def catalogue_used(chosen: Candidates, style: Style) -> answers.CatalogueUsed:
    """The catalogue that an answer is built on."""
    if chosen.catalogue is None:
        return answers.CatalogueUsed(
            name="request", invented=False, notice=style.words.say("general", "own_cylinders")
        )
    used = chosen.catalogue
    return answers.CatalogueUsed(name=used.name, invented=used.invented, notice=used.notice)


class Read(NamedTuple):
    """A request read: its site, its candidates, what was assumed, and how to speak of it."""

    site: Site
    chosen: Candidates
    reading: Reading
    style: Style


def read(request: Any, context: Context, selecting: Callable[..., Candidates] = select) -> Read:
    """Read a request that selects cylinders, by ``selecting``. Raises RequestProblem."""
    reading = Reading()
    site = read_site(request, reading)
    chosen = selecting(
        block(request.selection, Selection), block(request.pump, Pump), context.catalogues, reading
    )
    reading.close()
    return Read(site, chosen, reading, context.style.about(open_tank=bool(site.open)))


def lift_budgets(request: LiftBudgetRequest, context: Context) -> answers.LiftBudgets:
    """The total dynamic head line by line, against each cylinder's rated lift."""
    site, chosen, reading, style = read(request, context)
    found = assessment.assess(site, chosen.lineup, stop_at_ceiling=False)
    shown = candidates.present(found, chosen.cylinders, style)
    entries = [
        answers.LiftBudgetEntry(
            cylinder=shown.cylinders[place],
            lift_budget=shown.budgets[place],
            findings=placement_reasons(case, style),
        )
        for place, case in enumerate(shown.cases)
    ]
    return answers.LiftBudgets(
        catalogue=catalogue_used(chosen, style),
        lift_budgets=entries,
        assumptions=assumptions(reading.assumed.values(), style),
        **envelope(request, context, _digest(chosen)),
    )


def stroke_estimates(request: StrokeEstimateRequest, context: Context) -> answers.StrokeEstimates:
    """Strokes, time, work and hand force of each cylinder, as totals and along the fill."""
    site, chosen, reading, style = read(request, context)
    found = assessment.assess(site, chosen.lineup, stop_at_ceiling=False)
    shown = candidates.present(found, chosen.cylinders, style)
    curves = candidates.curves(found, request.points, style)
    entries = [
        answers.StrokeEstimate(
            cylinder=shown.cylinders[place],
            fill=shown.fills[place],
            effort=shown.efforts[place],
            ceiling=shown.ceilings[place],
            curve=curves[place],
            findings=reasons(case, style),
            **explain(found, site, place, chosen.cylinders[place], style, advise=False)._asdict(),
        )
        for place, case in enumerate(shown.cases)
    ]
    return answers.StrokeEstimates(
        catalogue=catalogue_used(chosen, style),
        stroke_estimates=entries,
        assumptions=assumptions(reading.assumed.values(), style),
        **envelope(request, context, _digest(chosen)),
    )


def site_cautions(request: CautionRequest, context: Context) -> answers.Cautions:
    """The cautions that these facts call for, whichever cylinder is chosen."""
    reading = Reading()
    site = read_site(request, reading)
    reading.close()
    kind = block(request.pump, Pump).kind
    surroundings = read_surroundings(request, site, lift_pump=kind != "suction")
    style = context.style.about(open_tank=bool(site.open))
    return answers.Cautions(
        cautions=cautions(circumstances.of_site(surroundings, site), style),
        assumptions=assumptions(reading.assumed.values(), style),
        **envelope(request, context),
    )
