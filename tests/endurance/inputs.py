"""A mixture of requests without end: valid ones, wrong ones, and hostile ones."""

import json
import random
from collections.abc import Callable, Iterator
from typing import Any

from tests.service.consistency import KINDS
from tests.service.running import head
from tests.service.sites import CYLINDER, changed, feet, own, psi

from upstroke_service.api.operation import examples

Facts = dict[str, Any]

JSON = "Content-Type: application/json"
READ = (
    "/livez",
    "/v1/units",
    "/v1/defaults?units=si",
    "/v1/catalogues",
    "/v1/catalogues/demo",
    "/v1/water-uses",
)
# Cheap calculations often, so that many requests take minutes and not hours.
WEIGHTS = {
    "tank-curves": 30,
    "cautions": 30,
    "hookups": 20,
    "lift-budgets": 5,
    "stroke-estimates": 2,
    "water-needs": 5,
    "sizings": 2,
}
BROKEN: list[Facts] = [
    {"points": "5"},
    {"tank": {"total_volume": {"value": -1, "unit": "gal"}}},
    {"tank": {"total_volume": {"value": 20, "unit": "psi"}}},
    {"nonsense": [[[]]] * 50},
    changed({"/tank/precharge": psi(60)}),
    changed({"/well/static_water_level": feet(170)}),
    {"selection": {"catalogue": "nope"}},
    own(id="x" * 65),
]
UNREADABLE = [
    b"",
    b"{",
    b"[" * 5_000,
    b'{"a":' * 900 + b"1" + b"}" * 900,
    b'{"points": NaN}',
    b'{"points": 1e999}',
    b'{"points": ' + b"9" * 5_000 + b"}",
    b'{"points": 3, "points": 5}',
    b'{"client_reference": "\xff"}',
    b"\xef\xbb\xbf{}",
    b'{"points": [' + b"1," * 20_000 + b"1]}",
    b"{" + b",".join(b'"%d":1' % number for number in range(3_000)) + b"}",
    json.dumps(own(*[CYLINDER] * 400)).encode(),
    b" " * 262_145,
]
OTHER_MEDIA = [
    "Content-Type: text/plain",
    "Content-Type: application/json; charset=utf-16",
    "Content-Type: application/json\r\nContent-Encoding: gzip",
]
HEADS = [
    head("GET", "/v1/catalogues/%zz%00%ff"),
    head("GET", "/" + "a" * 9_000),
    head("GET", "/v1/units?" + "x=1&" * 500),
    head("GET", "/v1/units", [f"X-{number}: {'a' * 500}" for number in range(90)]),
    head("GET", "/v1/units", [f"X-{number}: a" for number in range(150)]),
    head("BREW", "/v1/sizings"),
    head("GET", "/v1/sizings", ["X-HTTP-Method-Override: POST"]),
    head("GET", "/v1/units", ["Accept: text/html"]),
    head("GET", "/v1/units", ["Host: other.test"]),
    head("POST", "/v1/sizings", [JSON, "Content-Length: -1"]),
    head("POST", "/v1/sizings", [JSON, "Transfer-Encoding: chunked"]) + b"zz\r\n",
    bytes(200) + b"\r\n\r\n",
]


def inputs(seed: int) -> Iterator[bytes]:
    """Requests as bytes, always the same for a seed."""
    choose = random.Random(seed)  # noqa: S311 - to vary
    valid = {path: list(examples(kind).values()) for path, kind in KINDS.items()}
    kinds: list[Callable[[], bytes]] = [
        lambda: head("GET", choose.choice(READ)),
        lambda: _calculation(choose, valid),
        lambda: _calculation(choose, valid),
        lambda: _post(_path(choose), json.dumps(choose.choice(BROKEN)).encode()),
        lambda: _post(_path(choose), choose.choice(UNREADABLE)),
        lambda: _post(_path(choose), b"{}", choose.choice(OTHER_MEDIA)),
        lambda: choose.choice(HEADS),
    ]
    while True:
        yield choose.choice(kinds)()


def _path(choose: random.Random) -> str:
    """The path of a calculation."""
    return choose.choices([f"/v1/{name}" for name in WEIGHTS], list(WEIGHTS.values()))[0]


def _calculation(choose: random.Random, valid: dict[str, list[Facts]]) -> bytes:
    """A valid request, or one whose facts contradict each other, of facts that nobody stated before."""
    path = _path(choose)
    facts = _varied(choose.choice(valid[path]), choose)
    return _post(f"{path}?units={choose.choice(['us', 'si'])}", json.dumps(facts).encode())


def _varied(node: Any, choose: random.Random) -> Any:
    """The same with every quantity a little smaller, so that nothing is answered from memory."""
    if isinstance(node, list):
        return [_varied(one, choose) for one in node]
    if not isinstance(node, dict):
        return node
    if isinstance(node.get("value"), float | int):
        return {**node, "value": node["value"] * choose.uniform(0.95, 1.0)}
    return {name: _varied(one, choose) for name, one in node.items()}


def _post(path: str, body: bytes, media: str = "") -> bytes:
    return head("POST", path, [media or JSON, f"Content-Length: {len(body)}"]) + body
