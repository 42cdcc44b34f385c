"""A sketch's features as the text of its file: one a line, to be read by eye."""

import json
from collections.abc import Iterable, Mapping
from typing import Any


def laid_out(features: Iterable[Mapping[str, Any]], others: Mapping[str, Any] | None = None) -> str:
    """The text of a GeoJSON file, one feature a line.

    Parameters
    ----------
    features : iterable of dict
        GeoJSON features.
    others : dict, optional
        What else the collection says, such as a name.
    """
    beside = {
        key: value for key, value in (others or {}).items() if key not in ("type", "features")
    }
    head = _line({"type": "FeatureCollection", **beside})[:-1]
    lines = ",\n".join(_line(feature) for feature in features)
    return head + ', "features": [\n' + lines + ("\n" if lines else "") + "]}\n"


def _line(value: Mapping[str, Any]) -> str:
    """JSON on one line; half a character, which UTF-8 can't hold, is written by its number."""
    text = json.dumps(value, ensure_ascii=False)
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return json.dumps(value)
    return text
