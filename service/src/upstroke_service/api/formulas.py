"""The formulas: simple questions that an address alone asks, answered with one number.

Each stands for one figure of a calculation, runs that calculation and picks the figure out of its answer. Where the
figure would not answer the question, such as the strokes of a fill that never gets to its target, the answer is a
sentence in place of a number, so that no cell goes on calculating with it.
"""

import csv
import io
from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

import msgspec
from msgspec import UNSET, UnsetType

from upstroke_service.contract import answers, requests
from upstroke_service.contract.answered import Assumption, Finding
from upstroke_service.contract.quantities import Measured
from upstroke_service.contract.tanks import TankCurve
from upstroke_service.wording import said

from . import compute, sizings, tank_curves
from .access import FORMULA_FOLDER
from .compute import Context
from .formula_queries import Parameter, Query, named, read
from .problems import RequestProblem
from .reasons import RULING_OUT

MEDIA_TYPES = {"text": "text/plain", "csv": "text/csv"}
"""Media type of each word of the parameter 'format'."""

COLUMNS = ("kind", "name", "value", "unit", "text", "basis")


class Found(NamedTuple):
    """What a formula found: a figure, or sentences that say why there is none."""

    value: float | str
    unit: str
    instead: list[str]
    """Why no value answers the question; empty where it does."""
    notes: list[Finding]
    cautions: list[answers.Caution]
    answer: Any
    """The whole answer of the calculation."""


class Formula(NamedTuple):
    """A question: its name and words, the calculation it stands for, its parameters, and what picks its figure."""

    name: str
    operation_id: str
    summary: str
    description: str
    request: type[msgspec.Struct]
    calculation: Callable[[Any, Context], Any]
    parameters: tuple[Parameter, ...]
    find: Callable[[Any], Found]

    @property
    def path(self) -> str:
        """Its address."""
        return f"{FORMULA_FOLDER}{self.name}"

    @property
    def figure(self) -> str:
        """Name of its figure."""
        return self.operation_id.removeprefix("get_")

    def ask(self, query: Query, context: Context) -> Found:
        """The figure that a query asks for. Raises RequestProblem, whose pointers name parameters."""
        body = read(query, self.parameters, self.request)
        try:
            return self.find(self.calculation(msgspec.convert(body, self.request), context))
        except RequestProblem as problem:
            for place, fault in enumerate(problem.errors or ()):
                name = named(fault.pointer, self.parameters)
                if name and problem.errors:
                    problem.errors[place] = msgspec.structs.replace(fault, pointer=f"/{name}")
            raise


def _found(
    figure: Measured | float | str | UnsetType,
    answer: Any,
    notes: list[Finding],
    refusing: Iterable[str] = (),
    cautions: list[answers.Caution] | None = None,
) -> Found:
    """A figure with its notes; none where one of the notes is among those that refuse it."""
    codes = frozenset(refusing)
    instead = [note.text for note in notes if note.code in codes]
    if isinstance(figure, Measured):
        return Found(figure.value, figure.unit, instead, notes, cautions or [], answer)  # type: ignore[attr-defined]
    if isinstance(figure, UnsetType):
        return Found("", "", instead, notes, cautions or [], answer)
    return Found(figure, "", instead, notes, cautions or [], answer)


def _total_head(answer: answers.LiftBudgets) -> Found:
    (entry,) = answer.lift_budgets
    return _found(entry.lift_budget.total_head, answer, entry.findings)


def _lift_margin(answer: answers.LiftBudgets) -> Found:
    (entry,) = answer.lift_budgets
    return _found(entry.lift_budget.margin, answer, entry.findings)


_NO_FILL = RULING_OUT | {"stops_early"}
_NO_FORCE = _NO_FILL - {"hand_force_exceeded", "hand_force_exceeded_at_rest"}


def _strokes(answer: answers.StrokeEstimates) -> Found:
    (entry,) = answer.stroke_estimates
    return _found(entry.fill.strokes, answer, entry.findings, _NO_FILL)


def _pumping_time(answer: answers.StrokeEstimates) -> Found:
    (entry,) = answer.stroke_estimates
    return _found(entry.fill.time, answer, entry.findings, _NO_FILL)


def _hand_force(answer: answers.StrokeEstimates) -> Found:
    (entry,) = answer.stroke_estimates
    return _found(entry.effort.hand_force, answer, entry.findings, _NO_FORCE)


def _tank_drawdown(answer: TankCurve) -> Found:
    refusing = {"curve_stops", "target_below_storage"}
    return _found(answer.usable_drawdown, answer, answer.findings, refusing)


def _stored_pressure(answer: TankCurve) -> Found:
    refusing = {"volume_above_tank", "above_acceptance", "volume_above_limit"}
    # What the curve between assumed pressures does is not what is asked.
    notes = [one for one in answer.findings if one.code not in {"curve_stops", "target_below_storage"}]
    return _found(answer.pressure_at_stored_volume, answer, notes, refusing)


def _recommended(answer: answers.Sizing) -> Found:
    found = _found(answer.recommended, answer, _reasons_of_best(answer), cautions=answer.cautions)
    return found if answer.recommended is not UNSET else found._replace(instead=[answer.summary])


def _reasons_of_best(answer: answers.Sizing) -> list[Finding]:
    return answer.candidates[0].reasons if answer.candidates else []


_WELL = (
    Parameter("static_water_level", ("well", "static_water_level"), 60, "ft", required=True),
    Parameter("well_drawdown", ("well", "well_drawdown"), 5, "ft"),
    Parameter("site_elevation", ("well", "site_elevation"), 900, "ft"),
)
_WAY = (
    Parameter("outlet_height", ("pump", "outlet_height"), 3, "ft"),
    Parameter("rise", ("conduit", "rise"), 4, "ft"),
    Parameter(
        "hose_length",
        ("conduit", "runs", 0, "length"),
        40,
        "ft",
        text="Length of the hose from the pump outlet to the tank.",
    ),
    Parameter(
        "hose_inside_diameter",
        ("conduit", "runs", 0, "inside_diameter"),
        0.75,
        "in",
        text="Inside diameter of that hose.",
    ),
)
_TARGET = (
    Parameter("start", ("pressures", "start"), 30, "psi", text="Gauge pressure at which pumping begins."),
    Parameter(
        "target",
        ("pressures", "target"),
        50,
        "psi",
        required=True,
        text="Gauge pressure to which the tank should be filled.",
    ),
)
_IS_SWITCH = (("site", "supply", "kind"), "pressure_switch")
_SUPPLY = (
    Parameter(
        "cut_in",
        ("site", "supply", "cut_in"),
        30,
        "psi",
        text="Gauge pressure at which the pressure switch starts the electric pump.",
        beside=_IS_SWITCH,
    ),
    Parameter(
        "cut_out",
        ("site", "supply", "cut_out"),
        50,
        "psi",
        text="Gauge pressure at which the pressure switch stops the electric pump.",
        beside=_IS_SWITCH,
    ),
)
_TANK = (
    Parameter("tank_kind", ("tank", "kind"), "bladder"),
    Parameter("total_volume", ("tank", "total_volume"), 44, "gal", required=True),
    Parameter("precharge", ("tank", "precharge"), 28, "psi"),
)
_PEOPLE = (
    Parameter("profile", ("operator", "profile"), "ordinary_adult"),
    Parameter("people", ("operator", "people"), 1),
)
_CATALOGUE = Parameter("catalogue", ("selection", "catalogue"), "demo")
_CYLINDER = (
    Parameter(
        "cylinder",
        ("selection", "ids", 0),
        "lift-1-1-4-300",
        required=True,
        text="Id of one cylinder of the catalogue.",
    ),
    _CATALOGUE,
)
_FILL = (*_WELL, *_WAY, *_TANK, *_SUPPLY, *_TARGET, *_PEOPLE, *_CYLINDER)


def _optional(parameters: Iterable[Parameter], *names: str) -> tuple[Parameter, ...]:
    """The same parameters; those named may be left out."""
    return tuple(one._replace(required=one.required and one.name not in names) for one in parameters)


FORMULAS = (
    Formula(
        "total-heads",
        "get_total_head",
        "Total dynamic head",
        "How high the water must go, friction and the target pressure counted as height: the total_head of POST "
        "/v1/lift-budgets. In ft, or in m with units=si.",
        requests.LiftBudgetRequest,
        compute.lift_budgets,
        (*_WELL, *_WAY, *_TARGET[1:], *_CYLINDER),
        _total_head,
    ),
    Formula(
        "lift-margins",
        "get_lift_margin",
        "Lift margin",
        "The cylinder's rated lift less the total dynamic head; negative where it is too much for the cylinder: the "
        "margin of POST /v1/lift-budgets. In ft, or in m with units=si.",
        requests.LiftBudgetRequest,
        compute.lift_budgets,
        (*_WELL, *_WAY, *_TARGET[1:], *_CYLINDER),
        _lift_margin,
    ),
    Formula(
        "strokes",
        "get_strokes",
        "Strokes of a fill",
        "Full cycles of the handle from start to target: the strokes of POST /v1/stroke-estimates.",
        requests.StrokeEstimateRequest,
        compute.stroke_estimates,
        _FILL,
        _strokes,
    ),
    Formula(
        "pumping-times",
        "get_pumping_time",
        "Pumping time of a fill",
        "Minutes from start to target, rests included: the time of POST /v1/stroke-estimates.",
        requests.StrokeEstimateRequest,
        compute.stroke_estimates,
        _FILL,
        _pumping_time,
    ),
    Formula(
        "hand-forces",
        "get_hand_force",
        "Hand force at the end of a fill",
        "Peak force at the grip at the target pressure: the hand_force of POST /v1/stroke-estimates. In lbf, or in N "
        "with units=si.",
        requests.StrokeEstimateRequest,
        compute.stroke_estimates,
        _FILL,
        _hand_force,
    ),
    Formula(
        "tank-drawdowns",
        "get_tank_drawdown",
        "Usable drawdown of a tank",
        "Water that the tank gives between the start and the target pressure: the usable_drawdown of POST "
        "/v1/tank-curves. In US gal, or in L with units=si.",
        requests.TankCurveRequest,
        tank_curves.tank_curve,
        (*_TANK[1:], *_SUPPLY, *_TARGET, _WELL[2]),
        _tank_drawdown,
    ),
    Formula(
        "stored-pressures",
        "get_stored_pressure",
        "Pressure at a stored volume",
        "Gauge pressure at which the tank holds so much water: the pressure_at_stored_volume of POST /v1/tank-curves. "
        "In psi, or in kPa with units=si.",
        requests.TankCurveRequest,
        tank_curves.tank_curve,
        (
            Parameter("stored_volume", ("stored_volume",), 5, "gal", required=True),
            *_TANK[1:],
            *_SUPPLY,
            _WELL[2],
        ),
        _stored_pressure,
    ),
    Formula(
        "recommended-cylinders",
        "get_recommended_cylinder",
        "Recommended cylinder",
        "The id of the cylinder that POST /v1/sizings recommends. Its CSV form also has the cautions, which belong to "
        "every recommendation.",
        requests.SizingRequest,
        sizings.size,
        (
            *_optional(_WELL, "static_water_level"),
            *_WAY,
            *_optional(_TANK, "total_volume"),
            *_SUPPLY,
            *_optional(_TARGET, "target"),
            *_PEOPLE,
            _CATALOGUE,
        ),
        _recommended,
    ),
)
"""Every formula."""


def example(formula: Formula) -> dict[str, list[str]]:
    """An invented query of a formula, with the facts that it needs."""
    query: dict[str, list[str]] = {}
    for parameter in formula.parameters:
        if parameter.required or parameter.name == "static_water_level":
            query[parameter.name] = [str(parameter.example)]
            if parameter.unit:
                query[parameter.unit_name] = [parameter.unit]
    return query


def as_text(found: Found) -> bytes:
    """The bare number, or the sentences that stand in its place."""
    return (" ".join(found.instead) or _plain(found.value)).encode()


def as_csv(found: Found, formula: Formula) -> bytes:
    """The number with all that it rests on, one thing a line."""
    text = io.StringIO()
    lines = csv.writer(text)
    lines.writerow(COLUMNS)
    lines.writerows(_rows(found, formula))
    return text.getvalue().encode()


def _rows(found: Found, formula: Formula) -> Iterable[tuple[str, ...]]:
    answer = found.answer
    figure = ("", "") if found.instead else (_plain(found.value), found.unit)
    version = said("formula", "version", version=answer.model_version)
    yield (
        "answer",
        formula.figure,
        *figure,
        " ".join(found.instead) or said("formula", formula.name),
        version,
    )
    for note in found.notes:
        value = "" if note.value is UNSET else _plain(note.value)
        unit = "" if note.unit is UNSET else note.unit
        yield ("note", note.code, value, unit, note.text, "")
    for caution in found.cautions:
        basis = "; ".join(one.citation for one in caution.basis)
        yield ("caution", caution.code, "", "", f"{caution.signal}: {caution.text} {caution.who}", basis)
    yield from (_assumed(one) for one in answer.assumptions)
    catalogue: answers.CatalogueUsed | None = getattr(answer, "catalogue", None)
    if catalogue is not None:
        yield ("catalogue", catalogue.name, "", "", catalogue.notice, "")
    yield ("scope", formula.figure, "", "", answer.scope, "")


def _assumed(one: Assumption) -> tuple[str, ...]:
    value = "" if one.value is UNSET else _plain(one.value)
    return ("assumption", one.pointer, value, "" if one.unit is UNSET else one.unit, one.text, one.basis)


def _plain(value: float | str) -> str:
    return value if isinstance(value, str) else msgspec.json.encode(value).decode()
