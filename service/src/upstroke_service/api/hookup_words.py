"""Presenting ways to connect: rules that apply become sentences with their numbers."""

import functools
from typing import Any

from msgspec import UNSET

from upstroke_service.contract import answered
from upstroke_service.contract.answers import Question
from upstroke_service.contract.hookup_ways import (
    HookupPart,
    HookupPlan,
    HookupPoint,
    HookupStep,
    HookupTask,
    HookupWay,
    RefusedHookup,
)
from upstroke_service.contract.quantities import Head, Pressure, Size
from upstroke_service.reference.sources import source
from upstroke_service.sizing import hookups
from upstroke_service.sizing.hookups import Asked, Decision, Judged

from .style import Kind, Style

KINDS: dict[str, Kind] = {
    "air_gap": Size,
    "casing_room": Size,
    "distance": Head,
    "frost_depth": Head,
    "gauge_range": Pressure,
    "hose_length": Head,
    "hose_rating": Pressure,
    "limit": Pressure,
    "relief_setting": Pressure,
    "rise": Head,
    "start": Pressure,
    "stop": Pressure,
    "target": Pressure,
}
"""Kind of output of each number that a rule may name."""


def way(judged: Judged, style: Style) -> HookupWay:
    """A way that is allowed, without its steps."""
    return HookupWay(**_way(judged, style))


def plan(judged: Judged, rank: int, style: Style) -> HookupPlan:
    """A way that is allowed, with its steps."""
    return HookupPlan(rank=rank, steps=steps(judged, style), **_way(judged, style))


def steps(judged: Judged, style: Style) -> list[HookupStep]:
    """What to do, in order."""
    return [
        HookupStep(number=number, phase=row.phase, **_task("step", row, judged, style))
        for number, row in enumerate(judged.steps, 1)
    ]


def refused(judged: Judged, style: Style) -> RefusedHookup:
    """A way that is not advised."""
    return RefusedHookup(**_place(judged, style), grounds=_tasks("refusal", judged.refusals, judged, style))


def name(judged: Judged, style: Style) -> str:
    """What a way connects to, in words."""
    return style.words.say("hookup_way", judged.way)


def question(asked: Asked, decision: Decision, style: Style) -> Question:
    """A question; one about a connection names it."""
    section = f"hookup_question.{asked.pointer}"
    place = "" if asked.index is None else _listed(asked.index, decision, style)
    return Question(
        pointer=asked.pointer.replace("*", str(asked.index)),
        text=style.words.say(section, "text", place=place),
        why=style.words.say(section, "why"),
        effect=asked.effect,
    )


def _listed(index: int, decision: Decision, style: Style) -> str:
    """A listed connection in words, with its number where there are several of its kind."""
    listed = [one for one in (*decision.ways, *decision.refused) if one.index is not None]
    kind = next(one.way for one in listed if one.index == index)
    alone = sum(one.way == kind for one in listed) == 1
    said = style.words.say("hookup_way", kind)
    return said if alone else style.words.say("hookup_place", "numbered", way=said, number=index + 1)


def _way(judged: Judged, style: Style) -> dict[str, Any]:
    return {
        **_place(judged, style),
        "text": style.words.say("hookup_about", judged.way),
        "verdict": judged.verdict,
        "conditions": _tasks("condition", judged.conditions, judged, style),
        "advantages": [HookupPoint(**_point("advantage", row, judged, style)) for row in judged.advantages],
        "drawbacks": [HookupPoint(**_point("drawback", row, judged, style)) for row in judged.drawbacks],
        "checks": _tasks("check", judged.checks, judged, style),
        "parts": [_part(row, judged, style) for row in judged.parts],
    }


def _place(judged: Judged, style: Style) -> dict[str, Any]:
    connection = UNSET if judged.index is None else judged.index
    return {"way": judged.way, "name": name(judged, style), "connection": connection}


def _tasks(table: str, rows: tuple[hookups.Task, ...], judged: Judged, style: Style) -> list[HookupTask]:
    return [HookupTask(**_task(table, row, judged, style)) for row in rows]


def _task(table: str, row: hookups.Task, judged: Judged, style: Style) -> dict[str, Any]:
    if not row.value:
        return _plain_task(table, row.code, row.basis, row.who, style)
    return {**_point(table, row, judged, style), "who": style.words.say("hookup_who", row.who)}


@functools.cache
def _plain_task(table: str, code: str, basis: tuple[str, ...], who: str, style: Style) -> dict[str, Any]:
    """Fields of a task without numbers: always the same."""
    return {**_plain(table, code, basis, style), "who": style.words.say("hookup_who", who)}


def _point(table: str, row: hookups.Point, judged: Judged, style: Style) -> dict[str, Any]:
    """Fields of a point: each number that the row names, as text in the sentence and beside it."""
    if not row.value:
        return _plain(table, row.code, row.basis, style)
    named = {key: figure for key, figure in (("value", row.value), ("limit", row.limit)) if figure}
    numbers = {key: style.number(KINDS[figure], judged.figures[figure]) for key, figure in named.items()}
    texts = {key: style.text(KINDS[figure], judged.figures[figure]) for key, figure in named.items()}
    return {
        "code": row.code,
        "text": style.words.say(f"hookup_{table}", row.code, **texts),
        "unit": style.unit(KINDS[row.value]),
        "basis": _basis(row.basis),
        **numbers,
    }


@functools.cache
def _plain(table: str, code: str, basis: tuple[str, ...], style: Style) -> dict[str, Any]:
    """Fields of a point without numbers: always the same."""
    return {"code": code, "text": style.words.say(f"hookup_{table}", code), "basis": _basis(basis)}


def _part(row: hookups.Part, judged: Judged, style: Style) -> HookupPart:
    named = {key: figure for key, figure in (("length", row.length), ("rating", row.rating)) if figure}
    texts = {key: style.text(KINDS[figure], judged.figures[figure]) for key, figure in named.items()}
    return HookupPart(
        code=row.code,
        text=style.words.say("hookup_part", row.code, **texts),
        quantity=row.quantity,
        length=style.measured(Head, judged.figures[row.length]) if row.length else UNSET,
        pressure=style.measured(Pressure, judged.figures[row.rating]) if row.rating else UNSET,
        basis=_basis(row.basis),
    )


@functools.cache
def _basis(keys: tuple[str, ...]) -> list[answered.Source]:
    return [answered.Source(key=key, citation=source(key).citation) for key in keys]
