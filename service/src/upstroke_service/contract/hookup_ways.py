"""Ways to join a hand pump to a household's water: what answers say of each."""

from typing import Annotated, Literal

from msgspec import UNSET, UnsetType

from .answered import Answered, Source
from .description import about
from .quantities import Head, Pressure


class HookupPoint(Answered, frozen=True, kw_only=True):
    """Something to know about a way, in a sentence that can be forwarded, with its numbers beside it."""

    code: Annotated[str, about("Stable code; more may come.")]
    text: Annotated[str, about("The sentence.")]
    value: Annotated[float, about("The number in it.")] | UnsetType = UNSET
    limit: Annotated[float, about("What the number is held against.")] | UnsetType = UNSET
    unit: Annotated[str, about("Unit of both.")] | UnsetType = UNSET
    basis: Annotated[list[Source], about("What it rests on.")]


class HookupTask(HookupPoint, frozen=True, kw_only=True):
    """Something to see to, and who may do it."""

    who: Annotated[str, about("Who may do it, and where local code or a licensed trade decides.")]


class HookupStep(HookupTask, frozen=True, kw_only=True):
    """A step of the work."""

    number: Annotated[int, about("Its place in the order, from 1.")]
    phase: Annotated[
        Literal["prepare", "connect", "pump", "disconnect", "restore"],
        about("Part of the work; 'restore' undoes what was prepared, in reverse order."),
    ]


class HookupPart(Answered, frozen=True, kw_only=True):
    """A part to have at hand, of no particular make."""

    code: Annotated[str, about("Stable code; more may come.")]
    text: Annotated[str, about("What it is, what it has to stand, and where it goes.")]
    quantity: Annotated[int, about("How many of it.")]
    length: Annotated[Head, about("Length to buy, where the way's length is known.")] | UnsetType = UNSET
    pressure: Annotated[Pressure, about("Least pressure rating; of a gauge its range.")] | UnsetType = UNSET
    basis: Annotated[list[Source], about("What it rests on.")]


class HookupWay(Answered, frozen=True, kw_only=True):
    """A way to connect that these facts allow."""

    way: Annotated[
        str,
        about("What to connect to: tee, tank_drain, yard_hydrant, spigot, or open_end; more may come."),
    ]
    name: Annotated[str, about("The same in words.")]
    text: Annotated[str, about("How it works.")]
    connection: (
        Annotated[int, about("Index in the request's site.connections; left out where none is listed.")]
        | UnsetType
    ) = UNSET
    verdict: Annotated[
        Literal["advised", "possible_with_conditions"],
        about("'possible_with_conditions': not to be done unless every one of the conditions is met."),
    ]
    conditions: Annotated[list[HookupTask], about("What has to be true or done first.")]
    advantages: Annotated[list[HookupPoint], about("What speaks for it.")]
    drawbacks: Annotated[list[HookupPoint], about("What speaks against it.")]
    checks: Annotated[list[HookupTask], about("What to look at before any work, at the well too.")]
    parts: Annotated[list[HookupPart], about("What to have at hand.")]


class HookupPlan(HookupWay, frozen=True, kw_only=True):
    """A way to connect, with the steps to take."""

    rank: Annotated[int, about("1 is the best of the ways.")]
    steps: Annotated[list[HookupStep], about("What to do, in order.")]


class RefusedHookup(Answered, frozen=True, kw_only=True):
    """A way to connect that must not be used here."""

    way: Annotated[str, about("What it would connect to, as in the ways.")]
    name: Annotated[str, about("The same in words.")]
    connection: (
        Annotated[int, about("Index in the request's site.connections; left out where none is listed.")]
        | UnsetType
    ) = UNSET
    grounds: Annotated[list[HookupTask], about("Why not, and who alone may change that.")]
