"""Where a request came from, as far as that can be believed."""

from ipaddress import ip_network

import pytest
from litestar.types import HTTPScope

from upstroke_service.api.callers import origin_address

PROXIES = (ip_network("10.0.0.0/8"), ip_network("fd00::/8"))


def scope(peer: str | None, *forwarded: str) -> HTTPScope:
    headers = [(b"x-forwarded-for", one.encode()) for one in forwarded]
    return {"client": (peer, 1) if peer else None, "headers": headers}  # type: ignore[typeddict-item]


CASES = {
    "a peer": (scope("192.0.2.1"), "192.0.2.1"),
    "a stranger's word does not count": (scope("192.0.2.1", "198.51.100.7"), "192.0.2.1"),
    "a proxy's does": (scope("10.0.0.1", "198.51.100.7"), "198.51.100.7"),
    "no further than the first stranger": (scope("10.0.0.1", "203.0.113.9, 198.51.100.7"), "198.51.100.7"),
    "through two proxies": (scope("10.0.0.1", "203.0.113.9, 198.51.100.7, 10.0.0.2"), "198.51.100.7"),
    "headers in a row are one list": (scope("10.0.0.1", "203.0.113.9", "198.51.100.7"), "198.51.100.7"),
    "proxies only": (scope("10.0.0.1", "10.0.0.3, 10.0.0.2"), "10.0.0.3"),
    "a proxy that says nothing": (scope("10.0.0.1"), "10.0.0.1"),
    "a proxy that says nonsense": (scope("10.0.0.1", "198.51.100.7, nonsense"), "10.0.0.1"),
    "a socket without an address": (scope(None), "unknown"),
    "version 4 in version 6": (scope("::ffff:192.0.2.1"), "192.0.2.1"),
    "a proxy as version 4 in version 6": (scope("::ffff:10.0.0.1", "198.51.100.7"), "198.51.100.7"),
    "version 6 counts by site": (scope("2001:db8:1:2:3:4:5:6"), "2001:db8:1:2::/64"),
    "version 6 behind a proxy": (scope("fd00::1", "2001:db8:1:2::7"), "2001:db8:1:2::/64"),
}


@pytest.mark.parametrize(("asked", "expected"), CASES.values(), ids=CASES)
def test_the_nearest_address_that_is_no_trusted_proxy(asked: HTTPScope, expected: str) -> None:
    assert origin_address(asked, PROXIES) == expected


def test_nobody_is_trusted_unless_stated() -> None:
    assert origin_address(scope("10.0.0.1", "198.51.100.7"), ()) == "10.0.0.1"
