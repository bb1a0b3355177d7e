"""How single cells are read."""

import datetime as dt

import pytest

import upstroke
from upstroke.sheets._cells import UNCALCULATED, Cell, CellError, Decimal, read_cell
from upstroke.sheets._headers import match_header


def read(header: str, cell: Cell, decimal: Decimal = "point") -> object:
    match = match_header(header)
    assert match is not None
    return read_cell(cell, match.column, match.unit, decimal)


@pytest.mark.parametrize(
    ("header", "cell", "decimal", "fact"),
    [
        ("Static water level [ft]", 120, "point", upstroke.Quantity(120.0, "ft")),
        ("Static water level [ft]", " 120.5 ", "point", upstroke.Quantity(120.5, "ft")),
        ("Static water level [ft]", "1.2e2", "point", upstroke.Quantity(120.0, "ft")),
        ("Static water level [ft]", "1,234.5", "point", upstroke.Quantity(1234.5, "ft")),
        ("Static water level [ft]", "120,5", "comma", upstroke.Quantity(120.5, "ft")),
        ("Static water level [ft]", "1.234,5", "comma", upstroke.Quantity(1234.5, "ft")),
        ("Static water level [ft]", 120.5, "comma", upstroke.Quantity(120.5, "ft")),
        ("Static water level [ft]", "36,5 m", "comma", upstroke.Quantity(36.5, "m")),
        ("Static water level [ft]", "36.5m", "point", upstroke.Quantity(36.5, "m")),
        ("Static water level", "120 feet", "point", upstroke.Quantity(120.0, "ft")),
        ("Conduit rise [ft]", "−3", "point", upstroke.Quantity(-3.0, "ft")),
        ("Tank kind", " Air over-water ", "point", "air_over_water"),
        ("Check valve", True, "point", "yes"),
        ("Check valve", "Y", "point", "yes"),
        ("Check valve", "Unknown", "point", "unknown"),
        ("Weep hole present", "no", "point", False),
        ("Weep hole present", True, "point", True),
        ("Tank count", 2.0, "point", 2),
        ("Tank count", "2", "point", 2),
        ("Handle ratio", "4,5", "comma", 4.5),
        ("Maximum acceptance", "35%", "point", 0.35),
        ("Client reference", 1001.0, "point", "1001"),
        ("Selection ids", "lift-2-180, lift-3", "point", ["lift-2-180", "lift-3"]),
    ],
)
def test_a_cell_is_read_as_the_fact_that_it_states(
    header: str, cell: Cell, decimal: Decimal, fact: object
) -> None:
    assert read(header, cell, decimal) == fact


@pytest.mark.parametrize(
    ("header", "cell", "decimal", "message"),
    [
        ("Static water level [ft]", "deep", "point", "not a number"),
        ("Static water level [ft]", "about 120", "point", "not a number"),
        ("Static water level [ft]", "100-120", "point", "not a number with a unit"),
        ("Static water level [ft]", "120,5", "point", "say --decimal comma"),
        ("Static water level [ft]", "1,234", "point", "say --decimal comma"),
        ("Static water level [ft]", "120.5", "comma", "as --decimal comma says"),
        ("Static water level [ft]", "120,5 ft", "point", "say --decimal comma"),
        ("Static water level [ft]", "1.2.3", "point", "not a number"),
        ("Static water level [ft]", "120 psi", "point", "accepted units: ft, in, m, cm, mm"),
        ("Static water level [ft]", "120 cubits", "point", "accepted units: ft, in, m, cm, mm"),
        ("Static water level [ft]", "nan", "point", "not a number"),
        ("Static water level [ft]", float("inf"), "point", "not a number"),
        ("Static water level [ft]", "1e999", "point", "not a number"),
        ("Static water level [ft]", True, "point", "not a number"),
        ("Static water level [ft]", dt.datetime(2026, 3, 4), "point", "a date or time"),  # noqa: DTZ001
        ("Static water level [ft]", dt.time(3, 4), "point", "a date or time"),
        ("Static water level [ft]", "#N/A", "point", "an error of a formula"),
        ("Static water level [ft]", "#DIV/0!", "point", "an error of a formula"),
        ("Static water level [ft]", "Err:502", "point", "an error of a formula"),
        ("Static water level [ft]", UNCALCULATED, "point", "a formula without a stored result"),
        ("Static water level [ft]", "1\ufffd0", "point", "--encoding"),
        ("Static water level", 120, "point", "a number without a unit"),
        ("Tank kind", "barrel", "point", "not one of: air_over_water, bladder"),
        ("Tank kind", True, "point", "not one of"),
        ("Tank kind", 3, "point", "not one of"),
        ("Check valve", "maybe", "point", "not one of: no, unknown, yes"),
        ("Weep hole present", "unknown", "point", "not one of: yes, no"),
        ("Tank count", 2.5, "point", "not a whole number"),
        ("Tank count", "two", "point", "not a number"),
        ("Handle ratio", "4:1", "point", "not a number"),
        ("Client reference", "#REF!", "point", "an error of a formula"),
    ],
)
def test_a_cell_that_can_be_read_in_no_way_or_in_two_is_refused(
    header: str, cell: Cell, decimal: Decimal, message: str
) -> None:
    with pytest.raises(CellError) as error:
        read(header, cell, decimal)

    assert message in str(error.value)
