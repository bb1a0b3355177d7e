"""How a notebook shows an answer."""

from typing import TYPE_CHECKING, cast

from msgspec import Struct

if TYPE_CHECKING:
    from ._models import Sizing


class Displayed(Struct, frozen=True):
    """A sizing that notebooks show as a page."""

    def _repr_html_(self) -> str:
        """What notebooks ask for."""
        # Imported here because only notebooks need it.
        from ._html import page  # noqa: PLC0415

        return page(cast("Sizing", self))
