"""What one step of a calculation hands to the next: columns by name, and a pandas frame of them for whoever asks.

A frame takes longer to make, and to give away a column, than a step takes to go through the rows of one client.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

Column = NDArray[Any]


class Table:
    """Columns of equal length, not to be written to.

    >>> len(Table({"day": np.array([4, 7, 9])}).rows(np.array([True, False, True])))
    2
    """

    def __init__(self, columns: Mapping[str, Column]) -> None:
        self._columns = dict(columns)
        for column in self._columns.values():
            column.setflags(write=False)

    @classmethod
    def of_frame(cls, frame: pd.DataFrame) -> Table:
        return cls({str(name): frame[name].to_numpy(copy=True) for name in frame})

    def __getitem__(self, name: str) -> Column:
        return self._columns[name]

    def __len__(self) -> int:
        return next(iter(self._columns.values())).size

    @property
    def names(self) -> list[str]:
        return list(self._columns)

    def rows(self, wanted: NDArray[np.bool_] | NDArray[np.int64]) -> Table:
        """Some rows, by their numbers or by whether each is wanted."""
        return Table({name: column[wanted] for name, column in self._columns.items()})

    def with_columns(self, columns: Mapping[str, Column]) -> Table:
        return Table(self._columns | dict(columns))

    def records(self) -> list[dict[str, Any]]:
        """Each row as plain values by name."""
        values = [column.tolist() for column in self._columns.values()]
        return [dict(zip(self._columns, row, strict=True)) for row in zip(*values, strict=True)]

    def to_frame(self) -> pd.DataFrame:
        """A frame of its own, which may be changed."""
        return pd.DataFrame(self._columns)
