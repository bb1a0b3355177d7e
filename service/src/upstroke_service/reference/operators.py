"""Who pumps: power, hand force, cadence and session of a few kinds of people.

A profile holds round figures for planning; nobody in particular was measured. Forces come from
ergonomic limits, which protect most of a group rather than describe its middle. Powers come from what
people keep up, brought down from legs to arms, with age by its law and with youth by body mass.
"""

from collections.abc import Iterator, Mapping
from typing import Annotated, Final

import msgspec

from .sources import require_known
from .table import Positive, Row, Text, read


class Figure(Row, frozen=True):
    """One figure of a profile with the keys of the ``sources`` that it rests on."""

    value: Positive
    sources: Annotated[tuple[Text, ...], msgspec.Meta(min_length=1)]


class OperatorProfile(Row, frozen=True):
    """What one kind of person can do at a pump handle.

    ``power_at_fifteen_minutes`` W is mechanical power at the handle, kept up for a quarter of an hour;
    ``hand_force_limit`` N at the grip for short work, ``repeated_hand_force`` N again and again;
    ``strokes_per_minute`` is the preferred cadence in full cycles; ``longest_session`` s.
    """

    power_at_fifteen_minutes: Figure
    hand_force_limit: Figure
    repeated_hand_force: Figure
    strokes_per_minute: Figure
    longest_session: Figure

    @property
    def cadence(self) -> float:
        """Preferred cadence in full cycles per second."""
        return self.strokes_per_minute.value / 60.0

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure with its name."""
        return ((name, getattr(self, name)) for name in self.__struct_fields__)


_FILE = "operators.toml"

PROFILES: Final[Mapping[str, OperatorProfile]] = read(_FILE, dict[str, OperatorProfile])
"""Profiles of operators by name."""

require_known(
    _FILE, (key for one in PROFILES.values() for _, figure in one.figures() for key in figure.sources)
)


def profile(name: str) -> OperatorProfile:
    """The profile of that ``name``; raises KeyError where there is none."""
    return PROFILES[name]
