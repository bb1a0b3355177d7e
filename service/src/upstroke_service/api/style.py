"""How numbers leave: in the units of one system, rounded once, and as text."""

import functools
from collections.abc import Sequence
from typing import NamedTuple, TypeVar

import numpy as np

from upstroke_service.contract.answered import Series
from upstroke_service.contract.quantities import (
    DailyVolume,
    Exertion,
    FlowRate,
    FoodEnergy,
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
    WellCapacity,
    Work,
)
from upstroke_service.physics.real import Array, Indices, Real
from upstroke_service.sizing.facts import Flags
from upstroke_service.units import UNITS, System, significant, significant_number
from upstroke_service.wording import LANGUAGES, Wording, wording

Kind = type[Measured]
Quantity = TypeVar("Quantity", bound=Measured)

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
    FlowRate: (1, 1),
    DailyVolume: (0, 0),
    FoodEnergy: (0, 0),
    WellCapacity: (1, 1),
}
_SPELLED = {
    "degF": "°F",
    "degC": "°C",
    "fl_oz": "fl oz",
}


class Output(NamedTuple):
    """How one kind of output leaves in one system: unit, SI value of one of it, zero, and how it is written.

    ``fine`` is for numbers below SMALL.
    """

    unit: str
    scale: float
    offset: float
    coarse: str
    fine: str
    spelled: str


SMALL = 10.0
"""Numbers in sentences below this keep at least one decimal: 0.5 psi is not 0 psi."""


class Style:
    """The unit system and the language of an answer, and whether it is about an open tank."""

    def __init__(self, system: System, language: str, *, open_tank: bool = False) -> None:
        """Look the units of ``system`` and the sentences of ``language`` up once."""
        self.system: System = system
        self.words: Wording = wording(language, open_tank=open_tank)
        place = 0 if system == "us" else 1
        spelled = _SPELLED | self.words.sections["unit"]
        self.outputs: dict[Kind, Output] = {}
        for kind, digits in _DIGITS.items():
            unit = UNITS[kind.dimension][kind.units[place]]
            name, most = kind.units[place], digits[place]
            # What rounds to zero must not keep a minus: z.
            coarse, fine = (f"z,.{count}f" for count in (most, max(most, 1)))
            self.outputs[kind] = Output(
                name, unit.scale, unit.offset, coarse, fine, f" {spelled.get(name, name)}"
            )

    def about(self, *, open_tank: bool) -> "Style":
        """The same for an open tank, which no sentence may speak of as under pressure, or for another."""
        return style(self.system, self.words.language, open_tank=open_tank)

    def unit(self, kind: Kind) -> str:
        """Name of the unit of a kind of output."""
        return self.outputs[kind].unit

    def number(self, kind: Kind, value: float) -> float:
        """An SI ``value`` in the output unit, to 6 significant digits."""
        out = self.outputs[kind]
        return significant_number((value - out.offset) / out.scale)

    def text(self, kind: Kind, value: float) -> str:
        """An SI ``value`` as text with its unit, rounded for reading."""
        out = self.outputs[kind]
        number = (value - out.offset) / out.scale
        written = out.fine if -SMALL < number < SMALL and number else out.coarse
        return format(number, written) + out.spelled

    def duration(self, seconds: float) -> str:
        """A duration as people say it."""
        say = self.words.say
        minutes = seconds / 60.0
        if seconds < 59.5:  # noqa: PLR2004 - what rounds to a minute is one
            rounded = max(round(seconds), 1)
            return (
                say("duration", "one_second") if rounded == 1 else say("duration", "seconds", count=rounded)
            )
        if minutes < 90.0:  # noqa: PLR2004 - an hour and a half is still said in minutes
            rounded = round(minutes)
            return (
                say("duration", "one_minute") if rounded == 1 else say("duration", "minutes", count=rounded)
            )
        return say("duration", "hours", count=f"{minutes / 60.0:.1f}")

    def series(self, columns: Sequence[tuple[Kind | None, Array]]) -> list[Series]:
        """Columns of SI values of one length, rounded in one go; no kind: counts and ratios."""
        values = np.stack([column for _, column in columns])
        outputs = [_PLAIN if kind is None else self.outputs[kind] for kind, _ in columns]
        rounded = significant(_converted(values, outputs)).tolist()
        return [Series(unit=out.unit, values=row) for out, row in zip(outputs, rounded, strict=True)]

    def rows(self, columns: Sequence[tuple[Kind, Real]], count: int) -> list[list[Measured]]:
        """Columns of SI values, one or ``count`` long, as rows of quantities: rounded in one go."""
        outputs = [self.outputs[kind] for kind, _ in columns]
        values = table([column for _, column in columns], count)
        makers = [(kind, out.unit) for (kind, _), out in zip(columns, outputs, strict=True)]
        return [
            [kind(value, unit) for value, (kind, unit) in zip(row, makers, strict=True)]  # type: ignore[call-arg]
            for row in significant(_converted(values, outputs)).T.tolist()
        ]

    def measured(self, kind: type[Quantity], value: float) -> Quantity:
        """One SI ``value`` as a quantity."""
        return kind(self.number(kind, value), self.outputs[kind].unit)  # type: ignore[call-arg]


_PLAIN = Output("1", 1.0, 0.0, "", "", "")


def _converted(values: Array, outputs: Sequence[Output]) -> Array:
    """Rows of SI values in their output units."""
    offsets = np.array([[out.offset] for out in outputs])
    scales = np.array([[out.scale] for out in outputs])
    converted: Array = (values - offsets) / scales
    return converted


def table(columns: Sequence[Real | Flags | Indices], count: int) -> Array:
    """Columns of one or ``count`` values as the rows of one array."""
    values = np.empty((len(columns), count))
    for row, column in zip(values, columns, strict=True):
        row[:] = column.ravel() if isinstance(column, np.ndarray) else column
    return values


class _NoWords(Wording):
    def say(self, section: str, code: str, /, **numbers: object) -> str:  # noqa: ARG002 - as of any wording
        return ""


class _Wordless(Style):
    """For who wants the codes of findings alone: nothing is said, so that no time goes into words."""

    def __init__(self) -> None:
        super().__init__("us", LANGUAGES[0])
        self.words = _NoWords(LANGUAGES[0])

    def text(self, kind: Kind, value: float) -> str:  # noqa: ARG002 - as of any style
        return ""

    def duration(self, seconds: float) -> str:  # noqa: ARG002 - as of any style
        return ""

    def number(self, kind: Kind, value: float) -> float:  # noqa: ARG002 - as of any style
        return value


@functools.cache
def wordless() -> Style:
    """A style that says nothing."""
    return _Wordless()


@functools.cache
def style(system: System, language: str, *, open_tank: bool = False) -> Style:
    """The style of an answer in a unit system and a language."""
    return Style(system, language, open_tank=open_tank)
