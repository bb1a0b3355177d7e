"""Making random facts agree: what the service calls contradictory is left out until nothing is."""

import copy
import random
from typing import Any

import msgspec

from upstroke_service.api import bodies, compute
from upstroke_service.api.assumed import Reading
from upstroke_service.api.compute import Context
from upstroke_service.api.lineups import load_catalogues
from upstroke_service.api.problems import RequestProblem
from upstroke_service.api.resources import HANDLERS
from upstroke_service.api.style import style
from upstroke_service.api.tank_curves import read_tank
from upstroke_service.api.translate import read_site
from upstroke_service.contract.requests import CautionRequest, HookupRequest, TankCurveRequest
from upstroke_service.settings import Settings

MOST_ROUNDS = 40
CONTEXT = Context(load_catalogues(Settings()), style("us", "en"))
KINDS: dict[str, type[msgspec.Struct]] = {
    next(iter(handler.paths)): handler.opt["operation"].request
    for handler in HANDLERS
    if "POST" in handler.http_methods and "operation" in handler.opt
}
"""The kind of request that each calculation takes, by its path."""


def settled(kind: type[msgspec.Struct], body: Any, choice: random.Random) -> Any:
    """``body`` of a request without one fact, taken at random, of each contradiction in it."""
    body = copy.deepcopy(body)
    for _ in range(MOST_ROUNDS):
        pointers = contradictions(kind, body)
        if not pointers:
            break
        _leave_out(body, choice.choice(pointers))
    return body


def contradictions(kind: type[msgspec.Struct], body: object) -> list[str]:
    """JSON Pointers of the facts of ``body`` that contradict each other."""
    try:
        _read(bodies.decode(msgspec.json.encode(body), kind))
    except RequestProblem as problem:
        if problem.code == "contradictory-facts":
            return [fault.pointer for fault in problem.errors or []]
    return []


def _read(request: Any) -> None:
    """Read the facts as the request's calculation does, without calculating."""
    reading = Reading()
    if isinstance(request, TankCurveRequest):
        read_tank(request, reading)
    elif isinstance(request, CautionRequest | HookupRequest):
        read_site(request, reading)
    else:
        compute.read(request, CONTEXT)
    reading.close()


def _leave_out(body: Any, pointer: str) -> None:
    """Take the fact at ``pointer`` out; where its block needs it, the whole block."""
    path = pointer.removeprefix("/").split("/")
    if path[:2] == ["selection", "cylinders"]:
        path = path[: 2 if len(path) == 2 or len(body["selection"]["cylinders"]) == 1 else 3]
    elif path[:2] in (
        ["pump", "rod"],
        ["pump", "drop_pipe"],
        ["pump", "weep_hole"],
        ["site", "relief_valve"],
    ):
        path = path[:2]
    elif path == ["well", "static_water_level"]:
        path = (
            ["pump", "cylinder_depth"] if "cylinder_depth" in body.get("pump", {}) else ["well", "well_depth"]
        )
    node = body
    for step in path[:-1]:
        node = node[int(step)] if isinstance(node, list) else node.get(step, {})
    if isinstance(node, list):
        del node[int(path[-1])]
    else:
        node.pop(path[-1], None)
