"""The whole job: every candidate assessed, ranked and explained, one recommended or none."""

import math
from typing import Any

import msgspec
import numpy as np
from msgspec import UNSET, UnsetType

from upstroke_service.catalogue.model import CatalogueCylinder
from upstroke_service.contract import answered, answers
from upstroke_service.contract.household import DailyNeeds
from upstroke_service.contract.quantities import HandForce, Head, Minutes, Pressure, WaterVolume
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.physics.real import Array, Real
from upstroke_service.reference.materials import material
from upstroke_service.sizing import assessment, circumstances, ranking
from upstroke_service.sizing.assessment import DOES_NOT_FIT, Assessment
from upstroke_service.sizing.circumstances import Surroundings
from upstroke_service.sizing.stacking import assess_together
from upstroke_service.units import UNITS

from . import candidates
from .assumptions import assumptions
from .candidates import OUTCOMES, Presented
from .cautioning import cautions
from .compute import Context, Read, catalogue_used, envelope, read
from .details import explain
from .hookups import hookup_for_sizing
from .needs import NeedFacts, daily, read_floor_rise, read_needs, refill, refill_without_pump
from .questions import outcomes, questions, variations, without_level
from .reasons import Case, reasons
from .reserve import reserve
from .style import Style
from .translate import read_surroundings

TABLE_DEPTHS = (
    np.array([25.0, 50.0, 75.0, 100.0, 125.0, 150.0, 200.0, 250.0, 300.0]) * UNITS["length"]["ft"].scale
)
"""Static water levels that are tabled where nobody knows it, m."""


def size(request: SizingRequest, context: Context) -> answers.Sizing:
    """Size a pump for one site. Raises RequestProblem."""
    facts = read(request, context)
    if "/well/static_water_level" in facts.reading.assumed:
        return _without_level(request, facts, context)
    return _sized(request, facts, context)


def _common(request: SizingRequest, facts: Read, context: Context, holding: set[str]) -> dict[str, Any]:
    catalogue = facts.chosen.catalogue
    style = facts.style
    return {
        "catalogue": catalogue_used(facts.chosen, style),
        "cautions": cautions(holding, style),
        "assumptions": assumptions(facts.reading.assumed.values(), style),
        **envelope(request, context, "" if catalogue is None else catalogue.digest),
    }


def _sized(request: SizingRequest, facts: Read, context: Context) -> answers.Sizing:
    style = facts.style
    wanted = wanted_water(request, facts)
    cylinders = facts.chosen.cylinders
    varied = variations(request, facts.reading.assumed.values(), facts.site, style)
    # Each once: an answer may be what is assumed anyway.
    sites = list(dict.fromkeys([facts.site, *(one.site for each in varied.values() for one in each)]))
    found, everywhere = assess_together(sites, facts.chosen.lineup)
    order = ranking.order(found).reshape(-1).tolist()
    shown = candidates.present(found, cylinders, style)
    explained = [reasons(case, style) for case in shown.cases]
    listed = [_candidate(shown, place, explained[place]) for place in order]
    best = order[0]
    common = _common(request, facts, context, _circumstances(request, facts, found, best))
    names = [one.name for one in cylinders]
    led_to = dict(zip(sites, outcomes(everywhere), strict=True))
    asked = questions(facts.reading.assumed.values(), varied, led_to, facts.site, names, style)
    if shown.outcomes[best] == DOES_NOT_FIT:
        summary = style.words.say(
            "verdict", "nothing_fits", name=cylinders[best].name, reason=explained[best][0].text
        )
        return answers.Sizing(
            verdict="nothing_fits",
            summary=summary,
            candidates=listed,
            needs=_needs(request, facts, wanted),
            questions=asked,
            **common,
        )
    verdict = OUTCOMES[shown.outcomes[best]]
    case = shown.cases[best]
    joined = hookup_for_sizing(request, facts.site, style, suction=bool(case.suction), end=case.end)
    return answers.Sizing(
        verdict=verdict,  # type: ignore[arg-type]
        summary=_summary(verdict, cylinders[best], case, style),
        candidates=listed,
        recommended=cylinders[best].id,
        curve=candidates.curves(found, request.points, style, slice(best, best + 1))[0],
        **explain(found, facts.site, best, cylinders[best], style, advise=True)._asdict(),
        reserve=reserve(facts.site, case.end, wanted.floor_rise, style),
        needs=_needs(request, facts, wanted, found, best),
        questions=asked,
        hookup=UNSET if joined is None else joined.hookup,
        procedure=UNSET if joined is None else joined.procedure,
        parts=_parts(cylinders[best], _cylinder_depth(found, best) + float(facts.site.outlet_height)),
        **common,
    )


def _candidate(shown: Presented, place: int, explained: list[answered.Finding]) -> answers.Candidate:
    return answers.Candidate(
        cylinder=shown.cylinders[place],
        outcome=OUTCOMES[shown.outcomes[place]],  # type: ignore[arg-type]
        governed_by=shown.cases[place].governed_by,
        reasons=explained,
        lift_budget=shown.budgets[place],
        ceiling=shown.ceilings[place],
        fill=shown.fills[place],
        effort=shown.efforts[place],
    )


def _summary(verdict: str, cylinder: CatalogueCylinder, case: Case, style: Style) -> str:
    return style.words.say(
        "verdict",
        verdict,
        name=cylinder.name,
        start=style.text(Pressure, case.start),
        end=style.text(Pressure, case.end),
        target=style.text(Pressure, case.target),
        limit=style.words.say("limit", case.governed_by),
        strokes=f"{case.strokes:,.0f}",
        minutes=style.duration(case.seconds),
        force=style.text(HandForce, case.force_at_end),
        water=style.text(WaterVolume, case.volume),
    )


def _circumstances(
    request: SizingRequest, facts: Read, found: Assessment | None = None, best: int = 0
) -> set[str]:
    """What cautions depend on: the site, and of the assessment ``found`` the best candidate, if it fits."""
    site, cylinders = facts.site, facts.chosen.cylinders
    fits = found is not None and found.outcome.reshape(-1)[best] != DOES_NOT_FIT
    around = surroundings(
        request, facts, cylinders[best : best + 1] if fits else (), proposed=found is None or fits
    )
    holding = circumstances.of_site(around, site)
    if found is None or not fits:
        return holding
    pipe = material(cylinders[best].drop_pipe_material)
    choice = circumstances.recommended(found, best, pipe.density)
    return holding | circumstances.of_choice(choice, around, site)


def surroundings(
    request: SizingRequest, facts: Read, chosen: tuple[CatalogueCylinder, ...], *, proposed: bool
) -> Surroundings:
    """What cautions need to know of the site; without a ``chosen`` cylinder any of the candidates may be it."""
    catalogue = facts.chosen.catalogue
    return read_surroundings(
        request,
        facts.site,
        lift_pump=any(one.kind == "lift" for one in chosen or facts.chosen.cylinders),
        invented=catalogue is not None and catalogue.invented,
        proposed=proposed,
    )


def _cylinder_depth(found: Assessment, place: int) -> float:
    """Depth below ground of a cylinder or of a suction pipe's intake, m."""
    depths = np.broadcast_to(found.op.cylinder_depth, found.outcome.shape)
    return float(depths.reshape(-1)[place])


def wanted_water(request: SizingRequest, facts: Read) -> NeedFacts:
    """Who and what needs water; without a block of needs, only where the water is used."""
    if request.needs:
        return read_needs(request.needs, facts.site, facts.reading)
    return NeedFacts([], read_floor_rise(UNSET, facts.site, facts.reading))


def _needs(
    request: SizingRequest, facts: Read, wanted: NeedFacts, found: Assessment | None = None, best: int = 0
) -> DailyNeeds | UnsetType:
    """What every day needs, where the request asks for it; without a candidate, without strokes."""
    if not request.needs:
        return UNSET
    if found is None:
        one = refill_without_pump(facts.site, wanted.floor_rise)
    else:
        one = refill(found, facts.site, best, wanted.floor_rise)
    return daily(wanted, facts.site, one, facts.style)


def _parts(cylinder: CatalogueCylinder, riser_length: float) -> list[answers.Part]:
    """What to quote; of rods and pipes as many pieces as reach the cylinder."""
    return [
        answers.Part(
            sku=part.sku,
            name=part.name,
            quantity=part.quantity
            if part.piece_length is None
            else part.quantity * math.ceil(riser_length / part.piece_length),
            price=UNSET if part.price is None else part.price.amount,
            currency=UNSET if part.price is None else part.price.currency,
            lead_time_days=UNSET if part.lead_time_days is None else part.lead_time_days,
        )
        for part in cylinder.parts
    ]


def _without_level(request: SizingRequest, facts: Read, context: Context) -> answers.Sizing:
    """No recommendation, but what would fit at each depth: many sites in one pass."""
    style = facts.style
    needs = _needs(request, facts, wanted_water(request, facts)) if request.needs else UNSET
    levels = TABLE_DEPTHS.reshape(-1, 1, 1)
    cylinder_depth = facts.site.cylinder_depth
    if cylinder_depth is not None:
        levels = levels[levels[:, 0, 0] < cylinder_depth] if (levels < cylinder_depth).any() else levels[:1]
    site = msgspec.structs.replace(facts.site, static_water_level=levels)
    found = assessment.assess(site, facts.chosen.lineup)
    best = ranking.order(found)[:, 0]
    places: list[int] = best.tolist()
    rows = np.arange(len(levels))
    fits = found.outcome[..., 0] != DOES_NOT_FIT
    any_fit = fits.any(axis=1)

    def of_best(values: Real) -> Array:
        return np.where(any_fit, np.broadcast_to(values, (*fits.shape, 1))[rows, best, 0], 0.0)

    level, force, time = style.series(
        [
            (Head, levels[:, 0, 0]),
            (HandForce, of_best(found.at_end.hand_force)),
            (Minutes, of_best(found.fill.seconds)),
        ]
    )
    table = answers.DepthTable(
        static_water_level=level,
        fitting=answered.Series(unit="1", values=fits.sum(axis=1).astype(float).tolist()),
        best=[
            facts.chosen.cylinders[place].id if one else ""
            for place, one in zip(places, any_fit.tolist(), strict=True)
        ],
        hand_force=force,
        time=time,
    )
    return answers.Sizing(
        verdict="needs_facts",
        summary=style.words.say("verdict", "needs_facts"),
        candidates=[],
        depth_table=table,
        needs=needs,
        questions=without_level(
            facts.reading.assumed.values(),
            levels[:, 0, 0].tolist(),
            found,
            [one.name for one in facts.chosen.cylinders],
            style,
        ),
        **_common(request, facts, context, _circumstances(request, facts)),
    )
