"""What the physics refuses."""

import numpy as np

from .real import Real


class OutsideValidity(ValueError):
    """A value lies outside the range in which a model holds.

    Attributes: ``quantity`` (its name), ``lowest`` and ``highest`` (the range, SI units).
    """

    def __init__(self, quantity: str, lowest: float, highest: float, unit: str) -> None:
        """Name the quantity and the range that is accepted."""
        super().__init__(f"{quantity} must lie between {lowest:g} and {highest:g} {unit}")
        self.quantity = quantity
        self.lowest = lowest
        self.highest = highest


def require_within(quantity: str, value: Real, lowest: float, highest: float, unit: str) -> None:
    """Raise OutsideValidity unless every element of ``value`` lies in [lowest, highest]."""
    # Written so that NaN fails too.
    if not np.all((np.asarray(value) >= lowest) & (np.asarray(value) <= highest)):
        raise OutsideValidity(quantity, lowest, highest, unit)
