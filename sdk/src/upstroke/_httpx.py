"""The transports over HTTP; the only module that knows httpx."""

from collections.abc import Generator
from contextlib import contextmanager
from ipaddress import ip_address
from typing import Any

import httpx

from ._errors import RequestTimeoutError, TransportError
from ._exchange import Call, Reply


class HttpxTransport:
    """Carries calls over HTTP with httpx."""

    def __init__(self, base_url: str, *, timeout: float) -> None:
        """Prepare connections to the service at ``base_url``; each step may take ``timeout`` seconds."""
        self._base_url = _address(base_url)
        self._client = httpx.Client(**_options(self._base_url, timeout))

    def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply."""
        with _own_errors(self._base_url):
            return _reply(self._client.request(**_request(call)))

    def close(self) -> None:
        """Close the connections."""
        self._client.close()


class AsyncHttpxTransport:
    """Carries calls over HTTP with httpx, and lets others work meanwhile."""

    def __init__(self, base_url: str, *, timeout: float) -> None:
        """Prepare connections to the service at ``base_url``; each step may take ``timeout`` seconds."""
        self._base_url = _address(base_url)
        self._client = httpx.AsyncClient(**_options(self._base_url, timeout))

    async def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply."""
        with _own_errors(self._base_url):
            return _reply(await self._client.request(**_request(call)))

    async def close(self) -> None:
        """Close the connections."""
        await self._client.aclose()


def _options(base_url: httpx.URL, timeout: float) -> dict[str, Any]:
    # A proxy of the environment is meant for other machines: it could not reach this one's loopback.
    return {"base_url": base_url, "timeout": timeout, "trust_env": not _is_loopback(base_url.host)}


def _request(call: Call) -> dict[str, Any]:
    return {
        "method": call.method,
        "url": call.path,
        "params": dict(call.query),
        "headers": dict(call.headers),
        "content": call.body,
    }


def _reply(response: httpx.Response) -> Reply:
    return Reply(response.status_code, dict(response.headers), response.content)


@contextmanager
def _own_errors(base_url: httpx.URL) -> Generator[None]:
    try:
        yield
    except httpx.TimeoutException as error:
        raise RequestTimeoutError(f"no answer from {base_url} in time") from error
    except httpx.HTTPError as error:
        # Some of its errors have no text of their own.
        raise TransportError(f"no answer from {base_url}: {str(error) or type(error).__name__}") from error


def _address(base_url: str) -> httpx.URL:
    try:
        address = httpx.URL(base_url)
    except httpx.InvalidURL:
        address = httpx.URL()
    if address.userinfo:
        # Not repeated, and not taken: addresses are shown in messages and logs.
        raise ValueError("the address of the service may not hold a name or a password")
    if address.scheme not in {"http", "https"} or not address.host:
        raise ValueError(f"{base_url!r} is not an address such as 'http://127.0.0.1:8080'")
    return address


def _is_loopback(host: str) -> bool:
    if host == "localhost":
        return True
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False
