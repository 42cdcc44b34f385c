"""`Call`: what stands in a process made for a single function."""

from collections.abc import Callable
from pkgutil import resolve_name
from typing import Any


class Call:
    """Calls one function, which it finds by name."""

    def __init__(self, say: Callable[[str], None]) -> None:
        self._say = say

    def plain(self, function: str, args: tuple[Any, ...]) -> Any:
        """What the function returns."""
        return resolve_name(function)(*args)

    def telling(self, function: str, args: tuple[Any, ...]) -> Any:
        """The same; the function's last argument is what it tells its progress to."""
        return resolve_name(function)(*args, self._say)
