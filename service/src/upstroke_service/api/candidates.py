"""Presenting candidates: an assessment's arrays become structs, and its findings sentences."""

from typing import Any, NamedTuple

import numpy as np

from upstroke_service.catalogue.model import CatalogueCylinder
from upstroke_service.contract import answers
from upstroke_service.contract.quantities import (
    Exertion,
    FoodEnergy,
    HandForce,
    Head,
    Minutes,
    Pressure,
    Size,
    StrokeRate,
    StrokeVolume,
    WaterVolume,
    Work,
)
from upstroke_service.physics import operator
from upstroke_service.physics.real import Indices, Real
from upstroke_service.sizing import filling, storage
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.facts import UNLIMITED, Flags
from upstroke_service.sizing.ranking import pushed
from upstroke_service.units import significant

from .reasons import Case
from .style import Kind, Style, table

OUTCOMES = ("fits", "fits_with_limits", "does_not_fit")
_NO_LIMIT = 0.9 * UNLIMITED


class Presented(NamedTuple):
    """All candidates of one site, in the order of the line-up."""

    cylinders: list[answers.CylinderRef]
    budgets: list[answers.LiftBudget]
    fills: list[answers.FillTotals]
    efforts: list[answers.Effort]
    ceilings: list[answers.Ceiling]
    cases: list[Case]
    outcomes: list[int]


def _budget_columns(found: Assessment) -> list[tuple[str, Kind, Real]]:
    budget = found.budget
    heads = (
        "static_water_level", "well_drawdown", "outlet_height", "rise", "pressure_head", "drop_pipe_friction",
        "conduit_friction", "fitting_losses", "check_valve", "total_head", "rated_lift", "margin",
    )  # fmt: skip
    return [
        *((name, Head, getattr(budget, name)) for name in heads),
        ("pressure_room", Pressure, budget.pressure_room),
        ("target", Pressure, storage.shown(found.op.site, found.op.site.target)),
        ("cadence", StrokeRate, budget.cadence),
    ]


def _fill_columns(found: Assessment) -> list[tuple[str, Kind, Real]]:
    fill, site = found.fill, found.op.site
    return [
        ("start", Pressure, storage.shown(site, fill.start)),
        ("end", Pressure, storage.shown(site, fill.end)),
        ("water", WaterVolume, fill.volume),
        ("time", Minutes, fill.seconds),
        ("work", Work, fill.work),
        ("body_energy", FoodEnergy, operator.body_energy(fill.work, operator.GROSS_EFFICIENCY)),
    ]


def _effort_columns(found: Assessment) -> list[tuple[str, Kind, Real]]:
    start, end = found.at_start, found.at_end
    return [
        ("hand_force", HandForce, end.hand_force),
        ("hand_force_at_start", HandForce, start.hand_force),
        ("return_force", HandForce, end.return_force),
        ("hand_travel", Size, found.op.stroke * found.op.lineup.handle_ratio),
        ("cadence_at_start", StrokeRate, start.effective_cadence),
        ("cadence_at_end", StrokeRate, end.effective_cadence),
        ("power", Exertion, end.power),
        ("net_per_stroke", StrokeVolume, end.net_per_stroke),
    ]


def present(found: Assessment, cylinders: tuple[CatalogueCylinder, ...], style: Style) -> Presented:
    """Turn the arrays of one site into the structs of an answer."""
    count = len(cylinders)
    parts = (_budget_columns(found), _fill_columns(found), _effort_columns(found), _size_columns(found))
    columns = [(kind, column) for part in parts for _, kind, column in part]
    columns += [(Pressure, row) for row in found.ceiling.limits]
    budget, fill, effort, size = ([name for name, _, _ in part] for part in parts)
    after_budget = len(budget)
    after_fill = after_budget + len(fill)
    after_effort = after_fill + len(effort)
    after_size = after_effort + len(size)
    plain = table([found.fill.strokes, found.at_end.useful], count)
    strokes, useful = significant(plain).tolist()
    reaches = np.broadcast_to(found.reaches_target[..., 0], (count,)).tolist()
    cases = cases_of(found, count)
    presented = Presented([], [], [], [], [], cases, found.outcome.reshape(-1).tolist())
    for place, (one, row) in enumerate(zip(cylinders, style.rows(columns, count), strict=True)):
        # The columns are named as the fields of the structs that they fill.
        rest: dict[str, Any] = dict(zip(budget, row, strict=False))
        presented.budgets.append(answers.LiftBudget(**rest))
        rest = dict(zip(fill, row[after_budget:after_fill], strict=True))
        presented.fills.append(
            answers.FillTotals(strokes=strokes[place], reaches_target=reaches[place], **rest)
        )
        rest = dict(zip(effort, row[after_fill:after_effort], strict=True))
        presented.efforts.append(answers.Effort(efficiency=useful[place], **rest))
        rest = dict(zip(size, row[after_effort:after_size], strict=True))
        presented.cylinders.append(answers.CylinderRef(id=one.id, name=one.name, kind=one.kind, **rest))
        presented.ceilings.append(_ceiling(row[after_size:], cases[place]))
    return presented


def _size_columns(found: Assessment) -> list[tuple[str, Kind, Real]]:
    return [("bore", Size, found.op.lineup.bore), ("stroke", Size, found.op.stroke)]


def _ceiling(pressures: Any, case: Case) -> answers.Ceiling:
    applying = [(si, place) for place, si in enumerate(case.limits) if si < _NO_LIMIT]
    applying.sort()
    limits = [answers.Limit(code=LIMITS[place], pressure=pressures[place]) for _, place in applying]
    return answers.Ceiling(pressure=limits[0].pressure, governed_by=limits[0].code, limits=limits)


def case_columns(found: Assessment) -> dict[str, Real | Flags | Indices]:
    """What the sentences need to know of each candidate, in SI units, by the fields of ``Case`` but for the limits."""
    op, budget, fill = found.op, found.budget, found.fill
    return {
        "total_head": budget.total_head,
        "rated_lift": budget.rated_lift,
        "start": storage.shown(op.site, fill.start),
        "end": storage.shown(op.site, fill.end),
        "target": storage.shown(op.site, op.site.target),
        "ceiling": found.ceiling.pressure,
        "force_at_end": found.at_end.hand_force,
        "force_at_target": found.at_target.hand_force,
        "force_limit": op.site.hand_force_limit,
        "comfortable_force": op.site.comfortable_hand_force,
        "inertia_force": found.moving.force,
        "strokes": fill.strokes,
        "seconds": fill.seconds,
        "volume": fill.volume,
        "leak_share": found.delivery.leak / op.displacement,
        "cadence_at_end": found.at_end.effective_cadence,
        "preferred_cadence": op.preferred,
        "wanted_cadence": op.site.cadence,
        "stroke": op.stroke,
        "full_stroke": op.lineup.stroke,
        "effective_stroke": found.delivery.stroke,
        "handle_ratio": op.lineup.handle_ratio,
        "pushed": pushed(found),
        "suction_lift": found.suction_lift,
        "suction_limit": found.suction_limit,
        "outside_diameter": op.lineup.outside_diameter,
        "casing_room": op.site.casing_room,
        "suction": op.lineup.suction,
        "too_deep": found.too_deep,
        "too_wide": found.too_wide,
        "too_short": found.too_short,
        "open_tank": np.asarray(op.site.open),
        "reaches_target": found.reaches_target,
        "governing": found.ceiling.governing,
    }


def cases_of(found: Assessment, count: int) -> list[Case]:
    """The same as structures of plain numbers, one for each candidate."""
    columns = case_columns(found)
    rows = table([columns[name] for name in Case._fields[1:]], count).T.tolist()
    limits = found.ceiling.limits.reshape(len(LIMITS), -1).T.tolist()
    return [Case(limit, *values) for limit, values in zip(limits, rows, strict=True)]


def curves(
    found: Assessment, points: int, style: Style, places: slice = slice(None)
) -> list[answers.FillColumns]:
    """The fills of the candidates at ``places`` of a single site, point by point."""
    fill = found.fill.of(places)
    pressure = fill.start + (fill.end - fill.start) * np.linspace(0.0, 1.0, points)
    along = filling.curve(found.op.site, fill, pressure)
    shown = np.broadcast_to(storage.shown(found.op.site, pressure), pressure.shape)
    columns = (shown, along.volume, along.strokes, along.seconds, along.hand_force, along.cadence)
    return [
        answers.FillColumns(
            **dict(zip(_CURVE, style.series([*zip(_CURVE.values(), rows, strict=True)]), strict=True))
        )
        for rows in zip(*columns, strict=True)
    ]


_CURVE: dict[str, Kind | None] = {
    "pressure": Pressure,
    "water": WaterVolume,
    "strokes": None,
    "time": Minutes,
    "hand_force": HandForce,
    "cadence": StrokeRate,
}
