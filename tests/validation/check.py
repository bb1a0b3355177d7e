"""One check value with ours beside it, in the unit in which its source states it."""

from dataclasses import dataclass

from tests.physics.computed import computed
from tests.physics.published_values import PublishedValue


@dataclass(frozen=True, slots=True)
class Check:
    """What a source says, what the physics says, and how far they are apart."""

    value: PublishedValue
    ours: float
    difference: float
    share_of_tolerance: float

    @property
    def agrees(self) -> bool:
        """Whether the source's tolerance allows our value; not a number never agrees."""
        return self.share_of_tolerance <= 1.0

    @property
    def model(self) -> str:
        """The module of the physics."""
        return self.value.quantity.partition(".")[0]

    @property
    def reference(self) -> str:
        """The expected value as the source states it."""
        return f"{self.value.stated_expected.value:.10g}"

    @property
    def unit(self) -> str:
        """The unit of the source; nothing for plain numbers."""
        return "" if self.value.stated_expected.unit == "1" else self.value.stated_expected.unit


def check(value: PublishedValue) -> Check:
    """Compute the quantity of a check value and compare."""
    actual = computed(value)
    difference = actual - value.expected
    return Check(
        value,
        value.in_stated_unit(actual),
        value.stated_span(difference),
        abs(difference) / value.tolerance,
    )
