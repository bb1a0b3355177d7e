"""The record of validation: every check value and every sweep, with ours beside the reference."""

import collections
import functools
import itertools
import operator
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib import import_module

import grimp
from tests.physics.published_values import COMPARISONS, KINDS, PublishedValue, Stated
from tests.physics.sweeps import Sweep, Swept
from tests.validation.check import Check
from tests.validation.markdown import COLUMNS, item, paragraph, table

from upstroke_service import physics


@dataclass(frozen=True)
class Report:
    """Everything that was compared."""

    checks: Sequence[Check]
    sweeps: Sequence[tuple[Sweep, Swept]]

    @property
    def disagreements(self) -> list[str]:
        """The ids of all that lie outside their tolerance."""
        values = [check.value.id for check in self.checks if not check.agrees]
        # Written so that a difference that is not a number counts as one.
        return values + [sweep.id for sweep, found in self.sweeps if not found.share_of_tolerance <= 1.0]

    def lines(self) -> Iterator[str]:
        """Yield the lines of the report."""
        yield "# Validation of the physics"
        yield ""
        yield from paragraph(
            "Each value as its source states it and in its units, ours beside it, the difference (ours less "
            "the reference), and the share of the tolerance that the difference uses. 'Published' values were "
            "read in the source named; 'library' values come from another program; 'worked' ones were worked by "
            "hand; 'memory' ones were not compared with a copy; 'common-practice' ones have no source."
        )
        ordered = sorted(self.checks, key=lambda check: (check.model, check.value.quantity))
        for model, checks in itertools.groupby(ordered, operator.attrgetter("model")):
            yield from ("", f"## {model}", "", *paragraph(_about(model)))
            for quantity, several in itertools.groupby(checks, lambda check: check.value.quantity):
                yield from _quantity(quantity, list(several))
        yield from _swept(self.sweeps)
        yield from _summary(ordered)
        yield ""
        yield from paragraph(self.closing())

    def closing(self) -> str:
        """Count the values of each kind, and say whether all agree and how close the closest came."""
        counted = collections.Counter(check.value.kind for check in self.checks)
        kinds = ", ".join(f"{counted[kind]} {kind}" for kind in KINDS if counted[kind])
        points = sum(found.points for _, found in self.sweeps)
        largest = max(self.checks, key=operator.attrgetter("share_of_tolerance"))
        outside = ", ".join(self.disagreements)
        return (
            f"{len(self.checks)} check values ({kinds}), and {points} points in {len(self.sweeps)} sweeps. "
            f"The largest share of a tolerance used by a check value is {_share(largest.share_of_tolerance)} "
            f"({largest.value.id}). "
            + (f"OUTSIDE their tolerance: {outside}." if outside else "All are within their tolerance.")
        )


def _about(model: str) -> str:
    documentation = import_module(f"{physics.__name__}.{model}").__doc__ or ""
    return documentation.splitlines()[0] + ("" if model in in_use() else " No answer uses this yet.")


@functools.cache
def in_use() -> frozenset[str]:
    """Return the modules of the physics that an answer is computed with, directly or through others."""
    graph = grimp.build_graph("upstroke_service", cache_dir=None)
    modules = graph.find_children(physics.__name__)
    used = (
        module
        for module in modules
        if graph.chain_exists(importer="upstroke_service.api", imported=module, as_packages=True)
    )
    return frozenset(module.rpartition(".")[2] for module in used)


def _quantity(quantity: str, checks: Sequence[Check]) -> Iterator[str]:
    yield from ("", f"### {quantity}")
    for _, series in itertools.groupby(checks, lambda check: check.value.series):
        yield from _series(list(series))


def _series(checks: Sequence[Check]) -> Iterator[str]:
    """Yield what the values of a series share, and a table of what differs."""
    value = checks[0].value
    varying = _varying(checks)
    shared = [name for name in value.stated_arguments if name not in varying]
    yield ""
    yield from paragraph(_provenance(value) + (f" Given: {_listed(value, shared)}." if shared else ""))
    yield ""
    outcome = ["ours" + (f", {checks[0].unit}" if checks[0].unit else ""), "reference", "difference"]
    outcome += ["tolerance", "used"]
    headings = ["check", *(_heading(checks, name) for name in varying), *outcome]
    rows = [
        [check.value.id, *(_number(check.value, name) for name in varying), *_outcome(check)]
        for check in checks
    ]
    lines = table(headings, rows, range(1, len(headings)))
    if len(lines[0]) <= COLUMNS:
        yield from lines
        return
    yield from table(
        ["check", *outcome], [[check.value.id, *_outcome(check)] for check in checks], range(1, 6)
    )
    yield ""
    for check in checks:
        yield from item(f"{check.value.id}: {_listed(check.value, varying)}")


def _varying(checks: Sequence[Check]) -> list[str]:
    """Return the arguments in which the values of a series differ."""
    names = dict.fromkeys(name for check in checks for name in check.value.stated_arguments)
    return [name for name in names if len({check.value.stated_arguments.get(name) for check in checks}) > 1]


def _provenance(value: PublishedValue) -> str:
    source = value.source
    about = f"{value.kind.capitalize()}: {source.author}, {source.title}, {source.edition}; {value.locator}."
    if value.derivation:
        # Formulas hold signs that Markdown would take for its own.
        formula = f"`{value.derivation}`" if set("*_") & set(value.derivation) else value.derivation
        about += f" Derivation: {formula}."
    return f"{about} Tolerance: {value.why_tolerance}."


def _listed(value: PublishedValue, names: Sequence[str]) -> str:
    given = [(name, value.stated_arguments[name]) for name in names if name in value.stated_arguments]
    return ", ".join(f"{name} {_with_unit(stated)}" for name, stated in given)


def _outcome(check: Check) -> list[str]:
    tolerance = check.value.stated_span(check.value.tolerance)
    share = _share(check.share_of_tolerance) + ("" if check.agrees else " OUTSIDE")
    return [f"{check.ours:.8g}", check.reference, f"{check.difference:+.2g}", f"{tolerance:.2g}", share]


def _share(share: float) -> str:
    return "< 1 %" if 0.0 < share < 0.005 else f"{100.0 * share:.0f} %"


def _with_unit(stated: Stated) -> str:
    return f"{stated.value:.10g}" + ("" if stated.unit == "1" else f" {stated.unit}")


def _number(value: PublishedValue, name: str) -> str:
    stated = value.stated_arguments.get(name)
    return "" if stated is None else f"{stated.value:.10g}"


def _heading(checks: Sequence[Check], name: str) -> str:
    given = (check.value.stated_arguments.get(name) for check in checks)
    unit = next(stated.unit for stated in given if stated is not None)
    return name if unit == "1" else f"{name}, {unit}"


def _swept(sweeps: Sequence[tuple[Sweep, Swept]]) -> Iterator[str]:
    """Yield a line for each sweep; their references are computed at run time."""
    yield from ("", "## Sweeps against independent libraries", "")
    headings = ["quantity", "reference", "points", "largest difference", "used"]
    rows = [
        [
            sweep.quantity,
            sweep.reference,
            str(found.points),
            f"{found.largest_difference:.2g}",
            _share(found.share_of_tolerance) + ("" if found.share_of_tolerance <= 1.0 else " OUTSIDE"),
        ]
        for sweep, found in sweeps
    ]
    yield from table(headings, rows, (2, 3, 4))
    yield ""
    for sweep, _ in sweeps:
        yield from item(
            f"{sweep.quantity}, {sweep.reference}, over {sweep.over}. Tolerance: {sweep.why_tolerance}."
        )


def _summary(checks: Sequence[Check]) -> Iterator[str]:
    """Yield one row for each quantity: the value that uses the most of its tolerance."""
    yield from ("", "## Each quantity at its largest difference", "")
    rows = []
    for model, of_model in itertools.groupby(checks, operator.attrgetter("model")):
        rows.append([f"**{model}**", "", "", "", ""])
        for quantity, several in itertools.groupby(of_model, lambda check: check.value.quantity):
            worst = max(several, key=operator.attrgetter("share_of_tolerance"))
            reference = f"{worst.value.stated_expected.value:.6g} {worst.unit}".rstrip()
            difference = f"{worst.difference:+.2g}"
            name = quantity.removeprefix(f"{model}.")
            rows.append([name, f"{worst.ours:.6g}", reference, difference, worst.value.source_key])
    headings = ["quantity", "ours", "reference", "difference", "source"]
    yield from table(headings, rows, (1, 2, 3))
    yield ""
    yield from paragraph(
        "Sources by their keys in tests/published/sources.toml. Tables with a shape and a test of their own are "
        f"not repeated here: {', '.join(f'tests/published/{name}.toml' for name in COMPARISONS)}."
    )
