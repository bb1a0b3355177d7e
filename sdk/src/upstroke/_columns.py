"""Columns of numbers, and tables of them: as lists, as NumPy arrays, as data frames.

NumPy and pandas are imported where they are asked for; the client works without them.
"""

from collections.abc import Iterator
from typing import TYPE_CHECKING, cast

from msgspec import Struct

from ._units import convert, unit_name

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd
    from numpy.typing import NDArray


class Series(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A column of numbers with one unit."""

    unit: str
    """Unit of every value; '1' where the numbers are counts."""
    values: tuple[float, ...]
    """Values in order, to 6 significant digits."""

    def __len__(self) -> int:
        """How many values it has."""
        return len(self.values)

    def to(self, unit: str) -> "Series":
        """The same column in another unit.

        Raises:
            ValueError: where a unit is unknown or measures something else.
        """
        own, wanted = unit_name(self.unit) or self.unit, unit_name(unit) or unit
        return Series(unit=wanted, values=tuple(convert(value, own, wanted) for value in self.values))

    def to_list(self) -> list[float]:
        """The values as a list."""
        return list(self.values)

    def to_numpy(self) -> "NDArray[np.float64]":
        """The values as an array of NumPy.

        Raises:
            ImportError: where NumPy is not installed; the extra ``numpy`` brings it.
        """
        import numpy as np  # noqa: PLC0415

        return np.array(self.values, dtype=np.float64)


class Table(Struct, frozen=True):
    """Columns of the same length, each a field of the table."""

    def __len__(self) -> int:
        """How many rows it has."""
        return len(next(column for _, column in self._columns()))

    def to_lists(self) -> dict[str, list[float] | list[str]]:
        """The columns as lists, by headings that hold the unit: ``"pressure [psi]"``."""
        return {
            self._heading(name): column.to_list() if isinstance(column, Series) else list(column)
            for name, column in self._columns()
        }

    def to_numpy(self) -> "dict[str, NDArray[np.float64] | NDArray[np.str_]]":
        """The same as arrays of NumPy.

        Raises:
            ImportError: where NumPy is not installed; the extra ``numpy`` brings it.
        """
        import numpy as np  # noqa: PLC0415

        return {
            self._heading(name): column.to_numpy()
            if isinstance(column, Series)
            else np.array(column, np.str_)
            for name, column in self._columns()
        }

    def to_pandas(self) -> "pd.DataFrame":
        """The same as a data frame of pandas, a row for each point.

        Raises:
            ImportError: where pandas is not installed; the extra ``pandas`` brings it.
        """
        import pandas as pd  # noqa: PLC0415

        return pd.DataFrame(self.to_lists())

    def _columns(self) -> Iterator[tuple[str, "Series | tuple[str, ...]"]]:
        for name in self.__struct_fields__:
            yield name, cast("Series | tuple[str, ...]", getattr(self, name))

    def _heading(self, name: str) -> str:
        column = getattr(self, name)
        return f"{name} [{column.unit}]" if isinstance(column, Series) and column.unit != "1" else name
