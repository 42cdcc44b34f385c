"""What in the site file speaks of a point: lines are called after the points where they end."""

from typing import Any, get_args

from planner.site.edits.document import changed
from planner.site.value import LineRole
from planner.site.words import slug


def refer_anew(text: str, old: str, new: str) -> str:
    """The site file's text with each line called after a point called after its new name.

    Raises
    ------
    SiteError
        The text is no TOML.
    """
    before, after = slug(old), slug(new)
    if not before or before == after:
        return text
    names = {f"{role}-{before}": f"{role}-{after}".rstrip("-") for role in get_args(LineRole)}
    return changed(text, lambda document: _rename_lines(document, names))


def _rename_lines(document: Any, names: dict[str, str]) -> None:
    walked = document.get("measured", {}).get("walked", {})
    for old in [name for name in walked if name in names]:
        walked[names[old]] = walked.pop(old)
    for key in ("built", "fit"):
        for table in document.get(key, []):
            if table.get("line") in names:
                table["line"] = names[table["line"]]
