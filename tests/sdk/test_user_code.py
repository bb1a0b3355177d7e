"""The programs that the type checkers see also run."""

import asyncio

from tests.sdk import user_code

import upstroke


def test_programs_get_what_their_types_promise(client: upstroke.Client, service: upstroke.Transport) -> None:
    sizing = user_code.size_one(client)
    head = user_code.total_head(client)

    assert sizing.client_reference == "well 7"
    assert user_code.size_request(client).verdict == sizing.verdict
    assert user_code.rows(sizing)[0][1] == 0.0
    assert head is not None
    assert head.unit == "ft"
    assert user_code.faulty_fields(client, {"well": {"static_water_level": "60 psi"}}) == [
        "/well/static_water_level"
    ]
    assert "/points" in user_code.faulty_fields(client, {"points": 1})
    assert user_code.recorded(service) == ["/v1/units"]


def test_so_do_those_that_await() -> None:
    async def asked() -> list[str]:
        async with upstroke.AsyncClient.embedded() as client:
            return await user_code.size_many(client, ["30 ft", "60 ft", "900 ft"])

    verdicts = asyncio.run(asked())
    assert len(verdicts) == 3
    assert verdicts[0] == "fits"
