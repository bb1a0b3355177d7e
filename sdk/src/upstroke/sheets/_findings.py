"""What the workbook says of a site, picked from the answer: small enough to keep for thousands of sites."""

from collections.abc import Callable
from typing import Final, TypeAlias

from msgspec import Struct, field

from upstroke._models import Candidate, Sizing
from upstroke._quantity import Quantity

Value: TypeAlias = Quantity | str | float | bool | None


class Note(Struct, frozen=True):
    """An assumption, a caution or a question."""

    kind: str
    code: str
    signal: str
    text: str
    why: str
    who: str


class Findings(Struct, frozen=True):
    """What is kept of one answer.

    Attributes:
        summary: columns of SUMMARY; empty where the service refused the facts.
        candidates: each with the columns of CANDIDATE, best first.
        notes: cautions, assumptions and questions, in the answer's order.
        scope: what the answer is, and what it is not.
        catalogue: the catalogue it rests on, in words.
        refused: JSON Pointer and reason of every fact that the service refused.
    """

    summary: list[Value] = field(default_factory=list["Value"])
    candidates: list[list[Value]] = field(default_factory=list["list[Value]"])
    notes: list[Note] = field(default_factory=list["Note"])
    scope: str = ""
    catalogue: str = ""
    refused: list[tuple[str, str]] = field(default_factory=list["tuple[str, str]"])


SUMMARY: Final[dict[str, Callable[[Sizing], Value]]] = {
    "Verdict": lambda sizing: sizing.verdict,
    "Summary": lambda sizing: sizing.summary,
    "Cylinders that fit": lambda sizing: float(
        sum(one.outcome != "does_not_fit" for one in sizing.candidates)
    ),
    "Signal word": lambda sizing: sizing.cautions[0].signal if sizing.cautions else None,
    "Cautions": lambda sizing: float(len(sizing.cautions)),
    "Assumptions": lambda sizing: float(len(sizing.assumptions)),
    "Ask first": lambda sizing: sizing.questions[0].text if sizing.questions else None,
    "Model version": lambda sizing: sizing.model_version,
    "Calculation": lambda sizing: sizing.calculation_id,
}
"""Columns about the whole answer."""

CANDIDATE: Final[dict[str, Callable[[Candidate], Value]]] = {
    "Cylinder": lambda one: one.cylinder.id,
    "Cylinder's name": lambda one: one.cylinder.name,
    "Outcome": lambda one: one.outcome,
    "Governed by": lambda one: one.governed_by,
    "Total head": lambda one: one.lift_budget.total_head,
    "Rated lift": lambda one: one.lift_budget.rated_lift,
    "Margin": lambda one: one.lift_budget.margin,
    "Ceiling": lambda one: one.ceiling.pressure,
    "Pressure at the start": lambda one: one.fill.start,
    "Pressure at the end": lambda one: one.fill.end,
    "Reaches the target": lambda one: one.fill.reaches_target,
    "Water": lambda one: one.fill.water,
    "Strokes": lambda one: one.fill.strokes,
    "Time": lambda one: one.fill.time,
    "Work": lambda one: one.fill.work,
    "Hand force": lambda one: one.effort.hand_force,
    "Power": lambda one: one.effort.power,
    "Kind of pump": lambda one: one.cylinder.kind,
    "Bore": lambda one: one.cylinder.bore,
    "Stroke": lambda one: one.cylinder.stroke,
    "Reasons": lambda one: " ".join(reason.text for reason in one.reasons),
}
"""Columns about one cylinder at one site."""

RECOMMENDED: Final = "Recommended"
"""Column in front of those about one cylinder."""


def pick(sizing: Sizing) -> Findings:
    """What the workbook says of an answer."""
    notes = [Note("caution", one.code, one.signal, one.text, one.why, one.who) for one in sizing.cautions]
    notes += [Note("assumption", one.pointer, "", one.text, one.basis, "") for one in sizing.assumptions]
    notes += [Note("question", one.pointer, "", one.text, one.why, "") for one in sizing.questions]
    used = sizing.catalogue
    return Findings(
        [read(sizing) for read in SUMMARY.values()],
        [
            [one.cylinder.id == sizing.recommended, *(read(one) for read in CANDIDATE.values())]
            for one in sizing.candidates
        ],
        notes,
        sizing.scope,
        f"{used.name}: {used.notice}" if used.notice else used.name,
    )
