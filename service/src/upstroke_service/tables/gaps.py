"""What rows leave out and what can't be true of them: assumptions and contradictions, as flags of rows."""

import numpy as np

from upstroke_service.physics.real import Real
from upstroke_service.sizing import defaults
from upstroke_service.sizing.facts import Flags

from .facts import Facts, either

NOWHERE: Flags = np.asarray(False)  # noqa: FBT003 - the flag of no row
EVERYWHERE: Flags = np.asarray(True)  # noqa: FBT003 - the flag of every row


class Gaps:
    """The facts of a batch being read: collects assumptions and contradictions along the way."""

    def __init__(self, facts: Facts) -> None:
        """Start with nothing assumed and nothing contradictory."""
        self.facts = facts
        self.assumed: dict[str, Flags] = {}
        """Rows in which a fact is assumed, by its pointer."""
        self.contradictions: list[tuple[str, Flags]] = []
        """Rows in which the fact at a pointer contradicts another one, in the order in which a request notes them."""

    def known(self, pointer: str) -> Flags:
        """Where a fact is known."""
        return self.facts[pointer].known

    def given(self, pointer: str, otherwise: Real) -> Real:
        """A fact where it is known, else what is given ``otherwise``; nothing is noted."""
        fact = self.facts[pointer]
        return either(fact.known, fact.value, otherwise)

    def number(self, pointer: str, where: Flags = EVERYWHERE) -> Real:
        """A fact, or its default: noted as an assumption of the rows ``where`` it matters."""
        self.assume(pointer, where & ~self.known(pointer))
        return self.given(pointer, defaults.number(pointer))

    def assume(self, pointer: str, where: Flags) -> None:
        """Note an assumption of some rows."""
        self.assumed[pointer] = np.asarray(self.assumed.get(pointer, NOWHERE) | where)

    def contradict(self, where: Flags, *pointers: str) -> None:
        """Note that the facts at ``pointers`` can't all be true in some rows."""
        if np.any(where):
            self.contradictions += [(pointer, np.asarray(where)) for pointer in pointers]
