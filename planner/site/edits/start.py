"""A new site round an elevation file, nothing of it written yet."""

import re
from pathlib import Path

import tomlkit

from planner.errors import SiteError
from planner.site.draft import Draft
from planner.site.edits.layout import laid_out
from planner.site.edits.names import file_stem, free_file
from planner.site.words import clean_name, clean_text
from planner.units.parse import quoted

# What elevation files are called beside the place's name.
DATA_WORDS = re.compile(r"(?i)(?:^|[-_. ])(?:dem|dtm|dsm|elevation|ground|terrain|lidar)$")

TEMPLATE = """\
# A site of headfall. Change it by hand or on the page; it is planned with
#     headfall plan {name}

title = {title}
units = "metric"

[elevation]
files = [{dem}]

[sketch]
file = {sketch}
"""


def draft_for_elevation(dem: Path, *, title: str | None = None) -> Draft:
    """A site with an elevation file and nothing else, its files to lie beside it.

    Parameters
    ----------
    dem : Path
        The elevation file. What is in it is not looked at.
    title : str, optional
        None: told by the file's name.

    Returns
    -------
    Draft
        Under names that are free in the elevation file's folder; nothing is written.

    Raises
    ------
    SiteError
        There is no such file, or a site file can't hold its name.
    """
    dem = dem.resolve()
    if not dem.is_file():
        msg = f"there is no elevation file {quoted(dem)}; check its name and folder"
        raise SiteError(msg)
    try:
        dem.name.encode("utf-8")
    except UnicodeEncodeError as error:
        msg = f"the name of the file {quoted(dem.name)} is no text in UTF-8; rename it first"
        raise SiteError(msg) from error
    place = DATA_WORDS.sub("", dem.stem) or dem.stem
    stem = file_stem(place)
    name = free_file(dem.parent, stem, ".toml")
    sketch = free_file(dem.parent, f"{Path(name).stem}-sketch", ".geojson")
    text = TEMPLATE.format(
        name=name,
        title=_said(clean_name(title or "", "title") or _title(place)),
        dem=_said(dem.name),
        sketch=_said(sketch),
    )
    return Draft(dem.parent, name, text, sketch, laid_out([]))


def _said(text: str) -> str:
    return str(tomlkit.item(text).as_string())


def _title(place: str) -> str:
    """A file's stem as a title: blanks for dashes, a capital first."""
    words = clean_text(re.sub(r"[-_]+", " ", place))[:80] or "Site"
    return words[0].upper() + words[1:]
