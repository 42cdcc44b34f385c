"""`lean`: compiles functions that make no arrays."""

from collections.abc import Callable
from typing import TypeVar

from numba import njit

Function = TypeVar("Function", bound=Callable[..., object])


def lean(function: Function) -> Function:
    """A compiled function that counts no references to the arrays it is handed.

    Where many arrays travel together, to count them takes longer than the search itself; only a
    function that makes an array has to. It is put in place of every call, for the same reason.
    Division by zero gives infinity or NaN, as in NumPy.
    """
    compiled: Function = njit(  # type: ignore[call-overload]
        cache=True, error_model="numpy", forceinline=True, _nrt=False
    )(function)
    return compiled
