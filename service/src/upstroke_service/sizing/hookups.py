"""How a hand pump may be joined to a household's water: rules as data over named circumstances.

Nothing here knows what a hydrant is: ways, what is never advised, conditions, checks, parts and steps are
rows of ``hookups.toml``, which are checked when they are read.
"""

import functools
from collections.abc import Iterable, Sequence
from importlib import resources
from typing import Any, Literal, TypeVar

import msgspec

from upstroke_service.reference import sources, table

from .conditions import Condition, require_known
from .hookup_circumstances import CIRCUMSTANCES, FIGURES, Outlet, Premises, figures, of_outlet, of_premises

Phase = Literal["prepare", "connect", "pump", "disconnect", "restore"]
Verdict = Literal["advised", "possible_with_conditions", "not_advised"]
Effect = Literal["verdict", "safety", "figures"]
Who = Literal[
    "anyone",
    "owner",
    "owner_or_plumber",
    "owner_or_electrician",
    "plumber",
    "plumber_with_supplier",
    "well_contractor",
]

FILE = "hookups.toml"
PHASES: tuple[Phase, ...] = ("prepare", "connect", "pump", "disconnect", "restore")


class Row(Condition, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A row that applies to some ways (to all where none are named) under its circumstances."""

    ways: tuple[str, ...] = ()

    def concerns(self, way: str, circumstances: frozenset[str]) -> bool:
        """Whether the row applies to a way under these circumstances."""
        return (not self.ways or way in self.ways) and self.applies(circumstances)


class Way(Condition, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something to connect to, offered under its circumstances."""

    code: str


class Place(Condition, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A place in the order of preference that a way takes under its circumstances."""

    way: str


class Point(Row, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something to say of a way, with the numbers that it names."""

    code: str
    basis: tuple[str, ...]
    value: str = ""
    limit: str = ""


class Task(Point, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something to see to, and who may do it."""

    who: Who


class Step(Task, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A step of the work."""

    phase: Phase


class Part(Row, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A part, with the numbers that say how long it is and what pressure it must stand or show."""

    code: str
    basis: tuple[str, ...]
    quantity: int = 1
    length: str = ""
    rating: str = ""


class Question(Row, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A fact to ask for; "*" in the pointer stands for the index of a connection."""

    pointer: str
    effect: Effect


class Book(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """All the rules, each kind in its order."""

    way: tuple[Way, ...]
    place: tuple[Place, ...]
    refusal: tuple[Task, ...]
    condition: tuple[Task, ...]
    advantage: tuple[Point, ...]
    drawback: tuple[Point, ...]
    check: tuple[Task, ...]
    part: tuple[Part, ...]
    step: tuple[Step, ...]
    question: tuple[Question, ...]


class Judged(msgspec.Struct, frozen=True, kw_only=True):
    """One way at one place, judged. ``index`` is that of a listed connection; figures are in SI."""

    way: str
    index: int | None
    outlet: Outlet
    circumstances: frozenset[str]
    figures: dict[str, float]
    refusals: tuple[Task, ...]
    conditions: tuple[Task, ...]
    advantages: tuple[Point, ...]
    drawbacks: tuple[Point, ...]
    checks: tuple[Task, ...]
    parts: tuple[Part, ...]
    steps: tuple[Step, ...]

    @property
    def verdict(self) -> Verdict:
        """Refused by anything: not advised; under conditions: possible with them; else advised."""
        if self.refusals:
            return "not_advised"
        return "possible_with_conditions" if self.conditions else "advised"


class Asked(msgspec.Struct, frozen=True):
    """A question, with the index of the connection that it is about."""

    pointer: str
    effect: Effect
    index: int | None


class Decision(msgspec.Struct, frozen=True):
    """The ways that the premises allow, best first; those that are not advised; what to ask next."""

    ways: tuple[Judged, ...]
    refused: tuple[Judged, ...]
    questions: tuple[Asked, ...]


@functools.cache
def book() -> Book:
    """The rules. Raises ValueError where a row names what does not exist or the order is broken."""
    text = resources.files("upstroke_service.sizing").joinpath(FILE).read_text("utf-8")
    return checked(table.decode(text, FILE, Book))


def checked(rules: Book) -> Book:
    """The rules, once every name in them is known. Raises ValueError with what is wrong."""
    ways = {way.code for way in rules.way}
    for way in rules.way:
        require_known(f"way {way.code}", way, CIRCUMSTANCES)
    for place in rules.place:
        require_known(f"place of {place.way}", place, CIRCUMSTANCES)
    _require_subset("ways with a place", {place.way for place in rules.place}, ways)
    _require_subset("ways", ways, {one.way for one in rules.place if not one.circumstances()})
    tables = (rules.refusal, rules.condition, rules.advantage, rules.drawback, rules.check, rules.step)
    for rows in (*tables, rules.part):
        _require_once(row.code for row in rows)
        for row in rows:
            _require_names(row, row.code, ways)
            sources.require_known(FILE, row.basis)
    for points in tables:
        for point in points:
            _require_subset(f"numbers of {point.code}", {point.value, point.limit} - {""}, FIGURES)
    for part in rules.part:
        _require_subset(f"numbers of {part.code}", {part.length, part.rating} - {""}, FIGURES)
    for question in rules.question:
        _require_names(question, question.pointer, ways)
    places = [PHASES.index(step.phase) for step in rules.step]
    if places != sorted(places):
        raise ValueError(f"{FILE}: steps are not in the order of their phases")
    return rules


def _require_names(row: Row, name: str, ways: set[str]) -> None:
    require_known(name, row, CIRCUMSTANCES)
    _require_subset(f"ways of {name}", set(row.ways), ways)


def _require_subset(what: str, named: set[str], known: Iterable[str]) -> None:
    unknown = sorted(named - set(known))
    if unknown:
        raise ValueError(f"{FILE}: {what}: unknown: {', '.join(unknown)}")


def _require_once(codes: Iterable[str]) -> None:
    found = list(codes)
    if len(found) != len(set(found)):
        raise ValueError(f"{FILE}: a code is used twice: {', '.join(sorted(found))}")


def decide(premises: Premises) -> Decision:
    """Judge every listed connection; where none is listed or allowed, what such premises usually have."""
    shared = of_premises(premises)
    listed = [_judge(premises, shared, one.kind, place) for place, one in enumerate(premises.outlets)]
    usual = [
        _judge(premises, shared, way.code, None)
        for way in book().way
        if way.applies(shared) and way.code not in {one.kind for one in premises.outlets}
    ]
    judged = listed
    if not listed:
        judged = usual
    elif not any(not one.refusals for one in listed):
        judged = listed + [one for one in usual if not one.refusals]
    allowed = tuple(sorted((one for one in judged if not one.refusals), key=_order))
    return Decision(
        ways=allowed,
        refused=tuple(one for one in judged if one.refusals),
        questions=tuple(_questions(frozenset(shared), allowed)),
    )


def _judge(premises: Premises, shared: set[str], way: str, index: int | None) -> Judged:
    outlet = _unlisted(premises, way) if index is None else premises.outlets[index]
    known = figures(premises, outlet)
    own = of_outlet(outlet, stated=index is not None, length_known="hose_length" in known)
    circumstances = frozenset(shared | own)
    return Judged(
        way=way,
        index=index,
        outlet=outlet,
        circumstances=circumstances,
        figures=known,
        **_rows(way, circumstances),
    )


@functools.lru_cache(maxsize=1024)
def _rows(way: str, circumstances: frozenset[str]) -> dict[str, Any]:
    """The rows of each table that apply; cached: there are few combinations, and most requests share them."""
    rules = book()
    return {
        "refusals": _concerning(rules.refusal, way, circumstances),
        "conditions": _concerning(rules.condition, way, circumstances),
        "advantages": _concerning(rules.advantage, way, circumstances),
        "drawbacks": _concerning(rules.drawback, way, circumstances),
        "checks": _concerning(rules.check, way, circumstances),
        "parts": _concerning(rules.part, way, circumstances),
        "steps": _concerning(rules.step, way, circumstances),
    }


def _unlisted(premises: Premises, way: str) -> Outlet:
    return next((one for one in premises.unlisted if one.kind == way), Outlet(kind=way))


RowOf = TypeVar("RowOf", bound=Row)


def _concerning(rows: Sequence[RowOf], way: str, circumstances: frozenset[str]) -> tuple[RowOf, ...]:
    return tuple(row for row in rows if row.concerns(way, circumstances))


def _order(judged: Judged) -> tuple[float, ...]:
    """Best first: advised, not far, by preference, under few conditions, nearest, lowest, as listed."""
    outlet = judged.outlet
    preference = next(
        number
        for number, place in enumerate(book().place)
        if place.way == judged.way and place.applies(judged.circumstances)
    )
    return (
        judged.verdict != "advised",
        "far" in judged.circumstances,
        preference,
        len(judged.conditions),
        float("inf") if outlet.distance is None else outlet.distance,
        float("inf") if outlet.rise is None else outlet.rise,
        -1 if judged.index is None else judged.index,
    )


def _questions(shared: frozenset[str], allowed: Sequence[Judged]) -> Iterable[Asked]:
    """Questions about the premises, and about those listed connections that are not ruled out."""
    for question in book().question:
        if "*" not in question.pointer:
            if question.applies(shared):
                yield Asked(question.pointer, question.effect, None)
            continue
        for one in sorted(allowed, key=lambda one: -1 if one.index is None else one.index):
            if one.index is not None and question.concerns(one.way, one.circumstances):
                yield Asked(question.pointer, question.effect, one.index)
