"""Whether memory stays flat and nothing ends in a 5xx over many requests, valid and hostile, at a real worker.

    .venv/bin/python -m tests.endurance --requests 100000

It starts the service, sends the requests over a few connections, and prints how they were answered and how much
memory the server holds along the way. It ends with 1 where one was answered with a 5xx, or not at all.
"""

import argparse
import sys

from tests.endurance.run import Report, endure


def main() -> int:
    """Send, print."""
    parser = argparse.ArgumentParser(prog="python -m tests.endurance")
    parser.add_argument("--requests", type=int, default=100_000, help="how many (default: %(default)s)")
    parser.add_argument("--seed", type=int, default=1, help="which ones (default: %(default)s)")
    options = parser.parse_args()
    report = endure(options.requests, options.seed, show=print)
    print(_summary(report))
    return int(bool(report.server_errors or report.unanswered))


def _summary(report: Report) -> str:
    statuses = ", ".join(f"{status}: {count}" for status, count in sorted(report.statuses.items()))
    memory = ", ".join(
        f"{one:.1f}" for one in (report.memory[0], report.memory[len(report.memory) // 2], report.memory[-1])
    )
    return (
        f"{report.tried} inputs tried in {report.seconds:.0f} s\n"
        f"statuses: {statuses}\n"
        f"5xx: {report.server_errors}; unanswered: {len(report.unanswered)}\n"
        f"memory of the server in MiB after a tenth, in the middle, at the end: {memory}"
    )


if __name__ == "__main__":
    sys.exit(main())
