"""What the site file says, key by key, as it is written there: what a form shows and changes."""

import tomllib
from collections.abc import Iterator
from typing import Any

SKETCH = "sketch"  # drawn, not typed
MOST_DEPTH = 8  # of tables in tables; a site file has four


def settings_of(text: str) -> dict[str, str]:
    r"""Every value of a site file by its dotted path, lists by their places.

    Parameters
    ----------
    text : str
        TOML; one that can't be read says nothing.

    Examples
    --------
    >>> settings_of('title = "Hollow"\n[lines.delivery]\npipe = "1 in"\n')
    {'title': 'Hollow', 'lines.delivery.pipe': '1 in'}
    >>> settings_of('[[fit]]\nkind = "vent"\nat = [-3.2, 45.01]\n')
    {'fit.0.kind': 'vent', 'fit.0.at.0': '-3.2', 'fit.0.at.1': '45.01'}
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return {}
    table.pop(SKETCH, None)
    return dict(_leaves(table, ()))


def _leaves(value: Any, path: tuple[str, ...]) -> Iterator[tuple[str, str]]:
    if len(path) > MOST_DEPTH:
        return
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _leaves(one, (*path, key))
    elif isinstance(value, list):
        for number, one in enumerate(value):
            yield from _leaves(one, (*path, str(number)))
    else:
        yield ".".join(path), _text(value)


def _text(value: object) -> str:
    """As TOML has it, without quotes."""
    return str(value).lower() if isinstance(value, bool) else str(value)
