"""Arrays of zeros as large as a grid, of which only what is touched takes memory.

The system maps zeros page by page as they are first written. NumPy asks for huge pages of 2 MB for
every large array, and a corridor that crosses each row of a large grid would touch all of them;
here the array is mapped with the system's small pages.
"""

import mmap
from typing import TypeVar

import numpy as np
import numpy.typing as npt

Number = TypeVar("Number", bound=np.generic)
LARGE = 1 << 22  # bytes; from here on NumPy asks for huge pages


def sparse_zeros(count: int, dtype: type[Number]) -> npt.NDArray[Number]:
    """(count,) zeros, mapped when they are first touched."""
    size = count * np.dtype(dtype).itemsize
    if size < LARGE:
        return np.zeros(count, dtype)
    room = mmap.mmap(-1, size)
    if hasattr(mmap, "MADV_NOHUGEPAGE"):  # Linux
        room.madvise(mmap.MADV_NOHUGEPAGE)
    return np.frombuffer(room, dtype)
