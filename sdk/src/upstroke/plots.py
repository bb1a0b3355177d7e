"""Plots of answers, readable in grey, every axis with its unit. Needs matplotlib: the extra ``plots``.

::

    from upstroke import plots

    plots.tank_curve(sizing.curve).figure.savefig("curve.png")
    plots.lift_budget(sizing.candidates[0])
    plots.candidates(sizing)
"""

from collections.abc import Callable, Sequence
from typing import Final

import numpy as np
from matplotlib import pyplot as plt
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from ._columns import Series
from ._layout import figure as rounded
from ._layout import said, unit_word, words
from ._models import Candidate, FillColumns, Sizing, TankColumns
from ._quantity import Quantity

_DARK: Final = "0.25"
_LIGHT: Final = "0.75"
_HATCH: Final = "///"
_ROOM: Final = 1.18
"""Length of an axis over the longest bar on it, so that its figure fits beside it."""

_LINES: Final = (
    "static_water_level",
    "well_drawdown",
    "outlet_height",
    "rise",
    "pressure_head",
    "drop_pipe_friction",
    "conduit_friction",
    "fitting_losses",
    "check_valve",
)
_MEASURES: Final[tuple[tuple[str, Callable[[Candidate], Quantity]], ...]] = (
    ("Margin to rated lift", lambda candidate: candidate.lift_budget.margin),
    ("Hand force at the end", lambda candidate: candidate.effort.hand_force),
    ("Time of the fill", lambda candidate: candidate.fill.time),
)


def tank_curve(curve: FillColumns | TankColumns, axes: Axes | None = None) -> Axes:
    """Water in the tank over gauge pressure; of a fill also the strokes that it takes.

    Args:
        curve: of a sizing or stroke estimate, from the start of the fill; or of a tank curve.
        axes: where to draw; new ones where it is None.
    """
    drawn = axes or _axes(6.4, 4.2)
    if isinstance(curve, FillColumns):
        water, title, heading = (
            curve.water,
            "Water gained",
            "Filling the tank, with the strokes since the start",
        )
    else:
        water, title, heading = curve.stored_water, "Water in the tank", "What the tank holds"
    drawn.plot(curve.pressure.values, water.values, color="black", linewidth=2.0)
    if isinstance(curve, FillColumns):
        _mark_strokes(drawn, curve)
    drawn.set_xlabel(_labelled("Gauge pressure at the tank", curve.pressure))
    drawn.set_ylabel(_labelled(title, water))
    drawn.set_ylim(bottom=0.0)
    drawn.grid(visible=True, color="0.85")
    drawn.set_title(heading)
    return drawn


def _mark_strokes(axes: Axes, curve: FillColumns) -> None:
    """Marks at round numbers of strokes."""
    total = curve.strokes.values[-1]
    if total <= 0.0:
        return
    # A fifth to a tenth of the whole: 1, 2 or 5 and noughts.
    power = 10.0 ** np.floor(np.log10(total / 5.0))
    step = max(factor * power for factor in (1.0, 2.0, 5.0) if factor * power <= total / 5.0)
    counts = np.arange(step, total, step)
    pressures = np.interp(counts, curve.strokes.values, curve.pressure.values)
    waters = np.interp(counts, curve.strokes.values, curve.water.values)
    axes.plot(pressures, waters, "o", color="black", markerfacecolor="white", label="Strokes since the start")
    for count, pressure, water in zip(counts, pressures, waters, strict=True):
        axes.annotate(f"{count:,.0f}", (pressure, water), (6, -12), textcoords="offset points")
    axes.legend(loc="upper left")


def lift_budget(candidate: Candidate, axes: Axes | None = None) -> Axes:
    """The lines of the total head, each beginning where the one before ends, against the rated lift."""
    drawn = axes or _axes(6.8, 4.4)
    budget = candidate.lift_budget
    unit = budget.total_head.unit
    heads = [getattr(budget, name).value for name in _LINES]
    starts = [sum(heads[:place]) for place in range(len(heads))]
    names = [words(name).capitalize() for name in _LINES]
    bars = drawn.barh(
        [*names, "Total head"], [*heads, budget.total_head.value], left=[*starts, 0.0], color=_LIGHT
    )
    for bar in bars:
        bar.set(edgecolor="black", linewidth=0.8)
    bars[-1].set(facecolor=_DARK)
    longest = max(
        budget.total_head.value, budget.rated_lift.value, *(map(sum, zip(starts, heads, strict=True)))
    )
    for place, (start, head) in enumerate(
        zip([*starts, 0.0], [*heads, budget.total_head.value], strict=True)
    ):
        drawn.text(max(start, start + head) + 0.01 * longest, place, rounded(head), va="center")
    drawn.axvline(
        budget.rated_lift.value, color="black", linestyle="--", label=f"Rated lift {said(budget.rated_lift)}"
    )
    drawn.invert_yaxis()
    drawn.set_xlim(min(0.0, *starts), _ROOM * longest)
    drawn.set_xlabel(f"Head [{unit}]")
    drawn.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), frameon=False)
    drawn.set_title(f"{candidate.cylinder.name}: head at {said(budget.target)}")
    return drawn


def candidates(sizing: Sizing) -> Figure:
    """Every candidate's margin to its rated lift, hand force and time, best first.

    What fits is dark, what fits with limits is light, what does not fit is hatched; the recommended one is bold.

    Raises:
        ValueError: where there are no candidates, as in an answer that needs facts first.
    """
    if not sizing.candidates:
        raise ValueError(
            "there are no candidates to compare: the answer needs facts first, see its questions"
        )
    height = 1.6 + 0.42 * len(sizing.candidates)
    drawn, panels = plt.subplots(1, len(_MEASURES), sharey=True, figsize=(10.0, height), layout="constrained")
    for panel, (title, measure) in zip(panels, _MEASURES, strict=True):
        _compare(panel, title, sizing.candidates, [measure(candidate) for candidate in sizing.candidates])
    for label, candidate in zip(panels[0].get_yticklabels(), sizing.candidates, strict=True):
        label.set_fontweight("bold" if candidate.cylinder.id == sizing.recommended else "normal")
    drawn.suptitle("Candidates: " + "; ".join(_outcomes(sizing.candidates)), fontsize="medium")
    return drawn


def _compare(panel: Axes, title: str, compared: Sequence[Candidate], quantities: Sequence[Quantity]) -> None:
    values = [quantity.value for quantity in quantities]
    places = range(len(values))
    bars = panel.barh(places, values, edgecolor="black", linewidth=0.8)
    for bar, candidate in zip(bars, compared, strict=True):
        bar.set(**_style(candidate.outcome))
    reach = max(map(abs, values)) or 1.0
    for place, value in enumerate(values):
        panel.text(max(value, 0.0) + 0.02 * reach, place, rounded(value) if value else "none", va="center")
    panel.set_yticks(places, [candidate.cylinder.name for candidate in compared])
    if not panel.yaxis_inverted():
        panel.invert_yaxis()  # shared by all panels
    panel.set_xlim(min(0.0, *values) * _ROOM, max(0.0, *values) + 0.35 * reach)
    panel.axvline(0.0, color="black", linewidth=0.8)
    panel.set_xlabel(f"{title} [{unit_word(quantities[0].unit)}]")


def _style(outcome: str) -> dict[str, str]:
    if outcome == "fits":
        return {"facecolor": _DARK}
    return {"facecolor": _LIGHT} if outcome == "fits_with_limits" else {"facecolor": "white", "hatch": _HATCH}


def _outcomes(compared: Sequence[Candidate]) -> list[str]:
    """How many have each outcome, and how they are drawn."""
    drawn = {"fits": "dark", "fits_with_limits": "light"}
    outcomes = [candidate.outcome for candidate in compared]
    return [
        f"{words(each)}: {outcomes.count(each)} ({drawn.get(each, 'hatched')})"
        for each in dict.fromkeys(outcomes)
    ]


def _axes(width: float, height: float) -> Axes:
    _, axes = plt.subplots(figsize=(width, height), layout="constrained")
    return axes


def _labelled(title: str, column: Series) -> str:
    return f"{title} [{unit_word(column.unit)}]"
