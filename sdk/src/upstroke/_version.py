"""The client's version, which it tells the service with every call."""

from typing import Final

VERSION: Final = "0.1.0"
