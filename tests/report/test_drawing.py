"""Drawings are drawn to the numbers of the case."""

import itertools
import re
from xml.etree import ElementTree as ET

import pytest

from upstroke_service.report import drawing
from upstroke_service.report.drawing import Axis, Budget, Installation, Level, Part, Point

SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - what is parsed was drawn here


def installation(
    water: float,
    pumping: float,
    cylinder: float,
    filled: float = 0.4,
    weep_hole: float | None = None,
    *,
    suction: bool = False,
) -> ET.Element:
    site = Installation(
        marks=[Level(-water, "rest"), Level(-pumping, "pumping"), Level(-cylinder, "cylinder")],
        weep_hole=None if weep_hole is None else Level(-weep_hole, "weep hole"),
        suction=suction,
        bottom=-cylinder,
        outlet="outlet",
        way="hose",
        check_valve="check valve",
        tank=["tank", "start", "end"],
        filled=filled,
        ground="ground",
        note="note",
    )
    return parsed(drawing.installation(site))


def leaders(svg: ET.Element) -> list[float]:
    """Heights on the page at which the lines from the well to its labels begin."""
    lines = [line.get("points", "").split() for line in svg.iter(f"{SVG}polyline")]
    begun = [points[0].split(",") for points in lines if len(points) == 3]
    edge = max(float(x) for x, _ in begun if float(x) < 300.0)
    return [float(y) for x, y in begun if float(x) == edge]


def test_depths_are_to_scale() -> None:
    rest, pumping, cylinder = leaders(installation(30.0, 40.0, 60.0))
    ground = 100.0

    assert (rest - ground) / (cylinder - ground) == pytest.approx(30.0 / 60.0, abs=0.002)  # tenths of a pixel
    assert (pumping - ground) / (cylinder - ground) == pytest.approx(40.0 / 60.0, abs=0.002)


@pytest.mark.parametrize("depth", [5.0, 35.0])
def test_a_weep_hole_is_on_the_pipe_at_its_depth_and_labelled_in_its_order(depth: float) -> None:
    svg = installation(30.0, 40.0, 60.0, weep_hole=depth)
    hole = next(svg.iter(f"{SVG}circle"))
    names = {"rest", "pumping", "cylinder", "weep hole"}
    labels = sorted(
        (float(one.get("y", "0")), one.text) for one in svg.iter(f"{SVG}text") if one.text in names
    )
    places = leaders(svg)

    assert float(hole.get("cy", "0")) == pytest.approx(places[0 if depth < 30.0 else 1])
    assert [name for _, name in labels].index("weep hole") == (0 if depth < 30.0 else 1)
    assert places == sorted(places)


def test_a_suction_pump_has_no_cylinder_and_no_rod_in_the_well() -> None:
    boxes = [len(list(installation(5.0, 5.0, 6.0, suction=one).iter(f"{SVG}rect"))) for one in (False, True)]
    assert boxes[0] == boxes[1] + 1


def test_what_is_close_together_is_labelled_apart_and_in_its_order() -> None:
    for places in ([200.0, 201.0, 202.0], [310.0, 311.0, 312.0], [120.0, 120.0, 312.0]):
        written = drawing.apart(places, 134.0, 320.0)
        assert all(low + 15.0 <= high + 1e-9 for low, high in itertools.pairwise(written))
        assert written[-1] <= 320.0


@pytest.mark.parametrize("filled", [0.0, 0.25, 1.0])
def test_the_tank_is_as_full_as_a_fill_makes_it(filled: float) -> None:
    svg = installation(10.0, 10.0, 20.0, filled)
    boxes = [box for box in svg.iter(f"{SVG}rect") if float(box.get("width", "0")) == 62.0]
    water, tank = boxes

    share = float(water.get("height", "0")) / float(tank.get("height", "1"))
    assert share == pytest.approx(filled, abs=0.002)


def test_text_of_the_catalogue_stays_text() -> None:
    svg = drawing.lift_budget(Budget([Part("<b>&", 1.0)], 1.0, 2.0, "total", "rated"))
    assert "<b>&" in [text.text for text in parsed(svg).iter(f"{SVG}text")]


def bars(budget: Budget) -> list[tuple[float, float]]:
    drawn = parsed(drawing.lift_budget(budget)).iter(f"{SVG}rect")
    return [(float(bar.get("x", "0")), float(bar.get("width", "0"))) for bar in drawn]


def test_bars_follow_each_other_and_a_fall_goes_back() -> None:
    parts = [Part("level", 30.0), Part("rise", -10.0), Part("pressure", 40.0)]
    level, rise, pressure, total = bars(Budget(parts, 60.0, 100.0, "total", "rated"))
    per_unit = total[1] / 60.0

    assert level == pytest.approx((total[0], 30.0 * per_unit), abs=0.11)
    assert rise == pytest.approx((total[0] + 20.0 * per_unit, 10.0 * per_unit), abs=0.11)
    assert pressure == pytest.approx((total[0] + 20.0 * per_unit, 40.0 * per_unit), abs=0.11)


def test_the_rated_lift_stands_where_it_belongs_also_when_it_is_too_little() -> None:
    for rated in (100.0, 30.0):
        budget = Budget([Part("level", 60.0)], 60.0, rated, "total", "rated")
        svg = parsed(drawing.lift_budget(budget))
        line = next(one for one in svg.iter(f"{SVG}polyline") if one.get("stroke-dasharray"))
        place = float(line.get("points", "").split(",")[0])
        left, wide = bars(budget)[-1]
        assert (place - left) / wide == pytest.approx(rated / 60.0, abs=0.002)


def test_the_curve_runs_from_corner_to_corner_and_its_marks_lie_on_it() -> None:
    across = Axis([200.0, 300.0, 400.0], "pressure", [(200.0, "200"), (400.0, "400")])
    up = Axis([0.0, 6.0, 10.0], "water", [(0.0, "0"), (10.0, "10")])
    svg = parsed(drawing.curve(across, up, [Point(300.0, 6.0, "half")]))
    line = next(one.get("points", "") for one in svg.iter(f"{SVG}polyline") if one.get("stroke-width") == "2")
    first, middle, last = (tuple(map(float, point.split(","))) for point in line.split())
    dot = next(svg.iter(f"{SVG}circle"))

    assert first[0] < middle[0] < last[0]
    assert first[1] > middle[1] > last[1]
    assert (middle[0] - first[0]) / (last[0] - first[0]) == pytest.approx(0.5, abs=0.002)
    assert (first[1] - middle[1]) / (first[1] - last[1]) == pytest.approx(0.6, abs=0.002)
    assert (float(dot.get("cx", "0")), float(dot.get("cy", "0"))) == middle


@pytest.mark.parametrize(
    ("low", "high", "first", "last"),
    [
        (0.0, 13.09, "0", "10"),
        (0.0, 0.97, "0.0", "0.8"),
        (241.3, 344.7, "260", "340"),
        (0.0, 5000.0, "0", "5,000"),
    ],
)
def test_ticks_are_round_numbers_within_the_axis(low: float, high: float, first: str, last: str) -> None:
    found = drawing.ticks(low, high)
    assert (found[0][1], found[-1][1]) == (first, last)
    assert 3 <= len(found) <= 7
    assert all(low - 1e-9 <= place <= high + 1e-9 for place, _ in found)


def test_nothing_is_drawn_with_a_style_or_in_colour() -> None:
    svg = ET.tostring(installation(30.0, 31.0, 36.0), "unicode")
    assert "style=" not in svg
    for red, green, blue in re.findall(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})", svg):
        shades = [int(one, 16) for one in (red, green, blue)]
        assert max(shades) - min(shades) <= 20
