"""Features of a drawing written back into a draft, in the one file that is the sketch's."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from planner.site.draft import Draft
from planner.site.edits.document import changed
from planner.site.edits.drawing import Drawing, Json
from planner.site.edits.layout import laid_out
from planner.site.edits.names import free_file


def put_away(draft: Draft, drawing: Drawing, features: Sequence[Json]) -> Draft:
    """The draft with these features as its sketch.

    Raises
    ------
    SiteError
        The site file is no TOML, or no name is free for the sketch's new file.
    """
    text = laid_out(features, drawing.others)
    if drawing.in_place:
        return replace(draft, sketch=text)
    name = draft.sketch_name
    if not drawing.own:
        name = free_file(draft.folder, f"{Path(draft.site_name).stem}-sketch", ".geojson")
    site = changed(draft.site, lambda document: _refer_to(document, name, own=drawing.own))
    return replace(draft, site=site, sketch_name=name, sketch=text)


def _refer_to(document: Any, name: str, *, own: bool) -> None:
    """Name the sketch's file in the site file, and take out what stands in that file now."""
    sketch = document["sketch"]
    for key in ("points", "areas", "crossings", *(() if own else ("crs",))):
        if key in sketch:
            del sketch[key]
    sketch["file"] = name
