"""What importing the client costs, in processor time of a fresh process: median of several.

.venv/bin/python -m tests.benchmarks.imports
"""

import statistics
import subprocess
import sys

RUNS = 7
MODULES = ("msgspec", "upstroke", "httpx")
_PROGRAM = "import time; began = time.process_time(); import {}; print(time.process_time() - began)"


def seconds(module: str) -> float:
    """Processor seconds of one import of a ``module``, with all that it imports."""
    command = [sys.executable, "-c", _PROGRAM.format(module)]
    return float(subprocess.run(command, check=True, capture_output=True, text=True).stdout)


def main() -> None:
    """Measure in turn, and print."""
    taken = [[seconds(module) for module in MODULES] for _ in range(RUNS)]
    for module, times in zip(MODULES, zip(*taken, strict=True), strict=True):
        print(f"{module:<10}{statistics.median(times):6.2f} s")


if __name__ == "__main__":
    main()
