"""Who calls: the caller that a key or a token names, and the address that a request came from."""

from collections.abc import Sequence
from ipaddress import IPv4Address, IPv4Network, IPv6Address, IPv6Network, ip_address, ip_network
from typing import NamedTuple

from litestar.types import HTTPScope

Network = IPv4Network | IPv6Network

_SITE_PREFIX = 64


class Caller(NamedTuple):
    """Somebody who showed a valid key or token."""

    name: str
    """Of the client, told apart by what named it: two keys of one client have one name."""

    scopes: frozenset[str]


def caller_of(scope: HTTPScope) -> Caller | None:
    """The caller that the request has shown itself to be."""
    found: Caller | None = scope.get("state", {}).get("caller")
    return found


def headers_of(scope: HTTPScope, name: bytes) -> list[bytes]:
    """Every header of this name, which is in lower case."""
    return [value for key, value in scope["headers"] if key.lower() == name]


def origin_address(scope: HTTPScope, trusted: Sequence[Network]) -> str:
    """The address that a request came from: the nearest one that is not a trusted proxy's.

    X-Forwarded-For counts only where the peer is trusted, and only as far as trusted proxies wrote it: all before
    that is whatever the sender made up. Of an IPv6 address only the network counts, for one site has all of it.
    """
    peer = scope.get("client")
    hop = _parsed(peer[0]) if peer else None
    if hop is None:
        return "unknown"
    written = b",".join(headers_of(scope, b"x-forwarded-for")).decode("latin-1").split(",")
    while any(hop in network for network in trusted) and written:
        before = _parsed(written.pop().strip())
        if before is None:
            break
        hop = before
    if isinstance(hop, IPv6Address):
        return str(ip_network((hop, _SITE_PREFIX), strict=False))
    return str(hop)


def _parsed(text: str) -> IPv4Address | IPv6Address | None:
    try:
        address = ip_address(text)
    except ValueError:
        return None
    mapped = address.ipv4_mapped if isinstance(address, IPv6Address) else None
    return mapped or address
