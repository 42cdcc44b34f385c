"""`stakes.kml`: a folder a line, with its course in the role's colour and its stakes."""

import html
import warnings
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
from pygeoif.geometry import LineString, Point

from planner.output.look import ROLES
from planner.output.rounding import DEGREE, METRE, number
from planner.output.stakes.clean import one_line
from planner.output.stakes.table import rows
from planner.output.stakes.thin import needed_samples
from planner.output.stakes.value import StakedLine
from planner.output.stakes.words import described, source_note
from planner.record.value import Line, Plan
from planner.terrain.frame import to_lonlat

with warnings.catch_warnings():
    # It prefers lxml and says so when loaded; the standard library's XML does, and with that alone
    # the same plan gives the same bytes wherever it is written.
    warnings.filterwarnings("ignore", message="Package `lxml` missing")
    from fastkml import (
        KML,
        Data,
        Document,
        ExtendedData,
        Folder,
        Placemark,
        Style,
        StyleUrl,
        config,
    )
    from fastkml.styles import LabelStyle, LineStyle
config.set_etree_implementation(ElementTree)
ElementTree.register_namespace("", config.KMLNS.strip("{}"))  # some phones know no prefixes

XML = '<?xml version="1.0" encoding="UTF-8"?>\n'
LABEL = 0.8  # of the usual size


def write_stakes_kml(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write KML 2.2: one folder a line, named like it; colours and widths of `output.look`.

    Everything lies on the ground of whatever shows it: heights stand in the figures alone.
    Descriptions are read as HTML by those who show KML, so that markup in names is escaped twice.

    Parameters
    ----------
    plan : Plan
    staked : sequence of StakedLine
    path : Path

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    document = Document(
        name=one_line(plan.site.title),
        description=html.escape(source_note(plan)),
        styles=[_style(role) for role in dict.fromkeys(one.line.role for one in staked)],
        features=[_folder(plan, one) for one in staked],
    )
    element: Any = KML(features=[document]).etree_element(precision=DEGREE)
    ElementTree.indent(element)
    path.write_bytes(f"{XML}{ElementTree.tostring(element, encoding='unicode')}\n".encode())


def _style(role: Any) -> Any:
    look = ROLES[role]
    colour = kml_colour(look.colour)
    return Style(
        id=role,
        styles=[
            LabelStyle(color=colour, scale=LABEL),
            LineStyle(color=colour, width=look.width),
        ],
    )


def kml_colour(colour: str) -> str:
    """A colour #rrggbb as KML writes it: opacity, blue, green, red.

    Examples
    --------
    >>> kml_colour("#17408b")
    'ff8b4017'
    """
    red, green, blue = colour[1:3], colour[3:5], colour[5:7]
    return f"ff{blue}{green}{red}"


def _folder(plan: Plan, one: StakedLine) -> Any:
    look = ROLES[one.line.role]
    return Folder(
        name=one.line.name,
        description=html.escape(
            f"{look.word}: {one_line(one.line.start)} – {one_line(one.line.end)}"
        ),
        features=[_course(plan, one.line), *_stakes(plan, one)],
    )


def _course(plan: Plan, line: Line) -> Any:
    xy = line.profile.xy[needed_samples(line.profile.xy)]
    lonlat = np.round(to_lonlat(plan.terrain, xy), DEGREE).tolist()
    figures = {
        "line": line.name,
        "role": line.role,
        "length_m": number(line.profile.length, METRE),
        "run_m": number(float(line.profile.run[-1]), METRE),
    }
    return Placemark(
        name=line.name,
        style_url=StyleUrl(url=f"#{line.role}"),
        extended_data=_data(figures),
        geometry=LineString(lonlat),
    )


def _stakes(plan: Plan, one: StakedLine) -> Iterator[Any]:
    for place, (stake, row) in enumerate(zip(one.stakes, rows(one), strict=True)):
        yield Placemark(
            name=stake.name,
            description=html.escape(described(plan, one, place)),
            style_url=StyleUrl(url=f"#{one.line.role}"),
            extended_data=_data({k: v for k, v in row.items() if k not in {"name", "lon", "lat"}}),
            geometry=Point(*np.round(stake.lonlat, DEGREE).tolist()),
        )


def _data(figures: dict[str, Any]) -> Any:
    told = {name: value for name, value in figures.items() if value not in {None, ""}}
    return ExtendedData(elements=[Data(name=name, value=str(v)) for name, v in told.items()])
