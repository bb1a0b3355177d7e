"""The same facts in other units are the same facts."""

from collections.abc import Iterator
from typing import Any

import msgspec
import numpy as np
import pytest
from tests.service.in_process import CALCULATIONS, start
from tests.service.sites import CYLINDER, SITE, changed, own, quantity

from upstroke_service.api import bodies
from upstroke_service.api.assumed import Reading
from upstroke_service.api.operation import examples, quotes
from upstroke_service.api.resources import HANDLERS
from upstroke_service.api.translate import read_site
from upstroke_service.contract.requests import SizingRequest
from upstroke_service.units import UNITS

SERVICE = start()
KINDS = {
    next(iter(handler.paths)): handler.opt["operation"].request
    for handler in HANDLERS
    if "operation" in handler.opt and handler.opt["operation"].request
}
FACTS = {**quotes(), "plain site": SITE, "own cylinder": own(CYLINDER)}

# Each unit with the one of its dimension that the other system uses.
OTHERS = {
    "ft": "m",
    "in": "mm",
    "psi": "kPa",
    "gal": "L",
    "lbf": "N",
    "degF": "degC",
    "gpm/ft": "L/s/m",
    "bar": "psi",
}
OTHER = {**OTHERS, **{other: unit for unit, other in OTHERS.items() if unit != "bar"}}
# "psi" also is a unit of the modulus, which comes later in the table.
DIMENSIONS = {unit: dimension for dimension, units in reversed(UNITS.items()) for unit in units}


def converted(facts: Any) -> Any:
    """The same facts with every quantity in the other system's unit."""
    if isinstance(facts, list):
        return [converted(item) for item in facts]
    if not isinstance(facts, dict):
        return facts
    if facts.keys() == {"value", "unit"}:
        unit = str(facts["unit"])
        units = UNITS[DIMENSIONS[unit]]
        other = OTHER.get(unit, unit)
        return {"value": units[other].from_si(units[unit].to_si(facts["value"])), "unit": other}
    return {field: converted(value) for field, value in facts.items()}


def numbers(part: object, place: str = "") -> Iterator[tuple[str, float]]:
    """Every number of the facts that a sizing gets, by its place."""
    if isinstance(part, msgspec.Struct):
        for name in part.__struct_fields__:
            yield from numbers(getattr(part, name), f"{place}/{name}")
    elif isinstance(part, tuple):
        for index, item in enumerate(part):
            yield from numbers(item, f"{place}/{index}")
    elif isinstance(part, int | float | np.ndarray):
        yield place, float(part)


def read(facts: object) -> dict[str, float]:
    reading = Reading()
    site = read_site(bodies.decode(msgspec.json.encode(facts), SizingRequest), reading)
    found = dict(numbers(site))
    found |= {one.pointer: one.value for one in reading.assumed.values() if one.value is not None}
    return found


@pytest.mark.parametrize("name", FACTS)
def test_facts_of_the_two_systems_reach_the_sizing_as_the_same_numbers(name: str) -> None:
    ours, theirs = read(FACTS[name]), read(converted(FACTS[name]))

    assert len(ours) > 25
    assert theirs == pytest.approx(ours, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("calculation", CALCULATIONS)
def test_facts_of_the_two_systems_get_the_same_answer(calculation: str, system: str) -> None:
    path = f"/v1/{calculation}"
    for facts in examples(KINDS[path]).values():
        ours = SERVICE.answer(f"{path}?units={system}", facts)
        theirs = SERVICE.answer(f"{path}?units={system}", converted(facts))

        assert ours.pop("calculation_id") != theirs.pop("calculation_id")
        assert theirs == ours


def test_an_answer_in_one_system_is_the_answer_in_the_other_converted() -> None:
    ours = SERVICE.answer("/v1/sizings?units=us", SITE)
    theirs = SERVICE.answer("/v1/sizings?units=si", SITE)
    quantities = list(zip(_quantities(ours), _quantities(theirs), strict=True))

    assert len(quantities) > 300
    for (value, unit), (other_value, other_unit) in quantities:
        units = UNITS[DIMENSIONS[unit]]
        assert units[other_unit].to_si(other_value) == pytest.approx(units[unit].to_si(value), rel=2e-5)


def _quantities(answer: object) -> Iterator[tuple[float, str]]:
    if isinstance(answer, dict):
        if isinstance(answer.get("value"), float) and "unit" in answer and "code" not in answer:
            yield answer["value"], answer["unit"]
        for value in answer.values():
            yield from _quantities(value)
    elif isinstance(answer, list):
        for item in answer:
            yield from _quantities(item)


def test_the_freezing_point_may_be_given_in_either_unit() -> None:
    freezing = [quantity(32, "degF"), quantity(0, "degC")]
    answers = [SERVICE.answer("/v1/sizings", changed({"/well/water_temperature": one})) for one in freezing]

    assert answers[0]["candidates"] == answers[1]["candidates"]
