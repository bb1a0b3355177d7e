"""The transport over HTTP; the only module that knows httpx."""

from ipaddress import ip_address

import httpx

from ._errors import RequestTimeoutError, TransportError
from ._exchange import Call, Reply


class HttpxTransport:
    """Carries calls over HTTP with httpx."""

    def __init__(self, base_url: str, *, timeout: float) -> None:
        """Prepare connections to the service at ``base_url``; each step may take ``timeout`` seconds."""
        self._base_url = _address(base_url)
        # A proxy of the environment is meant for other machines: it could not reach this one's loopback.
        self._client = httpx.Client(
            base_url=self._base_url, timeout=timeout, trust_env=not _is_loopback(self._base_url.host)
        )

    def send(self, call: Call) -> Reply:
        """Send a call and wait for its reply."""
        try:
            response = self._client.request(
                call.method, call.path, params=dict(call.query), headers=dict(call.headers), content=call.body
            )
        except httpx.TimeoutException as error:
            raise RequestTimeoutError(f"no answer from {self._base_url} in time") from error
        except httpx.HTTPError as error:
            raise TransportError(f"no answer from {self._base_url}: {error}") from error
        return Reply(response.status_code, dict(response.headers), response.content)

    def close(self) -> None:
        """Close the connections."""
        self._client.close()


def _address(base_url: str) -> httpx.URL:
    try:
        address = httpx.URL(base_url)
    except httpx.InvalidURL:
        address = httpx.URL()
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
