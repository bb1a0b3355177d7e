"""A sizing as a page of plain text for someone who knows nothing of the trade."""

from collections.abc import Iterable, Sequence
from typing import Final

from ._layout import bar, column, figure, heading, paragraph, said, table, thinned, words
from ._models import Candidate, Caution, DepthTable, FillColumns, LiftBudget, Sizing
from ._quantity import Quantity
from ._report_details import daily_needs, hookup, inertia, sessions, stretch

_OUTCOMES: Final = {
    "fits": "fits",
    "fits_with_limits": "fits, with limits",
    "does_not_fit": "does not fit",
}
_SIGNAL_WORDS: Final = ("danger", "warning", "caution", "notice")
_PUSHED: Final = (
    "The pump lifts the water out of the well and pushes it against the tank's pressure, which counts as height "
    "too. All of it together is the total head."
)
_LIFTED: Final = (
    "The pump lifts the water out of the well and up to the open tank. This height and all friction together are "
    "the total head."
)
_LABEL_WIDTH: Final = 40
_BAR_WIDTH: Final = 25


def render(sizing: Sizing, notes: Iterable[str] = ()) -> str:
    """The page, 80 columns wide, ending in a newline.

    Args:
        sizing: what the service answered.
        notes: what a reader must know beforehand, such as that the site is invented.
    """
    chosen = _chosen(sizing)
    title = f"Hand pump for filling {_tank(chosen)}"
    lines = [title, "=" * len(title), ""]
    for note in [*notes, *([sizing.catalogue.notice] if sizing.catalogue.invented else [])]:
        lines += paragraph(note)
    lines += ["", *paragraph(sizing.summary)]
    if chosen:
        lines += _lift_budget(chosen)
    lines += _candidates(sizing)
    if sizing.depth_table:
        lines += _depth_table(sizing.depth_table)
    if sizing.curve:
        lines += _curve(sizing.curve)
    lines += _one_fill(sizing, chosen)
    lines += inertia(sizing.inertia) if sizing.inertia else []
    lines += stretch(sizing.stretch) if sizing.stretch else []
    lines += sessions(sizing.sessions) if sizing.sessions else []
    lines += daily_needs(sizing.needs) if sizing.needs else []
    lines += _parts(sizing)
    lines += _cautions(sizing.cautions)
    # After the cautions: whoever works by its steps has passed them.
    lines += hookup(sizing.hookup, sizing.procedure or ()) if sizing.hookup else []
    lines += _assumptions(sizing)
    lines += _questions(sizing)
    lines += heading("What this is")
    lines += paragraph(sizing.scope)
    return "\n".join(lines) + "\n"


def _chosen(sizing: Sizing) -> Candidate | None:
    """The recommended cylinder, or the best of those that don't fit."""
    for candidate in sizing.candidates:
        if candidate.cylinder.id == sizing.recommended:
            return candidate
    return sizing.candidates[0] if sizing.candidates else None


def _open(candidate: Candidate) -> bool:
    """Whether the tank is an open one, which is filled without pressure."""
    return candidate.lift_budget.target.value == 0.0


def _tank(chosen: Candidate | None) -> str:
    if chosen is None:
        return "a tank"
    return "an open tank" if _open(chosen) else "a pressure tank"


def _lift_budget(candidate: Candidate) -> list[str]:
    budget = candidate.lift_budget
    way, end = (_LIFTED, "Open end") if _open(candidate) else (_PUSHED, "Tank's gauge")
    lines = heading("How high the water must go")
    lines += paragraph(f"{way} Here for {candidate.cylinder.name}:")
    lines.append("")
    parts = (
        ("Depth to the water at rest", budget.static_water_level),
        ("Fall of the water while pumping", budget.well_drawdown),
        ("Pump outlet above ground", budget.outlet_height),
        (f"{end} above the pump outlet", budget.rise),
        (f"Pressure of {said(budget.target)} as height", budget.pressure_head),
        ("Friction in the pipe down the well", budget.drop_pipe_friction),
        ("Friction in pipes and hoses", budget.conduit_friction),
        ("Losses in fittings and valves", budget.fitting_losses),
        ("Opening the check valve", budget.check_valve),
    )
    full = max(budget.total_head.value, budget.rated_lift.value)
    lines += [_budget_line(label, head, full) for label, head in parts]
    lines.append("  " + "-" * (_LABEL_WIDTH + 12))
    lines.append(_budget_line("Total head", budget.total_head, full))
    lines.append(_budget_line("Rated lift: what the cylinder can do", budget.rated_lift, full))
    lines += paragraph(_margin(budget), "  ")
    return lines


def _budget_line(label: str, head: Quantity, full: float) -> str:
    drawn = bar(head.value / full, _BAR_WIDTH) if full > 0.0 else ""
    return f"  {label:<{_LABEL_WIDTH}} {head.value:>7.1f} {head.unit:<2}  {drawn}".rstrip()


def _margin(budget: LiftBudget) -> str:
    if budget.margin.value < 0.0:
        sentence = f"{said(Quantity(-budget.margin.value, budget.margin.unit))} too much."
    else:
        sentence = f"{said(budget.margin)} to spare."
    if budget.target.value == 0.0:
        return sentence
    if budget.pressure_room.value > 0.0:
        return f"{sentence} The rated lift would be used up at {said(budget.pressure_room)} in the tank."
    return f"{sentence} The rated lift is used up before there is any pressure in the tank."


def _candidates(sizing: Sizing) -> list[str]:
    if not sizing.candidates:
        return []
    lines = heading("Cylinders considered, best first")
    lines += paragraph(
        "The cylinder is the pump's working part: a wide bore gives more water per stroke, a narrow one is "
        "easier to pull."
        + (
            ""
            if _open(sizing.candidates[0])
            else " Its ceiling is the highest tank pressure worth pumping to."
        )
    )
    for position, candidate in enumerate(sizing.candidates, 1):
        lines += _candidate(f"{position:>3}. ", candidate, sizing.recommended)
    return lines


def _candidate(number: str, candidate: Candidate, recommended: str | None) -> list[str]:
    cylinder, ceiling, indent = candidate.cylinder, candidate.ceiling, " " * len(number)
    outcome = _OUTCOMES.get(candidate.outcome, candidate.outcome).upper()
    chosen = ", recommended" if cylinder.id == recommended else ""
    lines = ["", *paragraph(f"{cylinder.name}: {outcome}{chosen}", number)]
    if candidate.outcome == "does_not_fit":
        # The first reason is enough to rule it out; the JSON holds the others.
        reasons = candidate.reasons[:1]
    else:
        reasons = candidate.reasons
        limit = f", ceiling {said(ceiling.pressure)} (set by: {words(ceiling.governed_by)})"
        lines += paragraph(
            f"bore {said(cylinder.bore)}, stroke {said(cylinder.stroke)}{'' if _open(candidate) else limit}",
            indent,
        )
    for reason in reasons:
        lines += paragraph(reason.text, f"{indent}- ")
    return lines


def _depth_table(depths: DepthTable) -> list[str]:
    def where_fitting(cells: Sequence[str]) -> list[str]:
        return [cell if best else "-" for cell, best in zip(cells, depths.best, strict=True)]

    series = (depths.static_water_level, depths.fitting, depths.hand_force, depths.time)
    depth, fitting, hand_force, time = (column(one, range(len(depths.best))) for one in series)
    lines = heading("What would fit, by depth to the water")
    lines += table(
        ["depth", "that fit", "best", "hand force", "time"],
        [
            depth,
            fitting,
            ["", *where_fitting(depths.best)],
            [hand_force[0], *where_fitting(hand_force[1:])],
            [time[0], *where_fitting(time[1:])],
        ],
    )
    return lines


def _curve(curve: FillColumns) -> list[str]:
    lines = heading("Filling the tank, from start to end")
    lines += paragraph(
        "A stroke is one full up and down of the handle. Strokes and time count from the start."
    )
    lines.append("")
    in_tank = [("pressure", curve.pressure)] if any(curve.pressure.values) else []
    return lines + thinned(
        [
            *in_tank,
            ("water", curve.water),
            ("strokes", curve.strokes),
            ("time", curve.time),
            ("hand force", curve.hand_force),
            ("strokes", curve.cadence),
        ]
    )


def _one_fill(sizing: Sizing, chosen: Candidate | None) -> list[str]:
    if sizing.reserve is None or chosen is None:
        return []
    reserve, fill, effort = sizing.reserve, chosen.fill, chosen.effort
    lines = heading("What one fill gives")
    fall = f" while the pressure falls from {said(reserve.from_pressure)} to {said(reserve.to_pressure)}"
    lines += paragraph(
        f"{said(reserve.water)} that can be used{'' if _open(chosen) else fall}. Pumping it in takes "
        f"{fill.strokes:,.0f} strokes and {said(fill.time)}, rests included; at the end the handle needs "
        f"{said(effort.hand_force)}."
    )
    if reserve.covers:
        lines.append("It covers one of these:")
    for use in reserve.covers:
        count = use.count // 1 if use.count >= 1 else use.count
        lines += paragraph(f"{figure(count)} {use.text}", "  - ")
    for finding in reserve.findings:
        lines += paragraph(finding.text)
    return lines


def _parts(sizing: Sizing) -> list[str]:
    if not sizing.parts:
        return []
    lines = heading("What to quote")
    for part in sizing.parts:
        price = f", {part.price:,.2f} {part.currency or ''}".rstrip() if part.price is not None else ""
        wait = f", {part.lead_time_days} days" if part.lead_time_days is not None else ""
        lines += paragraph(f"{part.quantity} x {part.name} ({part.sku}{price}{wait})", "  - ")
    return lines


def _cautions(cautions: Sequence[Caution]) -> list[str]:
    if not cautions:
        return []
    lines = heading("Cautions, worst first")
    lines += paragraph(
        "Danger and warning: people could be killed or badly hurt. Caution: people could be hurt. Notice: "
        "something could break or go wrong."
    )
    lines.append("")
    for caution in sorted(cautions, key=_severity):
        lines += paragraph(caution.text, f"{caution.signal.upper():<9}")
        lines += paragraph(f"Why: {caution.why}", " " * 9)
        lines += paragraph(f"Who: {caution.who}", " " * 9)
    return lines


def _severity(caution: Caution) -> int:
    """Rank of the signal word; words that this version doesn't know come first, to be on the safe side."""
    return _SIGNAL_WORDS.index(caution.signal) if caution.signal in _SIGNAL_WORDS else -1


def _assumptions(sizing: Sizing) -> list[str]:
    if not sizing.assumptions:
        return []
    lines = heading("Assumed, because nobody said")
    for basis in dict.fromkeys(assumption.basis for assumption in sizing.assumptions):
        for assumption in sizing.assumptions:
            if assumption.basis == basis:
                lines += paragraph(assumption.text, "  - ")
        lines += paragraph(f"Basis: {basis}", "    ")
    return lines


def _questions(sizing: Sizing) -> list[str]:
    if not sizing.questions:
        return []
    lines = heading("What to ask next, most useful first")
    for position, question in enumerate(sizing.questions, 1):
        said_of_it = (question.text, question.why, question.consequence or "")
        lines += paragraph(" ".join(said_of_it), f"{position:>3}. ")
    return lines
