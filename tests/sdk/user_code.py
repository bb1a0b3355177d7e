"""How programs use the client. Checked by two strict type checkers, and run by a test."""

import asyncio
import logging
from collections.abc import Iterable

import upstroke

LOG = logging.getLogger(__name__)

WELL = upstroke.Well(static_water_level="60 ft", well_depth=upstroke.Quantity(36.5, "m"))
TANK = upstroke.Tank(kind="bladder", total_volume="44 gal", precharge="28 psi")


def size_one(client: upstroke.Client) -> upstroke.Sizing:
    """Structs and keyword arguments together."""
    sizing: upstroke.Sizing = client.size(
        well=WELL, tank=TANK, pressures={"target": "40 psi"}, client_reference="well 7", units="si"
    )
    head: upstroke.Quantity = sizing.candidates[0].lift_budget.total_head.to("ft")
    LOG.info("%s: %.0f ft, %s", sizing.verdict, head.value, f"{head:.1f}")
    for caution in sizing.cautions:
        LOG.info("%s: %s", caution.signal, caution.text)
    return sizing


def size_request(client: upstroke.Client) -> upstroke.Sizing:
    """A request in one piece, as a program keeps it."""
    request = upstroke.SizingRequest(
        well=WELL,
        tank=TANK,
        pressures=upstroke.Pressures(target="40 psi"),
        selection=upstroke.Selection(catalogue="demo"),
    )
    return client.size(request)


def rows(sizing: upstroke.Sizing) -> list[tuple[float, float]]:
    """Columns as lists."""
    if sizing.curve is None:
        return []
    water = sizing.curve.water.to("L")
    return list(zip(sizing.curve.pressure.values, water.to_list(), strict=True))


async def size_many(client: upstroke.AsyncClient, depths: Iterable[str]) -> list[str]:
    """Many wells, four at a time."""
    gate = asyncio.Semaphore(4)

    async def verdict(depth: str) -> str:
        async with gate:
            sizing = await client.size(
                well={"static_water_level": depth}, tank=TANK, pressures={"target": "40 psi"}
            )
        return sizing.verdict

    return await asyncio.gather(*(verdict(depth) for depth in depths))


def faulty_fields(client: upstroke.Client, facts: dict[str, object]) -> list[str]:
    """What a form would mark; everything else that goes wrong is one kind of error."""
    try:
        client.size(facts)
    except upstroke.FactError as error:
        return [error.pointer]
    except upstroke.InvalidRequestError as error:
        return [fault.pointer for fault in error.errors]
    except upstroke.RateLimitedError as error:
        LOG.warning("come back in %s s", error.retry_after)
    except upstroke.ApiError as error:
        LOG.exception("request %s, status %d", error.request_id, error.status)
    except upstroke.UpstrokeError:
        LOG.exception("no answer")
    return []


def total_head(client: upstroke.Client) -> upstroke.Quantity | None:
    """One figure alone."""
    figure = client.total_head(static_water_level="60 ft", target="40 psi", cylinder="lift-1-350")
    return figure.quantity


class Recording:
    """A transport of one's own: it needs these two methods and no base."""

    def __init__(self, behind: upstroke.Transport) -> None:
        """Pass calls on."""
        self.paths: list[str] = []
        self._behind = behind

    def send(self, call: upstroke.Call) -> upstroke.Reply:
        """Remember and pass on."""
        self.paths.append(call.path)
        return self._behind.send(call)

    def close(self) -> None:
        """Close what is behind."""
        self._behind.close()


def recorded(behind: upstroke.Transport) -> list[str]:
    """What a client asked."""
    recording = Recording(behind)
    with upstroke.Client(transport=recording, retries=0) as client:
        client.units()
    return recording.paths
