"""Presenting candidates: an assessment's arrays become structs, and its findings sentences."""

from typing import Any, NamedTuple

import numpy as np

from upstroke_service.catalogue.model import CatalogueCylinder
from upstroke_service.contract import answers
from upstroke_service.contract.quantities import (
    Exertion,
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
from upstroke_service.physics.real import Array, Real
from upstroke_service.sizing import assessment, filling
from upstroke_service.sizing.assessment import Assessment, effort_at
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.facts import UNLIMITED
from upstroke_service.units import significant

from .reasons import Case, reasons
from .style import Kind, Style

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
        ("target", Pressure, found.op.site.target),
        ("cadence", StrokeRate, budget.cadence),
    ]


def _fill_columns(found: Assessment) -> list[tuple[str, Kind, Real]]:
    fill = found.fill
    return [
        ("start", Pressure, fill.start),
        ("end", Pressure, fill.end),
        ("water", WaterVolume, fill.volume),
        ("time", Minutes, fill.seconds),
        ("work", Work, fill.work),
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
    parts = (_budget_columns(found), _fill_columns(found), _effort_columns(found))
    names = [name for part in parts for name, _, _ in part]
    columns = [(kind, column) for part in parts for _, kind, column in part]
    columns += [(Size, found.op.lineup.bore), (Size, found.op.stroke)]
    columns += [(Pressure, row) for row in found.ceiling.limits]
    rows = style.rows(columns, count)
    strokes = _plain(found.fill.strokes, count)
    useful = _plain(found.at_end.useful, count)
    reaches = np.broadcast_to(found.reaches_target[..., 0], (count,)).tolist()
    first, second = len(parts[0]), len(parts[0]) + len(parts[1])
    third = len(names)
    presented = Presented([], [], [], [], [], _cases(found, count), found.outcome.reshape(-1).tolist())
    for place, (cylinder, row) in enumerate(zip(cylinders, rows, strict=True)):
        values: dict[str, Any] = dict(zip(names, row, strict=False))
        keys = list(values)
        presented.budgets.append(answers.LiftBudget(**{key: values[key] for key in keys[:first]}))
        presented.fills.append(
            answers.FillTotals(
                strokes=strokes[place],
                reaches_target=reaches[place],
                **{key: values[key] for key in keys[first:second]},
            )
        )
        presented.efforts.append(
            answers.Effort(efficiency=useful[place], **{key: values[key] for key in keys[second:third]})
        )
        presented.cylinders.append(
            answers.CylinderRef(
                id=cylinder.id,
                name=cylinder.name,
                kind=cylinder.kind,
                bore=row[third],
                stroke=row[third + 1],  # type: ignore[arg-type]
            )
        )
        presented.ceilings.append(_ceiling(row[third + 2 :], presented.cases[place]))
    return presented


def _ceiling(pressures: Any, case: Case) -> answers.Ceiling:
    limits = [
        (si, answers.Limit(code=code, pressure=pressure))
        for code, pressure, si in zip(LIMITS, pressures, case.limits, strict=True)
        if si < _NO_LIMIT
    ]
    limits.sort(key=lambda limit: limit[0])
    return answers.Ceiling(
        pressure=limits[0][1].pressure, governed_by=limits[0][1].code, limits=[limit for _, limit in limits]
    )


def _plain(values: Real, count: int) -> list[float]:
    """Numbers without a unit, to 6 significant digits."""
    rounded: list[float] = significant(np.broadcast_to(np.reshape(values, -1), (count,))).tolist()
    return rounded


def _cases(found: Assessment, count: int) -> list[Case]:
    """What the sentences need to know of each candidate, in SI units."""
    op, budget, fill = found.op, found.budget, found.fill
    columns: dict[str, Real] = {
        "total_head": budget.total_head,
        "rated_lift": budget.rated_lift,
        "start": fill.start,
        "end": fill.end,
        "target": op.site.target,
        "ceiling": found.ceiling.pressure,
        "force_at_end": found.at_end.hand_force,
        "force_at_target": found.at_target.hand_force,
        "force_limit": op.site.hand_force_limit,
        "strokes": fill.strokes,
        "seconds": fill.seconds,
        "volume": fill.volume,
        "leak_share": (op.delivered - found.at_end.net_per_stroke) / op.displacement,
        "cadence_at_end": found.at_end.effective_cadence,
        "preferred_cadence": op.preferred,
        "stroke": op.stroke,
        "full_stroke": op.lineup.stroke,
        "suction_lift": found.suction_lift,
        "suction_limit": found.suction_limit,
        "outside_diameter": op.lineup.outside_diameter,
        "casing_room": op.site.casing_room,
        "suction": op.lineup.suction,
        "too_deep": found.too_deep,
        "too_wide": found.too_wide,
        "reaches_target": found.reaches_target,
        "governing": found.ceiling.governing,
    }
    table = np.empty((len(columns), count))
    for row, column in zip(table, columns.values(), strict=True):
        row[:] = np.reshape(column, -1)
    limits = found.ceiling.limits.reshape(len(LIMITS), -1).T.tolist()
    return [
        Case(limits=limit, **dict(zip(columns, values, strict=True)))
        for limit, values in zip(limits, table.T.tolist(), strict=True)
    ]


def curves(found: Assessment, points: int, style: Style) -> list[answers.FillColumns]:
    """The fill of every candidate, point by point."""
    shares = np.linspace(0.0, 1.0, points)
    start = found.fill.start.reshape(-1, 1)
    pressure: Array = start + (found.fill.end.reshape(-1, 1) - start) * shares
    along = filling.curve(found.op, pressure)
    effort = effort_at(found.op, pressure)
    force = np.broadcast_to(effort.hand_force, pressure.shape)
    cadence = np.broadcast_to(effort.effective_cadence, pressure.shape)
    return [
        answers.FillColumns(
            pressure=style.series(Pressure, pressure[place]),
            water=style.series(WaterVolume, along.volume[place]),
            strokes=answers.Series(unit="1", values=significant(along.strokes[place]).tolist()),
            time=style.series(Minutes, along.seconds[place]),
            hand_force=style.series(HandForce, force[place]),
            cadence=style.series(StrokeRate, cadence[place]),
        )
        for place in range(len(pressure))
    ]


def curve(found: Assessment, place: int, points: int, style: Style) -> answers.FillColumns:
    """The fill of one candidate, point by point."""
    return curves(assessment.only(found, place), points, style)[0]
