"""Compact sizings: those of many sites at a time, without sentences, questions and curves."""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from upstroke_service.catalogue.model import CatalogueCylinder
from upstroke_service.contract.batches import CompactSizing
from upstroke_service.contract.quantities import HandForce, Head, Minutes, Pressure, WaterVolume
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.physics.real import Array, Real
from upstroke_service.reference import fixtures
from upstroke_service.reference.materials import material
from upstroke_service.sizing import assessment, circumstances, ranking, stacking, storage
from upstroke_service.sizing import reserve as reserves
from upstroke_service.sizing.assessment import DOES_NOT_FIT, Assessment
from upstroke_service.units import significant

from .candidates import OUTCOMES, cases_of
from .cautioning import caution_codes
from .compute import Context, Read, read
from .lineups import Selecting
from .problems import RequestProblem
from .reasons import codes
from .sizings import surroundings, wanted_water
from .style import Kind


class Asked(NamedTuple):
    """A request read: its facts, and the height in m of the floor with the fixtures above the tank's gauge."""

    request: SizingRequest
    facts: Read
    floor_rise: float


def size_compactly(
    requests: Sequence[SizingRequest], context: Context
) -> list[CompactSizing | RequestProblem]:
    """The compact sizing of each request, or what keeps it from having one; in their order."""
    found: list[CompactSizing | RequestProblem | None] = []
    asked: list[Asked] = []
    places: list[int] = []
    selecting = Selecting()
    for place, request in enumerate(requests):
        try:
            facts = read(request, context, selecting)
        except RequestProblem as problem:
            found.append(problem)
            continue
        if "/well/static_water_level" in facts.reading.assumed:
            found.append(_without_level(request, facts))
            continue
        found.append(None)
        asked.append(Asked(request, facts, wanted_water(request, facts).floor_rise))
        places.append(place)
    for place, sized in zip(places, _sized(asked), strict=True):
        found[place] = sized
    return [one for one in found if one is not None]


def _without_level(request: SizingRequest, facts: Read) -> CompactSizing:
    if request.needs:
        wanted_water(request, facts)
    around = surroundings(request, facts, (), proposed=True)
    return CompactSizing(
        verdict="needs_facts",
        assumed=sorted(facts.reading.assumed),
        findings=[],
        cautions=caution_codes(circumstances.of_site(around, facts.site)),
    )


def _sized(asked: Sequence[Asked]) -> list[CompactSizing]:
    sized: dict[int, CompactSizing] = {}
    sites = [one.facts.site for one in asked]
    for group in stacking.groups(sites, [one.facts.chosen.lineup for one in asked]):
        found = assessment.assess(group.site, group.lineup, curved=False)
        order = np.broadcast_to(ranking.order(found), (len(group.places), found.outcome.shape[-2]))
        best = stacking.picked(found, order[:, 0])
        some = [asked[place] for place in group.places]
        chosen = [
            one.facts.chosen.cylinders[place] for one, place in zip(some, order[:, 0].tolist(), strict=True)
        ]
        sized.update(zip(group.places, _presented(best, some, chosen), strict=True))
    return [sized[place] for place in range(len(asked))]


def _presented(
    best: Assessment, asked: Sequence[Asked], chosen: Sequence[CatalogueCylinder]
) -> list[CompactSizing]:
    """Each site's answer from its best candidate; ``best`` has them as the candidates of one site."""
    style = asked[0].facts.style
    end = storage.shown(best.op.site, best.fill.end)
    reserve = _reserve(best, np.array([one.floor_rise for one in asked]).reshape(-1, 1))
    names = ("lift_margin", "end", "time", "hand_force", "water", "reserve")
    columns: list[tuple[Kind, Real]] = [
        (Head, best.budget.margin),
        (Pressure, end),
        (Minutes, best.fill.seconds),
        (HandForce, best.at_end.hand_force),
        (WaterVolume, best.fill.volume),
        (WaterVolume, reserve),
    ]
    rows = style.rows(columns, len(asked))
    strokes = significant(best.fill.strokes.ravel()).tolist()
    density = np.array([material(one.drop_pipe_material).density for one in chosen]).reshape(-1, 1)
    choices = circumstances.each_recommended(best, density)
    answers: list[CompactSizing] = []
    for place, (one, cylinder, case, outcome) in enumerate(
        zip(asked, chosen, cases_of(best, len(asked)), best.outcome.ravel().tolist(), strict=True)
    ):
        fits = outcome != DOES_NOT_FIT
        around = surroundings(one.request, one.facts, (cylinder,) if fits else (), proposed=fits)
        holding = circumstances.of_site(around, one.facts.site)
        rest: dict[str, Any] = dict(zip(names, rows[place], strict=True))
        if fits:
            holding |= circumstances.of_choice(choices[place], around, one.facts.site)
            rest |= {"recommended": cylinder.id, "strokes": strokes[place]}
        else:
            rest = {"nearest": cylinder.id, "lift_margin": rest["lift_margin"]}
        answers.append(
            CompactSizing(
                verdict=OUTCOMES[outcome] if fits else "nothing_fits",  # type: ignore[arg-type]
                governed_by=case.governed_by,
                assumed=sorted(one.facts.reading.assumed),
                findings=codes(case),
                cautions=caution_codes(holding),
                **rest,
            )
        )
    return answers


def _reserve(best: Assessment, floor_rise: Array) -> Array:
    """Usable water in m³ of a fill of each site, above what the least demanding fixture needs."""
    site = best.op.site
    lowest = np.minimum.reduce(
        [np.asarray(reserves.lowest_pressure(site, use, floor_rise)) for use in fixtures.USES]
    )
    usable = reserves.usable_volume(site, storage.shown(site, best.fill.end), lowest)
    return np.broadcast_to(usable, floor_rise.shape)
