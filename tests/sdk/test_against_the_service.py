"""The SDK and the service together, joined by the contract alone."""

import inspect
import re
from pathlib import Path

import msgspec
import pytest
from tests.sdk.contract_document import ROOT

import upstroke
from upstroke._report import render
from upstroke._units import UNITS

QUOTES = sorted((ROOT / "service/src/upstroke_service/demo/quotes").glob("*.json"))
WELL = upstroke.Well(static_water_level="60 ft")
TANK = upstroke.Tank(kind="bladder", total_volume="44 gal", precharge="28 psi")
PRESSURES = upstroke.Pressures(start="28 psi", target="40 psi")
SITE = upstroke.SizingRequest(well=WELL, tank=TANK, pressures=PRESSURES)


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("path", QUOTES, ids=lambda path: path.stem)
def test_every_demo_quote_is_sized_and_makes_a_page(
    client: upstroke.Client, path: Path, units: upstroke.Units
) -> None:
    request = msgspec.json.decode(path.read_bytes(), type=upstroke.SizingRequest)
    sizing = client.size(request, units=units)
    text = render(sizing)

    assert sizing.client_reference == request.client_reference
    assert sizing.summary.split()[0] in text
    assert max(map(len, text.splitlines())) <= 80
    assert not re.search(r"\b(nan|inf|None|UNSET)\b", text)


def test_the_ways_of_giving_facts_lead_to_the_same_calculation(client: upstroke.Client) -> None:
    as_text = client.size(SITE)
    as_mapping = client.size(
        {"well": {"static_water_level": {"value": 60, "unit": "ft"}}}, tank=TANK, pressures=PRESSURES
    )

    assert as_text == as_mapping


def test_each_calculation_answers(client: upstroke.Client) -> None:
    budgets = client.lift_budgets(well=WELL, pressures=PRESSURES, tank=TANK)
    curve = client.tank_curve(tank=TANK, pressures=PRESSURES, units="si")
    estimates = client.stroke_estimates(well=WELL, pressures=PRESSURES, tank=TANK)
    needs = client.water_needs(needs={"people": 3, "level": "survival"}, well=WELL, tank=TANK)
    hookups = client.hookups(site={"connections": [{"kind": "tank_drain", "distance": "40 ft"}]})
    cautions = client.cautions(site={"public_water_connection": "yes"})

    entry = budgets.lift_budgets[0]
    assert entry.lift_budget.static_water_level == upstroke.Quantity(60, "ft")
    assert curve.end.unit == "kPa"
    assert curve.end.to("psi").value == pytest.approx(40.0, rel=1e-5)
    assert estimates.stroke_estimates[0].fill.strokes > 0.0
    assert needs.needs.lines[0].code == "survival"
    assert needs.needs.total.unit == "gal/d"
    assert (hookups.ways[0].way, hookups.ways[0].connection) == ("tank_drain", 0)
    assert hookups.ways[0].steps[0].number == 1
    assert cautions.cautions[0].code == "public_main_connected"


def test_what_can_be_looked_up_answers(client: upstroke.Client) -> None:
    (summary, *_) = client.catalogues().catalogues
    catalogue = client.catalogue(summary.name, units="si")

    assert catalogue.cylinders[0].bore.unit == "mm"
    assert "/well/static_water_level" in {entry.field for entry in client.defaults().defaults}
    assert [entry.profile for entry in client.operators().operators if entry.default] == ["ordinary_adult"]
    assert client.operators(units="si").operators[0].hand_force_limit.unit == "N"
    assert "toilet_flush" in {entry.code for entry in client.water_uses().uses}
    assert client.live().status == client.ready().status == "ok"


def test_the_sdk_converts_by_the_service_s_factors_and_knows_every_unit(client: upstroke.Client) -> None:
    listed = client.units()
    wire = {entry.unit for entry in listed.inputs} | {
        u for entry in listed.outputs for u in (entry.us, entry.si)
    }
    factors = {
        unit.unit: (dimension.dimension, unit.scale, unit.offset)
        for dimension in listed.dimensions
        for unit in dimension.units
    }

    assert wire == set(UNITS)
    for name, unit in UNITS.items():
        dimension, scale, offset = factors[name]
        assert unit.dimension == dimension
        assert unit.scale == pytest.approx(scale, rel=1e-12)
        assert unit.offset == pytest.approx(offset, rel=1e-12)


def test_faults_come_back_all_at_once_with_their_fields(client: upstroke.Client) -> None:
    with pytest.raises(upstroke.InvalidRequestError) as caught:
        client.size({"well": {"well_depth": "1 mm", "colour": "blue"}, "points": 1})

    assert caught.value.status == 422
    assert caught.value.request_id
    assert {"/well/colour", "/points"} <= {fault.pointer for fault in caught.value.errors}


def test_an_unknown_catalogue_is_not_found(client: upstroke.Client) -> None:
    with pytest.raises(upstroke.NotFoundError):
        client.catalogue("nowhere")


def test_the_example_of_the_documentation_runs(
    service: upstroke.Transport, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    documentation = inspect.getdoc(upstroke) or ""
    example = "\n".join(
        line[4:] for line in documentation.splitlines() if line.startswith("    ") or not line
    )

    class Nearby(upstroke.Client):
        def __init__(self, _: str) -> None:
            super().__init__(transport=service)

    monkeypatch.setattr(upstroke, "Client", Nearby)
    exec(compile(example, "example", "exec"), {})  # noqa: S102 - our own text

    assert re.search(r"(fits|does_not_fit) [0-9.]+ ft\n", capsys.readouterr().out)
