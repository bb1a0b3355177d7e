"""Quantities: how they are written, read, shown and converted."""

import string
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from upstroke import Quantity
from upstroke._quantity import read_quantity
from upstroke._units import _SPELLINGS, UNITS, convert, unit_name

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
LENGTH = ("ft", "in", "m", "cm", "mm")
units = st.sampled_from(sorted(UNITS))
values = st.floats(allow_nan=False, allow_infinity=False)


@given(values, units, st.sampled_from(["", " ", "  \t"]))
def test_what_is_shown_is_read_back_unchanged(value: float, unit: str, space: str) -> None:
    quantity = Quantity(value, unit)

    assert Quantity.parse(str(quantity)) == quantity
    assert Quantity.parse(f"{space}{value!r}{space or ' '}{unit}{space}") == quantity


@given(st.text(max_size=12))
def test_any_other_text_is_refused_as_a_value_error(text: str) -> None:
    try:
        quantity = Quantity.parse(text)
    except ValueError:
        return

    assert quantity.unit in UNITS
    assert text.strip()[0] in string.digits + ".+-"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("120 ft", Quantity(120, "ft")),
        ("120 Feet", Quantity(120, "ft")),
        ("120'", Quantity(120, "ft")),
        ("2.5 inches", Quantity(2.5, "in")),
        (".75in", Quantity(0.75, "in")),
        ("-4 m", Quantity(-4, "m")),
        ("1e2 MM", Quantity(100, "mm")),
        ("40 PSI", Quantity(40, "psi")),
        ("276 kpa", Quantity(276, "kPa")),
        ("20 US  gallons", Quantity(20, "gal")),
        ("80 l", Quantity(80, "L")),
        ("35 lb", Quantity(35, "lbf")),
        ("51 °F", Quantity(51, "degF")),
        ("40 strokes per minute", Quantity(40, "1/min")),
        ("40 1/min", Quantity(40, "1/min")),
        ("0.8 gpm/ft", Quantity(0.8, "gpm/ft")),
        ("3 Gallons per minute", Quantity(3, "gpm")),
        ("12 l/min", Quantity(12, "L/min")),
        ("40 gallons a day", Quantity(40, "gal/d")),
        ("200 gpa", Quantity(200, "GPa")),
    ],
)
def test_common_spellings_are_understood(text: str, expected: Quantity) -> None:
    assert expected == Quantity.parse(text)


@pytest.mark.parametrize(
    "text", ["1 1/4 in", "1,200 ft", "1.2.3 m", "ft", "120", "", "nan ft", "inf psi", "1,5 m"]
)
def test_numbers_that_could_be_misread_are_refused_with_an_example(text: str) -> None:
    with pytest.raises(ValueError, match="such as '120 ft'"):
        Quantity.parse(text)


def test_an_unknown_unit_is_named() -> None:
    with pytest.raises(ValueError, match="'furlong' is not a known unit"):
        Quantity.parse("3 furlong")


def test_no_spelling_means_two_units() -> None:
    spelled = [(spelling, name) for name, spellings in _SPELLINGS.items() for spelling in spellings]
    spelled += [(name.casefold(), name) for name in UNITS]

    assert len(spelled) == len({spelling for spelling, _ in spelled})
    assert all(unit_name(spelling) == name for spelling, name in spelled)


def test_a_quantity_shows_its_value_with_its_unit() -> None:
    assert repr(Quantity(120, "ft")) == "120 ft"
    assert str(Quantity(2.5, "in")) == "2.5 in"
    assert f"{Quantity(2.54321, 'in'):.2f}" == "2.54 in"
    assert f"{Quantity(120.0, 'ft')}" == "120 ft"


def test_quantities_convert_within_a_dimension() -> None:
    assert Quantity(120, "ft").to("m").value == pytest.approx(36.576, rel=1e-12)
    assert Quantity(50, "degF").to("celsius").value == pytest.approx(10.0, rel=1e-12)
    assert Quantity(120, "feet").to("feet") == Quantity(120, "ft")


def test_quantities_don_t_convert_into_another_dimension_or_an_unknown_unit() -> None:
    with pytest.raises(ValueError, match="ft is a unit of length, psi one of pressure"):
        Quantity(1, "ft").to("psi")
    with pytest.raises(ValueError, match="'parsec' is not a unit that this version knows"):
        Quantity(1, "ft").to("parsec")
    with pytest.raises(ValueError, match="'parsec' is not a unit that this version knows"):
        Quantity(1, "parsec").to("ft")


SMALLEST = 1e-300  # what is smaller loses digits whatever is done with it


@given(st.floats(-1e6, 1e6), units, units)
def test_converting_there_and_back_gives_the_same(value: float, unit: str, other: str) -> None:
    if UNITS[unit].dimension != UNITS[other].dimension:
        return
    scale = abs(UNITS[unit].offset / UNITS[unit].scale) + abs(value)

    assert value == pytest.approx(
        convert(convert(value, unit, other), other, unit), rel=1e-12, abs=max(1e-12 * scale, SMALLEST)
    )


@pytest.mark.parametrize(
    "form",
    [
        Quantity(120, "ft"),
        Quantity(120, "feet"),
        "120 ft",
        {"value": 120, "unit": "ft"},
        {"value": Fraction(120), "unit": "foot"},
        REGISTRY.Quantity(120, "ft"),
    ],
)
def test_every_form_of_a_quantity_is_read(form: object) -> None:
    assert Quantity(120, "ft") == read_quantity(form, LENGTH)


@pytest.mark.parametrize(
    "form",
    [
        120,
        120.0,
        None,
        True,
        ["120 ft"],
        {"value": 120},
        {"value": "120", "unit": "ft"},
        {"value": True, "unit": "ft"},
        {"value": 120, "unit": 1},
        {"value": 120, "unit": "ft", "note": "deep"},
    ],
)
def test_what_has_no_unit_or_no_number_is_refused(form: object) -> None:
    with pytest.raises(ValueError, match="is not a value with its unit, such as '120 ft'"):
        read_quantity(form, LENGTH)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_number_that_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="is not a finite number"):
        read_quantity(Quantity(value, "ft"), LENGTH)


def test_a_pint_quantity_keeps_its_unit_where_the_field_accepts_it_and_is_converted_elsewhere() -> None:
    assert Quantity(36.5, "m") == read_quantity(REGISTRY.Quantity(36.5, "meter"), LENGTH)
    yards = read_quantity(REGISTRY.Quantity(40, "yard"), LENGTH)
    assert yards.unit == "ft"
    assert yards.value == pytest.approx(120.0, rel=1e-12)


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_every_unit_of_the_contract_can_come_from_pint(unit: str) -> None:
    base = {"length": "yard", "pressure": "inHg", "volume": "quart", "force": "kgf", "power": "kW"}
    other = {"energy": "BTU", "duration": "hour", "cadence": "1/hour", "temperature": "kelvin"}
    flows = {"flow": "foot**3/second", "daily_volume": "foot**3/day", "specific_capacity": "meter**2/hour"}
    rest = {"density": "g/cm**3", "modulus": "kgf/mm**2"}
    foreign = REGISTRY.Quantity(300.0, (base | other | flows | rest)[UNITS[unit].dimension])

    quantity = read_quantity(foreign, (unit,))

    si = float(foreign.to_base_units().to(_SI[UNITS[unit].dimension]).magnitude)
    assert quantity.value * UNITS[unit].scale + UNITS[unit].offset == pytest.approx(si, rel=1e-9)


_SI = {
    "length": "m",
    "pressure": "Pa",
    "volume": "m**3",
    "force": "N",
    "power": "W",
    "energy": "J",
    "duration": "s",
    "cadence": "1/s",
    "temperature": "kelvin",
    "specific_capacity": "m**2/s",
    "density": "kg/m**3",
    "flow": "m**3/s",
    "daily_volume": "m**3/s",
    "modulus": "Pa",
}


def test_a_pint_quantity_of_another_dimension_is_refused_with_pints_reason() -> None:
    with pytest.raises(ValueError, match=r"cannot be read in lbf: Cannot convert"):
        read_quantity(REGISTRY.Quantity(5, "pound"), ("lbf", "N"))
