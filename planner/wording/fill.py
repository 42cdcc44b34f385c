"""Patterns to text: values put in place, in the units wanted."""

import math
import re
from collections.abc import Mapping
from string import Formatter
from typing import Any

from planner.site.value import Units
from planner.wording.quantity import show

_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
_UNKNOWN = "an unknown amount"


class _Shown(Formatter):
    """Fields are shown by their kind; a value that is missing or not finite is said so."""

    def __init__(self, units: Units) -> None:
        self.units = units

    def get_value(self, key: int | str, args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs.get(str(key), math.nan)

    def format_field(self, value: Any, format_spec: str) -> str:
        if not _known(value):
            return _UNKNOWN
        return show(value, format_spec, self.units)


def _known(value: float | str | None) -> bool:
    return isinstance(value, str) or (value is not None and math.isfinite(value))


def fill(pattern: str, values: Mapping[str, float | str | None], units: Units) -> str:
    """The pattern with its values in place.

    Parameters
    ----------
    pattern : str
        Text with `{name:kind}` fields and `[optional parts]`; kinds as in
        `planner.wording.quantity`. Values are never read as patterns.
    values : mapping
        Numbers in SI, and names.
    units : {"metric", "us"}

    Returns
    -------
    str

    Examples
    --------
    >>> fill("Dig {deeper_m:height} deeper[ at {run_m:length}].", {"deeper_m": 0.35}, "metric")
    'Dig 0.35 m deeper.'
    """
    shown = _Shown(units)
    parts = _OPTIONAL.split(pattern)
    text = []
    for place, part in enumerate(parts):
        names = [name for _, name, _, _ in shown.parse(part) if name]
        if place % 2 and not all(_known(values.get(name)) for name in names):
            continue
        text.append(shown.vformat(part, (), values))
    return "".join(text)
