"""Sizing a table: from record batch to record batch, a site a row."""

import copy
from collections.abc import Sequence
from typing import Any, Final, Literal, NamedTuple

import msgspec
import numpy as np
import pyarrow as pa
import structlog

from upstroke_service import logs
from upstroke_service.api import bodies, sizings
from upstroke_service.api.assumed import Reading, block
from upstroke_service.api.candidates import OUTCOMES
from upstroke_service.api.cautioning import caution_codes
from upstroke_service.api.compute import Context
from upstroke_service.api.lineups import select
from upstroke_service.contract.cylinders import Selection
from upstroke_service.contract.facts import Pump
from upstroke_service.contract.quantities import Measured
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.physics.real import Array, Indices
from upstroke_service.sizing.assessment import DOES_NOT_FIT
from upstroke_service.sizing.facts import Flags
from upstroke_service.units import significant

from .assessing import AT_ONCE, LIMIT, Found, assess_rows, densities_of, rows_of
from .cells import UnusableColumn
from .columns import ANSWER, ANSWER_COLUMN, Result, candidate_columns, fact_columns, result_columns
from .facts import Facts, request_of_row
from .findings import GOVERNING, choice_flags, finding_flags, governing, lists_of, site_flags
from .gaps import NOWHERE
from .reading import Rows, Template, read_rows

Detail = Literal["compact", "candidates", "full"]

_NAMED: Final = {
    "lift_margin": "margin",
    "end": "end",
    "strokes": "strokes",
    "time": "seconds",
    "hand_force": "force_at_end",
    "water": "volume",
    "reserve": "reserve",
}
"""Columns of figures and what they are called while they are computed."""

_INVALID, _CONTRADICTORY, _DEFECT = "invalid-field", "contradictory-facts", "internal-error"


class _Sized(NamedTuple):
    """Rows that were assessed: their places in the batch, and what was found."""

    places: Indices
    found: Found


class TableSizer:
    """Sizes record batches of one table: a site a row, what all rows share in a request.

    Columns named by the JSON Pointers of facts hold these, with their unit in the metadata ``unit`` of the
    field; nothing in a cell means that the row says nothing, so that the request's fact counts, or the same
    assumption as for a single request. Other columns are carried over.
    """

    def __init__(self, template: dict[str, Any], context: Context, detail: Detail = "compact") -> None:
        """The ``template`` is a request to POST /v1/sizings, as plain objects. Raises RequestProblem."""
        self._document = copy.deepcopy(template)
        self._context = context
        self._detail = detail
        request = bodies.filled(template, SizingRequest)
        self._template = Template(request)
        reading = Reading()
        self._chosen = select(
            block(request.selection, Selection), block(request.pump, Pump), context.catalogues, reading
        )
        reading.close()
        self._assumed_of_candidates = tuple(reading.assumed)
        self._ids = np.array([one.id for one in self._chosen.cylinders], dtype=object)
        self._lifts = np.array([one.kind == "lift" for one in self._chosen.cylinders])
        self._densities = densities_of([one.drop_pipe_material for one in self._chosen.cylinders])
        catalogue = self._chosen.catalogue
        self._invented = catalogue is not None and catalogue.invented

    def schema(self, given: pa.Schema) -> pa.Schema:
        """The columns of the results for a table of the ``given`` columns. Raises UnusableColumn."""
        carried = [field for field in given if not field.name.startswith("/")]
        results = [one.field(self._context.style.system) for one in self._results()]
        taken = {field.name for field in results}
        clashing = ", ".join(field.name for field in carried if field.name in taken)
        if clashing:
            raise UnusableColumn(
                f"{clashing}: results have columns of these names; rename yours to have them carried over"
            )
        return pa.schema([*carried, *results], metadata=given.metadata)

    def _results(self) -> tuple[Result, ...]:
        more = {
            "compact": (),
            "candidates": candidate_columns(),
            "full": (*candidate_columns(), ANSWER_COLUMN),
        }
        return (*result_columns(), *more[self._detail])

    def size(self, batch: pa.RecordBatch) -> pa.RecordBatch:
        """The results of each row of ``batch``, in its order. Raises UnusableColumn."""
        schema = self.schema(batch.schema)
        facts = Facts(batch, self._document)
        rows = read_rows(facts, self._template)
        problems = _problems(facts, rows)
        level = np.broadcast_to(facts.known("/well/static_water_level"), (facts.count,))
        sized = self._assess(rows, facts, level & ~_any(problems, facts.count), problems)
        answers = self._answers(batch, problems) if self._detail == "full" else None
        columns = self._columns(facts, rows, sized, problems)
        if answers is not None:
            columns[ANSWER] = answers
        # By place: a table may have several columns of one name.
        carried = [
            batch.column(place) for place, field in enumerate(batch.schema) if not field.name.startswith("/")
        ]
        arrays = [*carried, *(columns[one.name] for one in self._results())]
        return pa.RecordBatch.from_arrays(arrays, schema=schema)

    def _assess(
        self, rows: Rows, facts: Facts, usable: Flags, problems: list[tuple[str, str, Flags]]
    ) -> list[_Sized]:
        """The usable rows assessed: those that state the depth of the cylinder apart from those that don't."""
        deep = np.broadcast_to(facts.known("/pump/cylinder_depth"), (facts.count,))
        step = max(AT_ONCE // len(self._ids), 1)
        sized: list[_Sized] = []
        for some, stated in ((usable & deep, True), (usable & ~deep, False)):
            (places,) = np.nonzero(some)
            for first in range(0, len(places), step):
                sized += self._pass(rows, places[first : first + step], problems, stated=stated)
        return sized

    def _pass(
        self, rows: Rows, places: Indices, problems: list[tuple[str, str, Flags]], *, stated: bool
    ) -> list[_Sized]:
        site = rows_of(rows.site, places)
        if not stated:
            site = msgspec.structs.replace(site, cylinder_depth=None)
        rise = np.asarray(rows.floor_rise)
        floor_rise = rise[places] if rise.ndim else np.full(len(places), rise.item())
        try:
            found = assess_rows(
                site,
                floor_rise,
                self._chosen.lineup,
                self._densities,
                candidates=self._detail != "compact",
            )
        except Exception as error:  # noqa: BLE001 - a defect must not cost other rows their results
            if len(places) > 1:
                halves = np.array_split(places, 2)
                return [one for half in halves for one in self._pass(rows, half, problems, stated=stated)]
            problems.append(_defect(error, places, rows.gaps.facts.count))
            return []
        return [_Sized(places, found)]

    def _columns(
        self, facts: Facts, rows: Rows, sized: Sequence[_Sized], problems: list[tuple[str, str, Flags]]
    ) -> dict[str, pa.Array]:
        count = facts.count
        places = np.concatenate([one.places for one in sized]) if sized else np.zeros(0, dtype=np.int64)
        refused = _any(problems, count)
        some = np.zeros(count, dtype=np.bool_)
        some[places] = ~refused[places]
        best = _whole([one.found.best for one in sized], places, count)
        order = np.zeros(count, dtype=np.int64)
        if sized:
            order[places] = np.concatenate([one.found.order[:, 0] for one in sized])
        fits = some & (best["outcome"] != DOES_NOT_FIT) if sized else some
        columns = {
            **self._figures(best, some, fits),
            "verdict": _verdicts(best, some, fits, refused),
            "recommended": _text(self._ids, order, fits),
            "nearest": _text(self._ids, order, some & ~fits),
            "governed_by": _text(GOVERNING, governing(best) if sized else order, some),
            **_problem_columns(problems, refused, count),
        }
        assumed: dict[str, Any] = {**rows.gaps.assumed}
        assumed |= dict.fromkeys(self._assumed_of_candidates, np.asarray(True))  # noqa: FBT003 - of all rows
        columns["assumed"] = _lists({name: assumed[name] for name in sorted(assumed)}, count, ~refused)
        reach = np.array([best[name] for name in best if name.startswith(LIMIT)])
        columns["findings"] = _lists(finding_flags(best, reach) if sized else {}, count, ~refused, some)
        choice = _whole([one.found.choice for one in sized], places, count)
        holding = self._circumstances(rows, choice, order, some, fits)
        cautions = lists_of(holding, count, caution_codes)
        columns["cautions"] = _only(cautions, ~refused)
        if self._detail != "compact":
            columns |= self._candidates(sized, places, some)
        return columns

    def _figures(self, best: dict[str, Array], some: Flags, fits: Flags) -> dict[str, pa.Array]:
        columns: dict[str, pa.Array] = {}
        for one in result_columns():
            if one.name in _NAMED:
                shown = some if one.name == "lift_margin" else fits
                values = best.get(_NAMED[one.name], np.zeros(len(some)))
                columns[one.name] = pa.array(self._rounded(one.kind, values), mask=~shown)
        return columns

    def _rounded(self, kind: type[Measured] | None, values: Array) -> Array:
        if kind is None:
            return significant(values)
        out = self._context.style.outputs[kind]
        return significant((values - out.offset) / out.scale)

    def _circumstances(
        self, rows: Rows, choice: dict[str, Array], order: Indices, some: Flags, fits: Flags
    ) -> dict[str, Any]:
        facts = rows.gaps.facts
        found = site_flags(facts, rows.site, rows.hose, invented=self._invented)
        found |= dict.fromkeys(self._template.connections, ~np.asarray(rows.site.open))
        proposed = fits | ~some
        any_lift = np.full(facts.count, self._lifts.any())
        found |= {
            "pumped_by_hand": proposed,
            "well_opened": proposed,
            "lift_pump": np.where(fits, self._lifts[order], any_lift),
        }
        if not fits.any():
            return found
        frost = np.broadcast_to(rows.gaps.given("/site/frost_depth", 0.0), (facts.count,))
        never = np.broadcast_to(facts.is_word("/site/freezes", "no"), (facts.count,))
        chosen = choice_flags(choice, frost, never)
        return found | {name: fits & flags for name, flags in chosen.items()}

    def _candidates(self, sized: Sequence[_Sized], places: Indices, some: Flags) -> dict[str, pa.Array]:
        """Lists of the candidates of ``some`` rows, which were assessed; none of the others."""
        width = len(self._ids)
        back = np.zeros(len(some), dtype=np.int64)
        back[places] = np.arange(len(places))
        taken = pa.array(back, mask=~some)

        def column(values: pa.Array) -> pa.Array:
            offsets = pa.array(np.arange(0, len(values) + 1, width, dtype=np.int32))
            return pa.ListArray.from_arrays(offsets, values).take(taken)

        def joined(name: str) -> Array:
            parts = [one.found.each[name] for one in sized]
            return np.concatenate(parts).reshape(-1) if parts else np.zeros(0)

        order = [one.found.order for one in sized]
        ids = np.concatenate(order).reshape(-1) if order else np.zeros(0, dtype=np.int64)
        columns = {
            "candidate_ids": column(_text(self._ids, ids)),
            "candidate_outcomes": column(_text(OUTCOMES, joined("outcome"))),
            "candidate_governed_by": column(_text(GOVERNING, joined("governed_by"))),
        }
        for one in candidate_columns():
            if one.name not in columns:
                values = joined(one.name.removeprefix("candidate_"))
                columns[one.name] = column(pa.array(self._rounded(one.kind, values)))
        return columns

    def _answers(self, batch: pa.RecordBatch, problems: list[tuple[str, str, Flags]]) -> pa.Array:
        """Each row's whole answer, through the calculation of a single request; none of those with problems."""
        answers: list[str | None] = [None] * batch.num_rows
        (sound,) = np.nonzero(~_any(problems, batch.num_rows))
        for row in sound.tolist():
            try:
                document = request_of_row(batch, row, self._document)
                answer = sizings.size(bodies.filled(document, SizingRequest), self._context)
                answers[row] = msgspec.json.encode(answer).decode()
            except Exception as error:  # noqa: BLE001 - a defect must not cost other rows their results
                problems.append(_defect(error, np.array([row]), batch.num_rows))
        return pa.array(answers, pa.string())


def _problems(facts: Facts, rows: Rows) -> list[tuple[str, str, Flags]]:
    """Problem codes with the pointer and the rows that have them; what is unreadable hides contradictions."""
    unreadable = np.zeros(facts.count, dtype=np.bool_)
    found: list[tuple[str, str, Flags]] = []
    for pointer, where in facts.faults.items():
        unreadable |= where
        found.append((_INVALID, pointer, np.broadcast_to(where, (facts.count,))))
    for pointer, where in rows.gaps.contradictions:
        readable = np.broadcast_to(where, (facts.count,)) & ~unreadable
        if readable.any():
            found.append((_CONTRADICTORY, pointer, readable))
    return found


def _defect(error: Exception, places: Indices, count: int) -> tuple[str, str, Flags]:
    """The problem of the rows at ``places``, which could not be sized; the error is logged."""
    structlog.get_logger().error("unhandled_error", error=type(error).__name__, places=logs.places(error))
    where = np.zeros(count, dtype=np.bool_)
    where[places] = True
    return _DEFECT, "", where


def _any(problems: Sequence[tuple[str, str, Flags]], count: int) -> Flags:
    found = np.zeros(count, dtype=np.bool_)
    for _, _, where in problems:
        found |= where
    return found


def _problem_columns(
    problems: Sequence[tuple[str, str, Flags]], refused: Flags, count: int
) -> dict[str, pa.Array]:
    codes = (_INVALID, _CONTRADICTORY, _DEFECT)
    code = np.zeros(count, dtype=np.int64)
    pointers: dict[str, Any] = {}
    for name, pointer, where in problems:
        code[where] = codes.index(name)
        if pointer:
            pointers[pointer] = pointers.get(pointer, NOWHERE) | where
    in_order = {pointer: pointers[pointer] for pointer in fact_columns() if pointer in pointers}
    return {"problem": _text(codes, code, refused), "pointers": _lists(in_order, count, refused)}


def _whole(parts: Sequence[dict[str, Array]], places: Indices, count: int) -> dict[str, Array]:
    """Columns of all rows from those of the rows at ``places``; zero where nothing was found."""
    if not parts:
        return {}
    whole = {name: np.zeros(count) for name in parts[0]}
    for name, column in whole.items():
        column[places] = np.concatenate([part[name] for part in parts])
    return whole


def _verdicts(best: dict[str, Array], some: Flags, fits: Flags, refused: Flags) -> pa.Array:
    names = (*OUTCOMES[:DOES_NOT_FIT], "nothing_fits", "needs_facts")
    code = np.full(len(some), names.index("needs_facts"))
    if best:
        code = np.where(some, np.where(fits, best["outcome"], names.index("nothing_fits")), code)
    return _text(names, code, ~refused)


def _text(names: Any, places: Array | Indices, shown: Flags | None = None) -> pa.Array:
    """The name at each of the ``places``, of the rows that are ``shown``."""
    mask = None if shown is None else ~shown
    return pa.array(list(names), pa.string()).take(pa.array(places.astype(np.int64), mask=mask))


def _lists(flags: dict[str, Any], count: int, shown: Flags, filled: Flags | None = None) -> pa.Array:
    """Names whose flags hold in each row: none where not ``filled``, nothing at all where not ``shown``."""
    if filled is not None:
        flags = {name: flag & filled for name, flag in flags.items()}
    return _only(lists_of(flags, count), shown)


def _only(lists: pa.Array, shown: Flags) -> pa.Array:
    if shown.all():
        return lists
    return lists.take(pa.array(np.arange(len(lists)), mask=~shown))
