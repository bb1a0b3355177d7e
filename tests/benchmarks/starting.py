"""How long it takes until anything happens: imports, and a service that is ready."""

from collections.abc import Iterator

from tests.benchmarks.effort import Effort
from tests.benchmarks.figures import Figure, figure
from tests.benchmarks.processes import python, spent

PART = "start"
_IMPORTED = {
    "Python alone": "",
    "client imported": "import upstroke",
    "service imported": "import upstroke_service.__main__",
    "tables imported": "import upstroke_service.tables.__main__",
}

_LARGE = ("service imported", "tables imported")
"""What holds more than this program does: less than its starter holds, a process can't be told to have held."""


def measure(effort: Effort) -> Iterator[Figure]:
    """Imports, each in a process of its own, in turn."""
    runs = [{name: spent(python("-c", code)) for name, code in _IMPORTED.items()} for _ in range(effort.runs)]
    for name in _IMPORTED:
        yield figure(PART, name, "s", [run[name].seconds for run in runs])
        if name in _LARGE:
            yield figure(PART, f"{name}: memory", "MiB", [run[name].memory for run in runs])
