"""Longest paths between all pairs: what a set of minimum lags implies for every two starts."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Lags = npt.NDArray[np.int64]
"""`lags[i, j]`: j starts at least that long after i starts; NEVER where nothing is said."""

NEVER = -(10**9)
"""Far below any lag, and small enough that the sum of two is still a number."""


def no_lags(count: int) -> Lags:
    """A table for so many starts in which nothing is said yet."""
    lags = np.full((count, count), NEVER, dtype=np.int64)
    np.fill_diagonal(lags, 0)
    return lags


def close(lags: Lags) -> bool:
    """Write every implied lag into the table (Floyd and Warshall); False: a start would precede itself."""
    for middle in range(len(lags)):
        np.maximum(lags, lags[:, middle, None] + lags[None, middle, :], out=lags)
    lags[lags < NEVER // 2] = NEVER
    return not lags.diagonal().any()


def tighten(lags: Lags, before: int, after: int, least: int) -> bool:
    """Add one lag to a closed table and close it again; False: a start would precede itself."""
    if lags[before, after] >= least:
        return True
    if lags[after, before] + least > 0:
        return False
    np.maximum(lags, lags[:, before, None] + least + lags[None, after, :], out=lags)
    lags[lags < NEVER // 2] = NEVER
    return True
