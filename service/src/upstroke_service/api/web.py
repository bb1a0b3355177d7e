"""Types of the web framework as this package uses them."""

from typing import Any

from litestar import Request

AnyRequest = Request[Any, Any, Any]
