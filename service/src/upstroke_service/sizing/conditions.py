"""Conditions of rules that are data: which named circumstances must hold, and which must not."""

from collections.abc import Collection

import msgspec


class Condition(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a rule asks of the circumstances; one that names none always applies.

    ``all`` must hold, and of ``any`` at least one where any are listed. "not X" is the absence of X.
    """

    all: tuple[str, ...] = ()
    any: tuple[str, ...] = ()

    def applies(self, circumstances: Collection[str]) -> bool:
        """Whether these circumstances meet the condition."""
        return all(_holds(name, circumstances) for name in self.all) and (
            not self.any or any(_holds(name, circumstances) for name in self.any)
        )

    def circumstances(self) -> set[str]:
        """The circumstances that the condition names."""
        return {name.removeprefix("not ") for name in (*self.all, *self.any)}


def require_known(rule: str, condition: Condition, known: Collection[str]) -> None:
    """Raise ValueError, naming ``rule``, where its condition names circumstances that are not ``known``."""
    unknown = condition.circumstances() - set(known)
    if unknown:
        raise ValueError(f"{rule} names unknown circumstances: {', '.join(sorted(unknown))}")


def _holds(name: str, circumstances: Collection[str]) -> bool:
    if name.startswith("not "):
        return name.removeprefix("not ") not in circumstances
    return name in circumstances
