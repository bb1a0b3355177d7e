"""Plots: what they show, with units at every axis, and without colours."""

from collections.abc import Iterator
from typing import Any

import matplotlib as mpl
import msgspec
import pytest
from matplotlib import pyplot as plt
from matplotlib.colors import to_rgb

import upstroke
from upstroke import plots


@pytest.fixture(autouse=True)
def quiet() -> Iterator[None]:
    mpl.use("Agg")
    yield
    plt.close("all")


@pytest.fixture(scope="module", params=["us", "si"])
def sizing(request: pytest.FixtureRequest, service: upstroke.Transport) -> upstroke.Sizing:
    return upstroke.Client(transport=service, units=request.param).size(
        well={"static_water_level": "120 ft"},
        tank={"kind": "bladder", "total_volume": "44 gal", "precharge": "38 psi"},
        pressures={"target": "50 psi"},
    )


def rendered(figure: Any) -> Any:
    """The figure as it is drawn; fails where something can't be."""
    figure.canvas.draw()
    return figure


def test_the_curve_of_a_fill_has_its_strokes_marked_at_round_numbers(sizing: upstroke.Sizing) -> None:
    assert sizing.curve is not None
    axes = plots.tank_curve(sizing.curve)
    curve, marks = axes.get_lines()
    counts = [float(text.get_text().replace(",", "")) for text in axes.texts]
    unit = "psi" if sizing.curve.water.unit == "gal" else "kPa"

    assert axes.get_xlabel() == f"Gauge pressure at the tank [{unit}]"
    assert axes.get_ylabel() == f"Water gained [{sizing.curve.water.unit}]"
    assert tuple(curve.get_ydata()) == sizing.curve.water.values  # type: ignore[arg-type]
    assert counts == [100.0, 200.0, 300.0, 400.0, 500.0]
    assert len(marks.get_xdata()) == 5  # type: ignore[arg-type]
    rendered(axes.figure)


def test_a_tank_curve_is_drawn_into_axes_that_are_given(client: upstroke.Client) -> None:
    answer = client.tank_curve(tank={"total_volume": "44 gal"}, pressures={"target": "40 psi"})
    _, given = plt.subplots()

    assert plots.tank_curve(answer.curve, given) is given
    assert given.get_ylabel() == "Water in the tank [gal]"


def test_the_lines_of_a_lift_budget_end_at_its_total_beside_the_rated_lift(sizing: upstroke.Sizing) -> None:
    for candidate in (sizing.candidates[0], sizing.candidates[-1]):
        axes = plots.lift_budget(candidate)
        *lines, total = axes.patches
        ends = [line.get_x() + line.get_width() for line in lines]  # type: ignore[attr-defined]
        (rated,) = axes.get_lines()

        assert ends[-1] == pytest.approx(candidate.lift_budget.total_head.value, rel=1e-4)  # 6 digits each
        assert total.get_width() == candidate.lift_budget.total_head.value  # type: ignore[attr-defined]
        assert set(rated.get_xdata()) == {candidate.lift_budget.rated_lift.value}  # type: ignore[arg-type]
        assert axes.get_xlabel() == f"Head [{candidate.lift_budget.total_head.unit}]"
        rendered(axes.figure)


def test_candidates_are_compared_in_their_order_and_told_apart_without_colour(
    sizing: upstroke.Sizing,
) -> None:
    figure = rendered(plots.candidates(sizing))
    names = [label.get_text() for label in figure.axes[0].get_yticklabels()]
    looks = {
        candidate.outcome: (bar.get_facecolor(), bar.get_hatch())
        for candidate, bar in zip(sizing.candidates, figure.axes[0].patches, strict=True)
    }
    recommended = [
        label.get_text() for label in figure.axes[0].get_yticklabels() if label.get_fontweight() == "bold"
    ]

    assert names == [candidate.cylinder.name for candidate in sizing.candidates]
    assert len(set(looks.values())) == len(looks) == 3
    assert recommended == [
        one.cylinder.name for one in sizing.candidates if one.cylinder.id == sizing.recommended
    ]
    assert all(axes.get_xlabel().endswith("]") for axes in figure.axes)


def test_no_plot_uses_colours(sizing: upstroke.Sizing) -> None:
    assert sizing.curve is not None
    plots.tank_curve(sizing.curve)
    plots.lift_budget(sizing.candidates[0])
    plots.candidates(sizing)
    artists = [
        artist for number in plt.get_fignums() for axes in plt.figure(number).axes for artist in axes.patches
    ]

    assert artists
    assert all(len(set(to_rgb(artist.get_facecolor()))) == 1 for artist in artists)


def test_nothing_to_compare_is_said(sizing: upstroke.Sizing) -> None:
    with pytest.raises(ValueError, match="needs facts first"):
        plots.candidates(msgspec.structs.replace(sizing, candidates=()))
