"""How numbers leave: in the units of one system, rounded once, and as text."""

import functools
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from upstroke_service.contract.answers import Series
from upstroke_service.contract.quantities import (
    Exertion,
    HandForce,
    Head,
    Measured,
    Minutes,
    Pressure,
    Size,
    StrokeRate,
    StrokeVolume,
    Temperature,
    WaterVolume,
    Work,
)
from upstroke_service.physics.real import Array, Real
from upstroke_service.units import UNITS, System, Unit, significant
from upstroke_service.wording import Wording, wording

Kind = type[Measured]

# Digits behind the decimal point in sentences, in the 'us' and the 'si' system.
_DIGITS: dict[Kind, tuple[int, int]] = {
    Head: (0, 1),
    Size: (2, 0),
    Pressure: (0, 0),
    WaterVolume: (1, 0),
    StrokeVolume: (1, 0),
    HandForce: (0, 0),
    Minutes: (0, 0),
    StrokeRate: (0, 0),
    Work: (1, 0),
    Exertion: (0, 0),
    Temperature: (0, 0),
}
_SPELLED = {"degF": "°F", "degC": "°C", "fl_oz": "fl oz", "1/min": "per minute"}


class Style(NamedTuple):
    """The unit system and the language of an answer."""

    system: System
    words: Wording

    @property
    def index(self) -> int:
        """Place of the system's unit in ``Measured.units``."""
        return 0 if self.system == "us" else 1

    def unit(self, kind: Kind) -> str:
        """Name of the unit of a kind of output."""
        return kind.units[self.index]

    def factor(self, kind: Kind) -> Unit:
        """The unit of a kind of output."""
        return UNITS[kind.dimension][self.unit(kind)]

    def number(self, kind: Kind, value: float) -> float:
        """An SI ``value`` in the output unit, to 6 significant digits."""
        return float(significant(np.asarray(self.factor(kind).from_si(value)))) + 0.0

    def text(self, kind: Kind, value: float) -> str:
        """An SI ``value`` as text with its unit, rounded for reading."""
        return spelled(self.factor(kind).from_si(value), self.unit(kind), _DIGITS[kind][self.index])

    def series(self, kind: Kind, values: Array) -> Series:
        """A column of SI ``values``."""
        unit = self.factor(kind)
        return Series(
            unit=self.unit(kind), values=(significant((values - unit.offset) / unit.scale) + 0.0).tolist()
        )

    def rows(self, columns: Sequence[tuple[Kind, Real]], count: int) -> list[list[Measured]]:
        """Columns of SI values, one or ``count`` long, as rows of quantities: rounded in one go."""
        values = np.empty((len(columns), count))
        for row, (_, column) in zip(values, columns, strict=True):
            row[:] = np.reshape(column, -1)
        kinds = [kind for kind, _ in columns]
        units = [self.factor(kind) for kind in kinds]
        scales = np.array([[unit.scale] for unit in units])
        offsets = np.array([[unit.offset] for unit in units])
        names = [self.unit(kind) for kind in kinds]
        rounded = (significant((values - offsets) / scales) + 0.0).T.tolist()
        return [
            [kind(value, name) for kind, value, name in zip(kinds, row, names, strict=True)]  # type: ignore[call-arg]
            for row in rounded
        ]

    def measured(self, kind: Kind, value: float) -> Measured:
        """One SI ``value`` as a quantity."""
        return kind(self.number(kind, value), self.unit(kind))  # type: ignore[call-arg]


def spelled(value: float, unit: str, digits: int) -> str:
    """A number with its unit, without a minus before zero."""
    number = f"{round(value, digits) + 0.0:,.{digits}f}"
    return f"{number} {_SPELLED.get(unit, unit)}"


def duration(seconds: float) -> str:
    """A duration as people say it."""
    minutes = seconds / 60.0
    if minutes < 1.0:
        return f"{max(round(seconds), 1)} seconds"
    if minutes < 90.0:  # noqa: PLR2004 - an hour and a half is still said in minutes
        rounded = round(minutes)
        return "1 minute" if rounded == 1 else f"{rounded} minutes"
    return f"{minutes / 60.0:.1f} hours"


@functools.cache
def style(system: System, language: str) -> Style:
    """The style of an answer in a unit system and a language."""
    return Style(system, wording(language))
