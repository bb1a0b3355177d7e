"""How much is measured."""

import msgspec
from tests.benchmarks.registers import DEMANDING, EIGHT, ONE, THIRTY_TWO


class Effort(msgspec.Struct, frozen=True):
    """Runs of each measurement, and how large each is.

    ``seconds`` of load on the server; ``rows`` of tables by what they are measured as; ``growth``
    are rows of tables for 8 candidates, of which those are left out that would take longer than ``longest``
    seconds; ``lines`` of a batch in short and in full; wells ``by_hand`` in quantities, in ``plain`` numbers and in
    the ``workbook``.
    """

    runs: int
    seconds: float
    rows: dict[str, int]
    growth: tuple[int, ...]
    longest: float
    lines: tuple[int, int]
    by_hand: int
    plain: int
    workbook: int


FULL = Effort(
    runs=5,
    seconds=6.0,
    rows={ONE: 524_288, EIGHT: 131_072, THIRTY_TWO: 32_768, DEMANDING: 65_536},
    growth=(1_000, 10_000, 100_000, 1_000_000),
    longest=600.0,
    lines=(4_000, 200),
    by_hand=60,
    plain=20_000,
    workbook=200,
)
QUICK = Effort(
    runs=3,
    seconds=2.0,
    rows={ONE: 131_072, EIGHT: 32_768, THIRTY_TWO: 8_192, DEMANDING: 16_384},
    growth=(1_000, 10_000),
    longest=60.0,
    lines=(1_000, 40),
    by_hand=40,
    plain=8_000,
    workbook=80,
)
