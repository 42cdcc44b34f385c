"""Changes of the site file's text: what a hand wrote between the keys stays."""

import tomllib
from collections.abc import Callable
from contextlib import suppress
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from planner.errors import SiteError
from planner.site.edits.field import as_field
from planner.site.edits.text import ended_as, plain
from planner.units.parse import quoted

Change = Callable[[Any], None]
"""Changes a document: the same steps on plain tables and on those that keep their layout."""


def set_value(text: str, path: tuple[str, ...], value: Any) -> str:
    """The site file's text with a value set, or taken out where it is None or blank.

    Parameters
    ----------
    text : str
    path : tuple of str
        Keys from the outermost table inwards; of a list, the number of its member, from 0.
    value : str, number, bool, list, dict or None
        Text is taken as the field takes it: a date, a whole number.

    Raises
    ------
    SiteError
        Some table on the path is a value, or the sketch is meant.
    """
    _refuse_sketch(path)
    blank = value is None or (isinstance(value, str) and not value.strip())
    if blank:
        return changed(text, lambda document: _take_out(document, path))
    said = as_field(path, value)
    return changed(text, lambda document: _put(document, path, said))


def add_table(text: str, path: tuple[str, ...], table: dict[str, Any]) -> str:
    """The site file's text with a further table in a list of tables.

    Raises
    ------
    SiteError
        What stands at the path is no list, or the sketch is meant.
    """
    _refuse_sketch(path)
    said = {key: as_field((*path, "0", key), value) for key, value in table.items()}
    return changed(text, lambda document: _append(document, path, said))


def changed(text: str, change: Change) -> str:
    """The text after a change, with its comments and layout.

    Where the change can't be made so, which is found by reading it again, the tables are written
    anew without them.

    Raises
    ------
    SiteError
        The text is no TOML.
    """
    before = plain(text)
    try:
        meant: dict[str, Any] = tomllib.loads(before)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        msg = f"the site file is not TOML ({error}); put it right by hand first"
        raise SiteError(msg) from error
    change(meant)
    with suppress(TOMLKitError, KeyError, TypeError, ValueError, AttributeError):
        document = tomlkit.parse(before)
        change(document)
        after = tomlkit.dumps(document)
        if tomllib.loads(after) == meant:
            return ended_as(after, text)
    return ended_as(tomlkit.dumps(meant), text)


def _refuse_sketch(path: tuple[str, ...]) -> None:
    if not path or path[0] == "sketch":
        msg = "points, areas and lines of the sketch are changed one by one, not as a value"
        raise SiteError(msg)


def _put(document: Any, path: tuple[str, ...], value: Any) -> None:
    table = _opened(document, path[:-1])
    keeps = _keeps_layout(document) and isinstance(value, dict)
    table[_key(table, path)] = _filled(tomlkit.inline_table(), value) if keeps else value


def _append(document: Any, path: tuple[str, ...], table: dict[str, Any]) -> None:
    parent = _opened(document, path[:-1])
    keeps = _keeps_layout(document)
    if path[-1] not in parent:
        parent[path[-1]] = tomlkit.aot() if keeps else []
    there = parent[path[-1]]
    if not isinstance(there, list):
        raise SiteError(_no_table(path))
    inline = keeps and not isinstance(there, tomlkit.items.AoT)
    laid: Any = tomlkit.inline_table() if inline else tomlkit.table() if keeps else {}
    there.append(_filled(laid, table))


def _filled(table: Any, values: dict[str, Any]) -> Any:
    table.update(values)
    return table


def _take_out(document: Any, path: tuple[str, ...]) -> None:
    """Take a key out, or a member of a list; a list without members goes too."""
    table = document
    for key in path[:-1]:
        table = _step(table, key)
    last = path[-1]
    if isinstance(table, list):
        if last.isdecimal() and int(last) < len(table):
            del table[int(last)]
        if not table:
            _take_out(document, path[:-1])
    elif isinstance(table, dict) and last in table:
        del table[last]


def _opened(document: Any, path: tuple[str, ...]) -> Any:
    """The table at a path, made where it is missing."""
    table = document
    for depth, key in enumerate(path):
        step = _step(table, key)
        if step is None:
            if not isinstance(table, dict):
                raise SiteError(_no_table(path[:depth]))
            last = depth == len(path) - 1
            table[key] = tomlkit.table(is_super_table=not last) if _keeps_layout(document) else {}
            step = table[key]
        table = step
    if not isinstance(table, dict | list):
        raise SiteError(_no_table(path))
    return table


def _step(table: Any, key: str) -> Any:
    if isinstance(table, list):
        return table[int(key)] if key.isdecimal() and int(key) < len(table) else None
    return table.get(key) if isinstance(table, dict) else None


def _key(table: Any, path: tuple[str, ...]) -> Any:
    if not isinstance(table, list):
        return path[-1]
    if not (path[-1].isdecimal() and int(path[-1]) < len(table)):
        raise SiteError(_no_table(path))
    return int(path[-1])


def _keeps_layout(document: Any) -> bool:
    return isinstance(document, tomlkit.TOMLDocument)


def _no_table(path: tuple[str, ...]) -> str:
    return f"{quoted('.'.join(path))} of the site file holds no tables; put it right by hand"
