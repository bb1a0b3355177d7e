"""Drawings of a report, as SVG that needs neither styles nor fonts of its own and reads in grey."""

import math
from collections.abc import Sequence
from html import escape
from typing import Final, NamedTuple

FONT: Final = "Libertinus Serif, Georgia, Times New Roman, serif"
_LEAST_GAP: Final = 16.0


class Svg:
    """An SVG that grows element by element; coordinates are in pixels from its upper left corner."""

    def __init__(self, width: float, height: float) -> None:
        """Begin an empty one."""
        self._head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" '
            f'height="{height:g}" font-family="{FONT}" font-size="14">'
        )
        self._parts: list[str] = []

    def line(self, *points: tuple[float, float], width: float = 1.0, dash: str = "") -> None:
        """A line through ``points``."""
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        listed = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._parts.append(
            f'<polyline points="{listed}" fill="none" stroke="#222222" stroke-width="{width:g}"{dashed}/>'
        )

    def box(
        self, corner: tuple[float, float], size: tuple[float, float], fill: str = "none", width: float = 1.0
    ) -> None:
        """A rectangle."""
        (x, y), (across, down) = corner, size
        stroke = f'stroke="#222222" stroke-width="{width:g}"' if width else 'stroke="none"'
        self._parts.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{max(across, 0.0):.1f}" height="{max(down, 0.0):.1f}" '
            f'fill="{fill}" {stroke}/>'
        )

    def dot(self, x: float, y: float, radius: float = 3.0) -> None:
        """A small circle."""
        self._parts.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" fill="#ffffff" stroke="#222222"/>'
        )

    def text(self, x: float, y: float, text: str, *, anchor: str = "start", bold: bool = False) -> None:
        """A line of text on the baseline ``y``."""
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="#222222"{weight}>{escape(text)}</text>'
        )

    def done(self) -> str:
        """The whole."""
        return f"{self._head}{''.join(self._parts)}</svg>"


class Level(NamedTuple):
    """Something at a height in m above ground, negative below it, with what to write beside it."""

    height: float
    label: str


class Installation(NamedTuple):
    """What is drawn of a site: heights in m above ground, and labels.

    ``marks`` are the water at rest, the water while pumping and the cylinder or, of a ``suction`` pump, whose cylinder
    is above ground, the intake of its pipe. One fill takes the share ``filled`` of the tank.
    """

    marks: Sequence[Level]
    weep_hole: Level | None
    suction: bool
    bottom: float
    outlet: str
    way: str
    check_valve: str
    tank: Sequence[str]
    filled: float
    ground: str
    note: str


_WIDTH, _HEIGHT = 600.0, 266.0
_GROUND, _FLOOR = 100.0, 230.0
_WELL, _CASING, _PIPE = 130.0, 26.0, 5.0
_TANK_LEFT, _TANK_TOP, _TANK_WIDE, _TANK_HIGH = 355.0, 8.0, 62.0, 92.0
_WATER = "#d5dbe0"


def installation(site: Installation) -> str:
    """The well with pump, hose and tank; depths are to scale."""
    svg = Svg(_WIDTH, _HEIGHT)
    scale = (_FLOOR - _GROUND) / max(-site.bottom, 1.0)

    def down(height: float) -> float:
        return _GROUND - height * scale

    water, cylinder = site.marks[0], site.marks[-1]
    _draw_well(svg, down(water.height), down(cylinder.height), suction=site.suction)
    head = _GROUND - 46.0
    _draw_pump(svg, head)
    _draw_way(svg, head, site)
    _draw_tank(svg, site)
    svg.line((20.0, _GROUND), (_WELL - _CASING, _GROUND), width=1.6)
    svg.line((_WELL + _CASING, _GROUND), (_WIDTH - 20.0, _GROUND), width=1.6)
    svg.text(20.0, _GROUND - 6.0, site.ground)
    marks: list[Level] = [*site.marks, *([site.weep_hole] if site.weep_hole else [])]
    marks.sort(reverse=True)
    if site.weep_hole:
        svg.dot(_WELL + _PIPE, down(site.weep_hole.height), 2.5)
    places = [down(mark.height) for mark in marks]
    for place, written, mark in zip(places, apart(places, _GROUND + 14.0, _FLOOR + 8.0), marks, strict=True):
        svg.line(
            (_WELL + _CASING, place), (_WELL + _CASING + 18.0, written - 4.0), (_WELL + 56.0, written - 4.0)
        )
        svg.text(_WELL + 60.0, written, mark.label)
    svg.text(20.0, _HEIGHT - 6.0, site.note)
    return svg.done()


def apart(places: Sequence[float], least: float, most: float) -> list[float]:
    """Baselines of labels beside ``places``, in their order: at least a line apart and between two bounds."""
    spread: list[float] = []
    for place in places:
        spread.append(max(place + 4.0, least if not spread else spread[-1] + _LEAST_GAP))
    for index in range(len(spread) - 1, -1, -1):
        limit = most if index == len(spread) - 1 else spread[index + 1] - _LEAST_GAP
        spread[index] = min(spread[index], limit)
    return spread


def _draw_well(svg: Svg, water: float, cylinder: float, *, suction: bool) -> None:
    end = _FLOOR + 12.0
    svg.box((_WELL - _CASING, water), (2.0 * _CASING, end - water), _WATER, 0.0)
    svg.line((_WELL - _CASING, water), (_WELL + _CASING, water), width=1.2)
    for side in (-_CASING, _CASING):
        svg.line((_WELL + side, _GROUND - 10.0), (_WELL + side, end), width=1.8)
    svg.box((_WELL - _PIPE, _GROUND - 46.0), (2.0 * _PIPE, cylinder - _GROUND + 46.0), "#ffffff")
    if suction:
        svg.line((_WELL - 9.0, cylinder), (_WELL + 9.0, cylinder), width=2.4)
        return
    svg.line((_WELL, _GROUND - 66.0), (_WELL, cylinder), width=1.2)
    svg.box((_WELL - 9.0, cylinder - 14.0), (18.0, 24.0), "#8a9299", 1.4)


def _draw_pump(svg: Svg, head: float) -> None:
    svg.box((_WELL - 13.0, head - 8.0), (26.0, _GROUND - head - 2.0), "#ffffff", 1.4)
    svg.line((_WELL - 70.0, head - 2.0), (_WELL - 22.0, head - 26.0), (_WELL + 6.0, head - 26.0), width=3.0)


def _draw_way(svg: Svg, head: float, site: Installation) -> None:
    low = _GROUND - 26.0
    end = _TANK_LEFT + 0.5 * _TANK_WIDE
    svg.line(
        (_WELL + 13.0, head + 6.0), (_WELL + 40.0, head + 6.0), (_WELL + 62.0, low), (end, low), width=3.0
    )
    svg.line((end, low), (end, _TANK_TOP + _TANK_HIGH - 18.0), width=3.0)
    svg.text(_WELL + 18.0, head - 10.0, site.outlet)
    svg.text(_TANK_LEFT - 8.0, low - 12.0, site.way, anchor="end")
    if site.check_valve:
        left = _WELL + 96.0
        svg.line((left, low - 6.0), (left, low + 6.0), (left + 12.0, low), (left, low - 6.0), width=1.6)
        svg.line((left + 12.0, low - 6.0), (left + 12.0, low + 6.0), width=1.6)
        svg.text(left - 2.0, low + 19.0, site.check_valve)


def _draw_tank(svg: Svg, site: Installation) -> None:
    high = _TANK_HIGH - 18.0
    level = _TANK_TOP + high * (1.0 - min(max(site.filled, 0.0), 1.0))
    svg.box((_TANK_LEFT, level), (_TANK_WIDE, _TANK_TOP + high - level), _WATER, 0.0)
    svg.line((_TANK_LEFT, level), (_TANK_LEFT + _TANK_WIDE, level))
    svg.box((_TANK_LEFT, _TANK_TOP), (_TANK_WIDE, high), "none", 1.8)
    for place, text in enumerate(site.tank):
        svg.text(_TANK_LEFT + _TANK_WIDE + 8.0, _TANK_TOP + 12.0 + 16.0 * place, text)


class Part(NamedTuple):
    """A part of a total head, in the chart's unit; negative where it helps."""

    label: str
    value: float


class Budget(NamedTuple):
    """A total head beside the rated lift: values of one unit, labels with it."""

    parts: Sequence[Part]
    total: float
    rated: float
    total_label: str
    rated_label: str


_BAR_LEFT, _BAR_WIDE = 256.0, 314.0
_BUDGET_WIDTH = 580.0


def lift_budget(budget: Budget) -> str:
    """Each part where the one before ends, the total below, and the rated lift as a line."""
    rows = len(budget.parts) + 1
    svg = Svg(_BUDGET_WIDTH, 20.0 * rows + 34.0)
    scale = _BAR_WIDE / max(budget.rated, budget.total, 1e-9)
    reached = 0.0
    for row, part in enumerate(budget.parts):
        low, reached = min(reached, reached + part.value), reached + part.value
        _bar(svg, row, max(low, 0.0) * scale, abs(part.value) * scale, part.label, "#b4bcc4")
    _bar(svg, rows - 1, 0.0, max(budget.total, 0.0) * scale, budget.total_label, "#4a525a")
    place = _BAR_LEFT + budget.rated * scale
    svg.line((place, 4.0), (place, 20.0 * rows + 12.0), width=1.6, dash="5 3")
    svg.text(place + 6.0, 20.0 * rows + 26.0, budget.rated_label, anchor="end", bold=True)
    return svg.done()


def _bar(svg: Svg, row: int, start: float, length: float, label: str, fill: str) -> None:
    top = 20.0 * row + 6.0
    svg.box((_BAR_LEFT + start, top), (max(length, 1.0), 14.0), fill)
    svg.text(_BAR_LEFT - 8.0, top + 11.0, label, anchor="end")


class Axis(NamedTuple):
    """Values along an axis, its title, and ticks with what is written at each."""

    values: Sequence[float]
    title: str
    ticks: Sequence[tuple[float, str]]


class Point(NamedTuple):
    """A point along the curve with what is written beside it."""

    across: float
    up: float
    label: str


_PLOT = (44.0, 14.0, 400.0, 120.0)
_CURVE_WIDTH = 456.0


def curve(across: Axis, up: Axis, points: Sequence[Point]) -> str:
    """A line with marks along it."""
    left, top, wide, high = _PLOT
    svg = Svg(_CURVE_WIDTH, top + high + 44.0)

    def place(x: float, y: float) -> tuple[float, float]:
        return (
            left + wide * _share(x, across),
            top + high * (1.0 - _share(y, up)),
        )

    for value, label in across.ticks:
        x, _ = place(value, 0.0)
        svg.line((x, top + high), (x, top + high + 5.0))
        svg.text(x, top + high + 18.0, label, anchor="middle")
    for value, label in up.ticks:
        _, y = place(0.0, value)
        svg.line((left - 5.0, y), (left, y))
        svg.text(left - 8.0, y + 4.0, label, anchor="end")
    svg.line((left, top), (left, top + high), (left + wide, top + high), width=1.2)
    svg.line(*(place(x, y) for x, y in zip(across.values, up.values, strict=True)), width=2.0)
    for point in points:
        x, y = place(point.across, point.up)
        svg.dot(x, y)
        late = x > left + 0.72 * wide
        svg.text(
            x - 8.0 if late else x + 8.0,
            y - 4.0 if late else y + 14.0,
            point.label,
            anchor="end" if late else "start",
        )
    svg.text(left + 0.5 * wide, top + high + 38.0, across.title, anchor="middle")
    svg.text(left + 4.0, top + 2.0, up.title)
    return svg.done()


def ticks(low: float, high: float, most: int = 6) -> list[tuple[float, str]]:
    """Round values between two, at most so many, each with its text."""
    span = max(high - low, 1e-9)
    step = 10.0 ** math.floor(math.log10(span / most))
    step *= next(factor for factor in (1.0, 2.0, 5.0, 10.0) if span / (step * factor) <= most)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    digits = max(-math.floor(math.log10(step)), 0)
    return [(place * step, f"{place * step:,.{digits}f}") for place in range(first, last + 1)]


def _share(value: float, axis: Axis) -> float:
    """Where a ``value`` stands between the axis's first tick and its last value or tick."""
    low = min([axis.values[0], *(tick for tick, _ in axis.ticks)])
    high = max([axis.values[-1], *(tick for tick, _ in axis.ticks)])
    return (value - low) / max(high - low, 1e-9)
