"""Formulas: facts that go into an address, and the one figure that comes back."""

import pytest
from tests.sdk.fake_transport import client_that_gets, reply

import upstroke

TEXT = (
    "kind,name,value,unit,text,basis\r\n"
    'answer,total-head,243.5,ft,"Total, dynamic head",model version 2026.1.1\r\n'
    "note,lift_margin,-7.5,ft,A note.,\r\n"
    "assumption,/tank/kind,,,A bladder.,common practice\r\n"
    "scope,total-head,,,An estimate.,\r\n"
)


def test_values_and_units_go_into_the_query_apart() -> None:
    client, transport = client_that_gets(reply(TEXT.encode()))
    client.total_head(
        static_water_level="120 feet", target=upstroke.Quantity(50, "psi"), cylinder="slim", units="si"
    )

    assert transport.calls[0].query == {
        "format": "csv",
        "units": "si",
        "static_water_level": "120.0",
        "static_water_level_unit": "ft",
        "target": "50.0",
        "target_unit": "psi",
        "cylinder": "slim",
    }
    assert transport.calls[0].body is None


def test_a_figure_comes_with_what_it_rests_on() -> None:
    client, _ = client_that_gets(reply(TEXT.encode()))
    figure = client.total_head(static_water_level="120 ft", target="50 psi", cylinder="slim")

    assert figure.quantity == upstroke.Quantity(243.5, "ft")
    assert (figure.name, figure.text, figure.model_version) == (
        "total-head",
        "Total, dynamic head",
        "2026.1.1",
    )
    assert [line.kind for line in figure.beside] == ["note", "assumption", "scope"]
    assert [line.value for line in figure.lines("note")] == [-7.5]
    assert [line.name for line in figure.lines("assumption")] == ["/tank/kind"]


@pytest.mark.parametrize(("text", "value"), [("", None), ("lift-1", "lift-1"), ("570.2", 570.2)])
def test_a_count_a_word_and_no_answer_have_no_unit(text: str, value: object) -> None:
    body = f"kind,name,value,unit,text,basis\r\nanswer,strokes,{text},,Why.,model version 1\r\n"
    client, _ = client_that_gets(reply(body.encode()))
    figure = client.strokes(
        static_water_level="120 ft", target="50 psi", total_volume="44 gal", cylinder="slim"
    )

    assert (figure.value, figure.quantity, figure.text) == (value, None, "Why.")


def test_an_id_that_looks_like_a_number_stays_a_word() -> None:
    body = b"kind,name,value,unit,text,basis\r\nanswer,recommended-cylinder,300,,Id.,model version 1\r\n"
    client, _ = client_that_gets(reply(body))

    assert client.recommended_cylinder().value == "300"


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"243.5",
        b"<html>",
        b"\xff",
        b'{"kind": 1}',
        b"kind,name,value,unit,text,basis\r\n",
        b"kind,name,value,unit,text,basis\r\nanswer,a\r\n",
        TEXT.encode() * 2,
        TEXT.replace("answer", "note").encode(),
        TEXT.replace("An estimate.", '"An estimate.').encode(),
    ],
)
def test_what_is_no_figure_is_said(body: bytes) -> None:
    client, _ = client_that_gets(reply(body))
    with pytest.raises(upstroke.UnexpectedResponseError, match="the answer is not a Figure"):
        client.tank_drawdown(total_volume="44 gal", target="50 psi")


def test_a_quantity_of_another_kind_is_refused_before_anything_is_sent() -> None:
    client, transport = client_that_gets()
    with pytest.raises(upstroke.FactError, match="/target: 'ft' does not fit here"):
        client.tank_drawdown(total_volume="44 gal", target="50 ft")
    assert transport.calls == []


def test_the_service_gives_the_figures_of_its_calculations(client: upstroke.Client) -> None:
    head = client.total_head(static_water_level="60 ft", target="40 psi", cylinder="lift-1-350")
    budget = client.lift_budgets(
        well={"static_water_level": "60 ft"},
        pressures={"target": "40 psi"},
        selection={"ids": ["lift-1-350"]},
    )
    refused = client.stored_pressure(stored_volume="35 gal", total_volume="44 gal")
    chosen = client.recommended_cylinder(static_water_level="60 ft", total_volume="44 gal", target="40 psi")

    assert head.quantity == budget.lift_budgets[0].lift_budget.total_head
    assert [line.name for line in head.lines("assumption")] == [one.pointer for one in budget.assumptions]
    assert refused.value is None
    assert refused.text.endswith(".")
    assert isinstance(chosen.value, str)
    assert chosen.lines("caution")


def test_a_faulty_fact_of_a_formula_is_named_by_its_parameter(client: upstroke.Client) -> None:
    with pytest.raises(upstroke.InvalidRequestError) as caught:
        client.tank_drawdown(total_volume="44 gal", target="-5 psi")

    assert {fault.pointer for fault in caught.value.errors} == {"/target"}
