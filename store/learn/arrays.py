"""Names of array types."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


def added_up(place: Ints, values: Floats, places: int) -> Floats:
    """Return (places,) the sums of the values at each place."""
    return np.bincount(place, values, places).astype(np.float64, copy=False)
