"""Reading facts: what the caller gave, in SI units, and what was assumed in place of the rest."""

from typing import NamedTuple, TypeVar

import msgspec
from msgspec import UNSET, UnsetType

from upstroke_service.contract.facts import Answer
from upstroke_service.contract.problems import ProblemError
from upstroke_service.contract.quantities import Quantity
from upstroke_service.sizing import defaults
from upstroke_service.wording import said

from .bounds import to_si
from .problems import RequestProblem

T = TypeVar("T", bound=msgspec.Struct)


class Assumed(NamedTuple):
    """An assumption: the row of the table of defaults, where the fact is missing, and the value used.

    ``value`` is in SI units; None where the wording says it all. ``other`` is a second number of the
    same assumption.
    """

    field: str
    pointer: str
    value: float | None = None
    other: float | None = None


class Reading:
    """One request being read: collects assumptions and contradictions along the way."""

    def __init__(self) -> None:
        """Start with nothing assumed and nothing contradictory."""
        self.assumed: dict[str, Assumed] = {}
        self.contradictions: list[ProblemError] = []

    def required(self, quantity: Quantity) -> float:
        """SI value of a quantity that the schema requires."""
        return to_si(quantity)

    def given(self, quantity: Quantity | UnsetType) -> float | None:
        """SI value of a quantity, or None where it was left out."""
        return None if quantity is UNSET else to_si(quantity)

    def number(self, quantity: Quantity | float | UnsetType, field: str, pointer: str | None = None) -> float:
        """SI value of a fact, or the default of ``field``, noted as an assumption."""
        if quantity is UNSET:
            value = defaults.number(field)
            self.assume(field, value, pointer=pointer)
            return value
        return to_si(quantity) if isinstance(quantity, Quantity) else float(quantity)

    def assume(
        self,
        field: str,
        value: float | None = None,
        *,
        other: float | None = None,
        pointer: str | None = None,
    ) -> None:
        """Note an assumption, once for each missing fact."""
        self.assumed.setdefault(pointer or field, Assumed(field, pointer or field, value, other))

    def contradict(self, code: str, *pointers: str, **words: str) -> None:
        """Note that the facts at ``pointers`` can't all be true; ``code`` has a wording, with ``words`` in it."""
        detail = said("contradiction", code, **words)
        self.contradictions.extend(ProblemError(pointer=pointer, detail=detail) for pointer in pointers)

    def close(self) -> None:
        """Raise RequestProblem 'contradictory-facts' where any were noted."""
        if self.contradictions:
            raise RequestProblem(
                "contradictory-facts",
                said("fault", "contradictory"),
                self.contradictions,
            )


def known(answer: Answer | UnsetType) -> Answer:
    """An answer, where leaving it out means 'unknown'."""
    return "unknown" if answer is UNSET else answer


def block(value: T | UnsetType, kind: type[T]) -> T:
    """A block of facts, or one without any facts where it was left out."""
    return kind() if value is UNSET else value
