"""What else is said of a line that makes way for a new value: the file can't hold both."""

from typing import Any

INSTEAD_OF: dict[tuple[str, str | None], tuple[str, ...]] = {
    ("pipe", None): ("bore", "rating", "roughness"),  # the trade size tells them
    ("bore", None): ("pipe",),
    ("laid", "surface"): ("least_cover", "deepest_trench", "dig_cost"),
    ("laid", "buried"): ("propped", "deepest_trench"),
}
"""Keys of a line that go, by the key set and its value (None: any)."""


def makes_way(path: tuple[str, ...], value: Any) -> tuple[tuple[str, ...], ...]:
    """The paths to be taken out when a value of the site file is set.

    Examples
    --------
    >>> makes_way(("lines", "drive", "bore"), "2 in")
    (('lines', 'drive', 'pipe'),)
    >>> makes_way(("lines", "drive", "bore"), None)
    ()
    """
    if value in (None, "") or len(path) != 3 or path[0] != "lines":
        return ()
    word = value if isinstance(value, str) else None
    keys = INSTEAD_OF.get((path[2], word)) or INSTEAD_OF.get((path[2], None), ())
    return tuple((*path[:2], key) for key in keys)
