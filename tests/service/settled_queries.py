"""Making random queries of formulas agree: what a schema of single parameters can't say of them together."""

import random
from typing import Any

from tests.service.consistency import MOST_ROUNDS, contradictions

from upstroke_service.api.formula_queries import described, named, read
from upstroke_service.api.formulas import FORMULAS, Formula
from upstroke_service.api.problems import RequestProblem

BY_PATH = {formula.path: formula for formula in FORMULAS}
HOSE = ("hose_length", "hose_inside_diameter")


def completed(formula: Formula, query: dict[str, Any]) -> dict[str, Any]:
    """``query`` with a unit for each value, which then lies within the bounds of that unit, and a whole hose."""
    query = dict(query)
    for fact in formula.parameters:
        bounds = described(formula.request, fact.path).bounds
        if not bounds:
            continue
        value, unit = query.pop(fact.name, None), query.pop(fact.unit_name, None)
        if value is not None:
            unit = unit or fact.unit
            limits = bounds[unit]
            query |= {fact.name: min(max(float(value), limits.lowest), limits.highest), fact.unit_name: unit}
    if sum(name in query for name in HOSE) == 1:
        for name in HOSE:
            query.pop(name, None)
            query.pop(f"{name}_unit", None)
    return query


def settled(formula: Formula, query: dict[str, Any], choice: random.Random) -> dict[str, Any]:
    """``query`` without one fact, taken at random, of each contradiction in it."""
    needed = {fact.name for fact in formula.parameters if fact.required}
    for _ in range(MOST_ROUNDS):
        try:
            body = read(
                {name: [str(value)] for name, value in query.items()}, formula.parameters, formula.request
            )
        except RequestProblem:
            break
        names = {named(pointer, formula.parameters) for pointer in contradictions(formula.request, body)}
        spare = sorted(names - needed - {""})
        if not spare:
            break
        name = choice.choice(spare)
        query = {key: value for key, value in query.items() if key not in {name, f"{name}_unit"}}
    return query
