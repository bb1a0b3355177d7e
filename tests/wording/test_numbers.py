"""Numbers in sentences: rounded for reading, never a minus before zero."""

import pytest

from upstroke_service.api.style import Kind, style
from upstroke_service.contract.quantities import (
    OUTPUTS,
    Exertion,
    HandForce,
    Head,
    Pressure,
    Size,
    StrokeRate,
    StrokeVolume,
    Temperature,
    WaterVolume,
    Work,
)

FOOT, INCH, PSI, GALLON, POUND = 0.3048, 0.0254, 6894.757293168, 3.785411784e-3, 4.4482216152605

CASES: list[tuple[Kind, float, str, str]] = [
    (Head, 262 * FOOT, "262 ft", "79.9 m"),
    (Head, 1234.6 * FOOT, "1,235 ft", "376.3 m"),
    (Head, 9.4 * FOOT, "9.4 ft", "2.9 m"),
    (Head, 0.0, "0 ft", "0.0 m"),
    (Head, -1e-9, "0.0 ft", "0.0 m"),
    (Head, -22.3 * FOOT, "-22 ft", "-6.8 m"),
    (Size, 1.75 * INCH, "1.75 in", "44 mm"),
    (Size, 0.0016, "0.06 in", "1.6 mm"),
    (Pressure, 45 * PSI, "45 psi", "310 kPa"),
    (Pressure, 0.5 * PSI, "0.5 psi", "3.4 kPa"),
    (Pressure, -0.4 * PSI, "-0.4 psi", "-2.8 kPa"),
    (WaterVolume, 6.3 * GALLON, "6.3 gal", "24 L"),
    (StrokeVolume, 0.00025, "8.5 fl oz", "250 mL"),
    (HandForce, 33.7 * POUND, "34 lbf", "150 N"),
    (StrokeRate, 40.0 / 60.0, "40 per minute", "40 per minute"),
    (Work, 50_000.0, "12.0 kcal", "50 kJ"),
    (Exertion, 75.0, "75 W", "75 W"),
    (Temperature, 285.15, "54 °F", "12 °C"),
    (Temperature, 273.15, "32 °F", "0 °C"),
]


@pytest.mark.parametrize(
    ("kind", "value", "us", "si"), CASES, ids=[f"{case[0].__name__} {case[2]}" for case in CASES]
)
def test_a_quantity_reads_as_people_write_it(kind: Kind, value: float, us: str, si: str) -> None:
    assert (us, si) == (style("us", "en").text(kind, value), style("si", "en").text(kind, value))


@pytest.mark.parametrize("kind", OUTPUTS, ids=[kind.__name__ for kind in OUTPUTS])
@pytest.mark.parametrize("system", ["us", "si"])
def test_every_kind_of_quantity_can_be_written_out(kind: Kind, system: str) -> None:
    text = style("si" if system == "si" else "us", "en").text(kind, 300.0)

    assert text.partition(" ")[2]


DURATIONS = {
    0.0: "1 second",
    1.4: "1 second",
    1.6: "2 seconds",
    29.6: "30 seconds",
    59.4: "59 seconds",
    59.6: "1 minute",
    89.0: "1 minute",
    91.0: "2 minutes",
    5_370.0: "90 minutes",
    5_400.0: "1.5 hours",
    36_000.0: "10.0 hours",
}


@pytest.mark.parametrize(("seconds", "text"), DURATIONS.items())
def test_a_duration_reads_as_people_say_it(seconds: float, text: str) -> None:
    assert text == style("us", "en").duration(seconds)
