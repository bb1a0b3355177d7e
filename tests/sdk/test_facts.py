"""Requests: every way of giving the facts is sent alike."""

import msgspec
import pint
import pytest
from tests.sdk.fake_transport import client_that_gets, reply
from tests.sdk.invented_answers import sizing

import upstroke

DEPTH = {"value": 120.0, "unit": "ft"}


def sent(request: upstroke.SizingRequest | dict[str, object] | None = None, **facts: object) -> object:
    client, transport = client_that_gets(reply(sizing()))
    client.size(request, **facts)  # type: ignore[arg-type]
    return transport.sent()


def test_structs_mappings_and_keywords_are_sent_alike() -> None:
    expected = {"well": {"static_water_level": DEPTH}}

    assert expected == sent(upstroke.SizingRequest(well=upstroke.Well(static_water_level="120 ft")))
    assert expected == sent({"well": {"static_water_level": "120 ft"}})
    assert expected == sent({"well": {"static_water_level": DEPTH}})
    assert expected == sent(well={"static_water_level": upstroke.Quantity(120, "ft")})
    assert expected == sent(well=upstroke.Well(static_water_level=pint.UnitRegistry().Quantity(120, "ft")))


def test_no_facts_are_an_empty_request() -> None:
    assert sent() == {}


def test_keywords_replace_the_blocks_of_a_request() -> None:
    request = upstroke.SizingRequest(well=upstroke.Well(static_water_level="9 m"), client_reference="mine")

    assert sent(request, well={"static_water_level": DEPTH}) == {
        "well": {"static_water_level": DEPTH},
        "client_reference": "mine",
    }


def test_quantities_are_read_in_lists_and_in_blocks_that_have_a_kind() -> None:
    expected = {
        "conduit": {
            "runs": [
                {"inside_diameter": {"value": 0.75, "unit": "in"}, "length": {"value": 50.0, "unit": "ft"}}
            ]
        },
        "site": {"supply": {"kind": "pressure_switch", "cut_in": {"value": 30.0, "unit": "psi"}}},
        "selection": {"ids": ["slim"]},
    }
    as_structs = upstroke.SizingRequest(
        conduit=upstroke.Conduit(runs=[upstroke.Run(inside_diameter='0.75"', length="50 feet")]),
        site=upstroke.Premises(supply=upstroke.PressureSwitch(cut_in="30 psi")),
        selection=upstroke.Selection(ids=("slim",)),
    )
    as_mapping: dict[str, object] = {
        "conduit": {"runs": ({"inside_diameter": ".75 in", "length": "50 ft"},)},
        "site": {"supply": {"kind": "pressure_switch", "cut_in": "30 PSI"}},
        "selection": {"ids": ["slim"]},
    }

    assert expected == sent(as_structs)
    assert expected == sent(as_mapping)


def test_what_the_sdk_does_not_know_is_left_to_the_service() -> None:
    strange: dict[str, object] = {
        "wel": {"depth": "3 ft"},
        "site": {"supply": {"kind": "windmill", "cut_in": "3 psi"}},
    }

    assert sent(strange) == strange


@pytest.mark.parametrize(
    ("facts", "pointer", "message"),
    [
        ({"well": {"static_water_level": "40 psi"}}, "/well/static_water_level", "'psi' does not fit here"),
        ({"well": {"static_water_level": 40}}, "/well/static_water_level", "40 is not a value with its unit"),
        (
            {"well": {"static_water_level": None}},
            "/well/static_water_level",
            "None is not a value with its unit",
        ),
        (
            {"conduit": {"runs": [{"length": "long"}]}},
            "/conduit/runs/0/length",
            "'long' is not a decimal number",
        ),
    ],
)
def test_a_wrong_quantity_is_refused_before_sending_by_field_and_with_what_is_accepted(
    facts: dict[str, object], pointer: str, message: str
) -> None:
    with pytest.raises(upstroke.FactError, match="accepted units: ft, in, m, cm, mm") as caught:
        sent(facts)

    assert pointer == caught.value.pointer
    assert str(caught.value).startswith(f"{pointer}: {message}")
    assert isinstance(caught.value, ValueError)


def test_the_unit_system_goes_with_the_call_or_with_the_client() -> None:
    client, transport = client_that_gets(reply(sizing()), reply(sizing()))
    client.size()
    client.size(units="si")

    assert [call.query["units"] for call in transport.calls] == ["us", "si"]


def test_a_saved_request_decodes_into_structs_strictly() -> None:
    saved = b'{"well": {"static_water_level": {"value": 120, "unit": "ft"}, "well_depth": "300 ft"}}'
    request = msgspec.json.decode(saved, type=upstroke.SizingRequest)

    assert request.well == upstroke.Well(static_water_level=upstroke.Quantity(120, "ft"), well_depth="300 ft")
    with pytest.raises(msgspec.ValidationError, match="unknown field `depth`"):
        msgspec.json.decode(b'{"well": {"depth": "300 ft"}}', type=upstroke.SizingRequest)
