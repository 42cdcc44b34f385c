"""From files to a `Draft`, and from a draft to the `Site` that it describes."""

from pathlib import Path

from planner.errors import SiteError
from planner.site.draft import Draft
from planner.site.edits.text import plain
from planner.site.geodata import read_content
from planner.site.local_file import local_file, seen_from
from planner.site.read import site_from_text, site_table, site_text
from planner.site.value import Site

GEOJSON = (".geojson", ".json")


def open_draft(path: Path) -> Draft:
    """The texts of a site's files, as they stand on disk.

    A sketch in a GeoJSON file below the site file's folder comes along; one of another kind, or
    one that lies elsewhere, stays where it is until the first change of the sketch.

    Parameters
    ----------
    path : Path
        The site file. It is not asked yet whether a plan can be made of it.

    Raises
    ------
    SiteError
        The site file can't be read, or a key or value in it is wrong.
    SketchError
        The sketch file is missing or too large.
    """
    text = site_text(path)
    path = path.resolve()
    whole = path.read_bytes().decode("utf-8")
    draft = Draft(path.parent, path.name, whole)
    table = site_table(text, path.name)
    if table.sketch.file is None:
        return draft
    file = local_file(table.sketch.file, path.parent, "sketch.file")
    if file.suffix.lower() not in GEOJSON or not file.is_relative_to(path.parent):
        return draft
    try:
        sketch = read_content(file).decode("utf-8")
    except UnicodeDecodeError:  # GeoJSON of another encoding: read where it stands
        return draft
    return Draft(path.parent, path.name, whole, seen_from(path.parent, file), sketch)


def draft_site(draft: Draft) -> Site:
    """The site that a draft describes, complete; neither of its own two files is read.

    Raises
    ------
    SiteError, SketchError
        As `read_site` of the same texts on disk.
    """
    return site_from_text(plain(draft.site), draft.folder, draft.site_name, sketch_content(draft))


def sketch_content(draft: Draft) -> bytes | None:
    """What stands in the draft's sketch file; None where it has none of its own.

    Raises
    ------
    SiteError
        It holds what no file in UTF-8 can.
    """
    if not draft.sketch_name:
        return None
    try:
        return draft.sketch.encode("utf-8")
    except UnicodeEncodeError as error:
        msg = f"{draft.sketch_name} holds half a character; write its names anew"
        raise SiteError(msg) from error
