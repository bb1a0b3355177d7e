"""What a run of the tests says at its end."""

from collections.abc import Iterator

import pytest
from _pytest.terminal import TerminalReporter

INPUTS_TRIED = "inputs tried"
"""Property of a test: how many inputs it tried. A worker's own output would be lost, and this is not."""


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """How many inputs the fuzzing tried, of each operation and together."""

    def counted() -> Iterator[tuple[str, int]]:
        for reports in terminalreporter.stats.values():
            for report in reports:
                if isinstance(report, pytest.TestReport) and report.when == "call":
                    yield from (
                        (report.nodeid, value)
                        for name, value in report.user_properties
                        if name == INPUTS_TRIED and isinstance(value, int)
                    )

    found = sorted(counted())
    if found:
        terminalreporter.section(INPUTS_TRIED)
        for test, count in found:
            terminalreporter.line(f"{count:7} {test.rpartition('[')[2].removesuffix(']')}")
        terminalreporter.line(f"{sum(count for _, count in found):7} together")
