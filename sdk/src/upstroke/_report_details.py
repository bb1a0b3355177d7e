"""Parts of the page that plan the work: what makes it lighter, its sessions, a day's water, the hookup."""

from collections.abc import Sequence
from itertools import groupby

from ._columns import Series
from ._layout import figure, heading, paragraph, said, table, thinned, words
from ._models import (
    DailyNeeds,
    HookupPoint,
    HookupStep,
    HookupTask,
    HookupWay,
    Inertia,
    SessionPlan,
    Stretch,
)


def inertia(found: Inertia) -> list[str]:
    """What inertia takes and what would help; nothing where it doesn't govern."""
    if not found.governs:
        return []
    lines = heading("What would make pumping lighter")
    lines += paragraph(
        "Every stroke has to set the water in the pipes moving. At the end of a fill that takes up to "
        f"{said(found.hand_force)} of the force at the handle."
    )
    for remedy in found.remedies:
        lines += paragraph(remedy.text, "  - ")
    return lines


def stretch(found: Stretch) -> list[str]:
    """What stretch takes and other materials would leave; nothing where it doesn't matter."""
    if not found.choices:
        return []
    lines = heading("What stretch takes of the stroke")
    lines += paragraph(
        f"As the load comes and goes, the rod stretches by {said(found.rod)} and the drop pipe by "
        f"{said(found.drop_pipe)}: {said(found.effective_stroke)} of the stroke is left. With materials of the "
        "same dimensions:"
    )
    lines.append("")
    return lines + table(
        ["rod", "drop pipe", "stroke left", "share"],
        [
            [_material(choice.rod_material) for choice in found.choices],
            [_material(choice.drop_pipe_material) for choice in found.choices],
            [said(choice.effective_stroke) for choice in found.choices],
            [f"{figure(100.0 * choice.share)}%" for choice in found.choices],
        ],
    )


def _material(code: str) -> str:
    return words(code).replace("pvc", "PVC")


def sessions(plan: SessionPlan) -> list[str]:
    """A fill divided into sessions; nothing where one is enough."""
    if plan.count == 1:
        return []
    lines = heading("Sessions at the pump")
    for finding in plan.findings:
        lines += paragraph(finding.text)
    lines.append("")
    columns = plan.sessions
    numbers = Series(unit="1", values=tuple(float(at) for at in range(1, len(columns.time.values) + 1)))
    in_tank = [("pressure", columns.pressure)] if any(columns.pressure.values) else []
    return lines + thinned(
        [
            ("session", numbers),
            *in_tank,
            ("water", columns.water),
            ("strokes", columns.strokes),
            ("time", columns.time),
            ("body burns", columns.body_energy),
        ]
    )


def daily_needs(needs: DailyNeeds) -> list[str]:
    """Who and what needs water every day, and how much pumping that is."""
    lines = heading("Water for every day")
    lines += paragraph(needs.summary)
    for line in needs.lines:
        lines += paragraph(f"{line.text}. {line.varies or ''}".rstrip(), "  - ")
    for finding in needs.findings:
        lines += paragraph(finding.text)
    return lines


def hookup(way: HookupWay, steps: Sequence[HookupStep]) -> list[str]:
    """The best way to connect the pump, and the steps in order, each with who may do it."""
    lines = heading("How to connect it")
    condition = "" if way.verdict == "advised" else ", if its conditions are met"
    lines += paragraph(f"Best here{condition}: {way.name}. {way.text}")
    lines += _points("For it:", way.advantages)
    lines += _points("Against it:", way.drawbacks)
    lines += _tasks("Conditions, every one of which has to be met", way.conditions)
    lines += _tasks("Checks before any work", way.checks)
    if way.parts:
        lines += ["", "To have at hand:"]
    for part in way.parts:
        lines += paragraph(f"{part.quantity} x {part.text}", "  - ")
    for (phase, who), group in groupby(steps, key=lambda step: (step.phase, step.who)):
        lines += ["", *paragraph(f"{words(phase).capitalize()}. {_lead(who)}")]
        for step in group:
            lines += paragraph(step.text, f"{step.number:>3}. ")
    return lines


def _points(label: str, points: Sequence[HookupPoint]) -> list[str]:
    return paragraph(" ".join([label, *(point.text for point in points)])) if points else []


def _tasks(label: str, tasks: Sequence[HookupTask]) -> list[str]:
    """What is to be seen to, gathered by who may do it."""
    lines: list[str] = []
    for who in dict.fromkeys(task.who for task in tasks):
        lines += ["", *paragraph(f"{label}. {_lead(who)}")]
        for task in tasks:
            if task.who == who:
                lines += paragraph(task.text, "  - ")
    return lines


def _lead(who: str) -> str:
    """Who may do it, leading a list of what."""
    return who.removesuffix(".") + ":"
