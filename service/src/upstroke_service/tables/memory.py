"""Keeping freed memory for the next arrays, instead of giving it back to the system and asking for it again."""

import ctypes
import functools
from typing import Final

_TRIM_THRESHOLD, _MMAP_THRESHOLD = -1, -3  # of mallopt in glibc's malloc.h
KEPT: Final = 1 << 28
"""Bytes that a process may keep for later: more than one pass of the sizing ever needs."""


@functools.cache
def keep_freed_memory() -> bool:
    """Have this process keep up to KEPT bytes that it has freed; false where its C library knows no such thing.

    The sizing makes and drops arrays of some hundred kilobytes all the time. Fresh pages for each cost as much as
    a third of the whole; on Dask's workers, which are told to keep next to nothing, two thirds.
    """
    try:
        mallopt = getattr(ctypes.CDLL(None), "mallopt", None)
    except TypeError:  # Windows has no library of the process itself
        return False
    return mallopt is not None and all(mallopt(which, KEPT) for which in (_TRIM_THRESHOLD, _MMAP_THRESHOLD))
