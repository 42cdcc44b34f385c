"""A small site file, in pieces that a test can change one of."""

from pathlib import Path

HEAD = """\
title = "Larch Hollow"  # the whole valley
"""
ELEVATION = """
[elevation]
files = ["hollow-dem.tif"]
kind = "lidar"
standard_error = "0.15 m"
"""
SKETCH = """
[sketch]
[[sketch.points]]
name = "spring"
at = [11.2000, 47.3000]
[[sketch.points]]
name = "ram"
at = [11.2010, 47.2990]
[[sketch.points]]
name = "tank"
at = [11.2020, 47.3010]
height = "2 m"
[[sketch.points]]
name = "trough"
at = [11.2030, 47.3000]
flow = "5 L/min"
[[sketch.areas]]
name = "bog"
role = "avoid"
ring = [[11.2015, 47.3], [11.2017, 47.3], [11.2017, 47.3003]]
"""
SOURCE = """
[source]
flow = "30 L/min"
measured = 2026-08-20
season = "dry"
"""


def site_text(
    head: str = HEAD, elevation: str = ELEVATION, sketch: str = SKETCH, rest: str = SOURCE
) -> str:
    """The text of a site file."""
    return head + elevation + rest + sketch


def write_site(folder: Path, text: str | None = None, name: str = "hollow.toml") -> Path:
    """A site file in that folder."""
    path = folder / name
    path.write_text(site_text() if text is None else text, encoding="utf-8")
    return path
