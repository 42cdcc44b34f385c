"""A value typed as text, as the field of the site file takes it."""

import datetime
import types
from collections.abc import Iterator
from contextlib import suppress
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError

from planner.site.file import SiteFile

WORDS = {"true": True, "yes": True, "false": False, "no": False}


def as_field(path: tuple[str, ...], value: Any) -> Any:
    """The value in the first form that the field at a path takes; as given where none is.

    Parameters
    ----------
    path : tuple of str
        Keys from the outermost table inwards; a list's members by their number.
    value : Any
        Quantities stay text with their unit.

    Examples
    --------
    >>> as_field(("source", "measured"), "2026-08-20"), as_field(("tank", "days"), "14")
    (datetime.date(2026, 8, 20), 14)
    >>> as_field(("source", "flow"), "12 L/min")
    '12 L/min'
    """
    wanted = _annotation(SiteFile, path)
    if wanted is None:
        return value
    takes = TypeAdapter(wanted)
    for form in _forms(value):
        with suppress(ValidationError):
            takes.validate_python(form, strict=True)
            return form
    return value


def _annotation(model: type[BaseModel], path: tuple[str, ...]) -> Any:
    """What the field at a path takes, None where there is no such field."""
    wanted: Any = model
    for key in path:
        inner = _without_none(wanted)
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            field = inner.model_fields.get(key)
            wanted = None if field is None else field.annotation
        elif get_origin(inner) is dict:
            wanted = get_args(inner)[1]
        elif get_origin(inner) is list:
            wanted = get_args(inner)[0]
        else:
            return None
    return wanted


def _without_none(annotation: Any) -> Any:
    if get_origin(annotation) in (Union, types.UnionType):
        kept = [one for one in get_args(annotation) if one is not type(None)]
        return kept[0] if len(kept) == 1 else annotation
    return annotation


def _forms(value: Any) -> Iterator[Any]:
    yield value
    if isinstance(value, float) and value.is_integer():
        yield int(value)
    if isinstance(value, str):
        text = value.strip()
        for form in (datetime.date.fromisoformat, int, float):
            with suppress(ValueError):
                yield form(text)
        if text.lower() in WORDS:
            yield WORDS[text.lower()]
