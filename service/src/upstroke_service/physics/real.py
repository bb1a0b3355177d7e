"""The one numeric type of the physics: a float, or an array of floats; functions broadcast."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Real = float | Array
Indices = NDArray[np.intp]
