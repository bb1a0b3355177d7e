"""What the property tests draw from: SI numbers inside the ranges that a household meets."""

from collections.abc import Callable
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

# The same cases on every run: a failure must not depend on luck.
_SETTINGS = settings(max_examples=60, deadline=None, derandomize=True)


def for_all(*drawn: st.SearchStrategy[Any]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Run a test for many draws, the same ones every time."""

    def decorate(test: Callable[..., None]) -> Callable[..., None]:
        repeated: Callable[..., None] = _SETTINGS(given(*drawn)(test))
        return repeated

    return decorate


def numbers(lowest: float, highest: float) -> st.SearchStrategy[float]:
    """Draw a number between two limits, both included."""
    return st.floats(lowest, highest, allow_nan=False, allow_subnormal=False)


PRESSURES = numbers(0.0, 1e6)
FLOWS = numbers(1e-6, 2e-3)
DIAMETERS = numbers(0.01, 0.06)
GAS_EXPONENTS = numbers(1.0, 1.4)
STEPS = numbers(1.001, 3.0)
"""By how many times one thing grows while the rest stays."""
