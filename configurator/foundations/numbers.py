"""The type of a formula's argument: one number, or an array of them with one entry per case."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Numbers = float | Array
