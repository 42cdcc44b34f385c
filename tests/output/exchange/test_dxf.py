"""The drawing, audited by its library and read back by a reader of geodata."""

import datetime
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

import geopandas as gpd
import numpy as np
import pyogrio
import pytest
from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.filemanagement import readfile
from shapely import LineString, Point, get_coordinates

from planner.output.exchange.drawing_blocks import words
from planner.output.exchange.drawing_layers import rgb
from planner.output.exchange.drawing_lines import readable
from planner.output.exchange.dxf import write_dxf
from planner.output.look import ROLES
from planner.output.stakes.make import stakes_of
from planner.output.stakes.value import Stake
from planner.record.value import Plan
from planner.site.value import AreaRole, LineRole, PointRole
from tests.example import example_plan
from tests.staked import HOSTILE, a_line, field_plan, plan_of, profile_of

CENTIMETRE = 0.01


@pytest.fixture
def plan() -> Plan:
    """What the field brought, with a hostile title and a hostile end."""
    plan = field_plan()
    lines = (replace(plan.lines[0], start=f"{HOSTILE} %%u {{\\fArial;}} ^J"), *plan.lines[1:])
    points = (replace(plan.points[0], name=HOSTILE), *plan.points[1:])
    site = replace(plan.site, title=f"{{\\P}} {HOSTILE}")
    return replace(plan, lines=lines, points=points, site=site)


def written(plan: Plan, folder: Path) -> Path:
    path = folder / "plan.dxf"
    write_dxf(plan, stakes_of(plan), path)
    return path


def opened(path: Path) -> Any:
    return readfile(path)


def every_stake(plan: Plan) -> list[Stake]:
    return [stake for one in stakes_of(plan) for stake in one.stakes]


def inserts(doc: Any, layer: str) -> list[Any]:
    return list(doc.modelspace().query(f'INSERT[layer=="{layer}"]'))


def said(insert: Any) -> dict[str, str]:
    return {attribute.dxf.tag: attribute.dxf.text for attribute in insert.attribs}


@contextmanager
def blocks_kept() -> Iterator[None]:
    """Have the reader hand out inserts as points, not what their blocks draw."""
    pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": False})
    try:
        yield
    finally:
        pyogrio.set_gdal_config_options({"DXF_INLINE_BLOCKS": None})


def read(path: Path) -> gpd.GeoDataFrame:
    with blocks_kept():
        return gpd.read_file(path, engine="pyogrio", layer="entities")


def test_the_audit_finds_nothing(plan, tmp_path):
    for one in (plan, example_plan(), plan_of()):
        auditor = opened(written(one, tmp_path)).audit()
        assert (list(auditor.errors), list(auditor.fixes)) == ([], [])


def test_the_same_plan_gives_the_same_bytes_dated_as_the_plan(plan, tmp_path):
    first = written(plan, tmp_path).read_bytes()
    assert written(plan, tmp_path).read_bytes() == first
    dates = re.findall(rb"\$TDU?(?:CREATE|UPDATE)\n *40\n(\S+)\n", first)
    # The Julian day number of 2000-01-01 is 2451545; 2026-11-24 comes 9824 days later.
    assert [float(date) for date in dates] == [2451545.0 + 9824.0] * 4
    assert datetime.datetime.now(datetime.UTC).strftime("%Y-%m-%dT").encode() not in first
    assert opened(tmp_path / "plan.dxf").header["$INSUNITS"] == 6
    assert not options.write_fixed_meta_data_for_testing


def test_layers_carry_the_roles_their_colours_and_strokes(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    names = {layer.dxf.name for layer in doc.layers}
    for roles in (LineRole, PointRole, AreaRole):
        assert set(get_args(roles)) <= names
    widths = {}
    for role, look in ROLES.items():
        layer = doc.layers.get(role)
        assert layer.rgb == rgb(look.colour)
        assert (layer.dxf.linetype != "CONTINUOUS") == bool(look.dash)
        widths[role] = layer.dxf.lineweight
        if look.dash:
            pattern = [
                tag.value
                for tag in doc.linetypes.get(layer.dxf.linetype).pattern_tags.tags
                if tag.code == 49
            ]
            ratio = np.abs(pattern) / np.abs(pattern[0])
            np.testing.assert_allclose(ratio, np.array(look.dash) / look.dash[0])
    assert max(widths, key=widths.__getitem__) == "drive"


def test_pipes_and_ground_lie_at_their_levels(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    for line in plan.lines:
        profile = line.profile
        for layer, level in (
            (line.role, profile.pipe),
            (f"{line.role}-ground", profile.ground),
        ):
            (drawn,) = doc.modelspace().query(f'POLYLINE[layer=="{layer}"]')
            points = np.array([vertex.dxf.location for vertex in drawn.vertices])
            course = LineString(points[:, :2])
            away = [course.distance(Point(xy)) for xy in profile.xy]
            assert max(away) < CENTIMETRE
            run = np.array([line.path.project(Point(xy)) for xy in points[:, :2]])
            np.testing.assert_allclose(
                np.interp(profile.run, run, points[:, 2]), level, atol=CENTIMETRE
            )


def test_holes_part_the_line(tmp_path):
    profile = profile_of([(-60.0, 0.0), (60.0, 0.0)])
    hole = np.where((profile.run > 38.0) & (profile.run < 52.0), np.nan, profile.ground)
    plan = plan_of(a_line(replace(profile, ground=hole, pipe=hole - 0.5)))
    doc = opened(written(plan, tmp_path))
    parts = list(doc.modelspace().query('POLYLINE[layer=="delivery"]'))
    ends = [[v.dxf.location.x for v in part.vertices] for part in parts]
    assert [(xs[0], xs[-1]) for xs in ends] == [(-60.0, -22.0), (-8.0, 60.0)]
    unknown = [one for one in inserts(doc, "stakes") if said(one)["GROUND"] == ""]
    assert len(unknown) == 2


def test_stakes_are_blocks_that_carry_their_figures(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    drawn, wanted = inserts(doc, "stakes"), every_stake(plan)
    assert [said(one)["NAME"] for one in drawn] == [stake.name for stake in wanted]
    for insert, stake in zip(drawn, wanted, strict=True):
        at, attributes = insert.dxf.insert, said(insert)
        assert (at.x, at.y) == pytest.approx(stake.xy, abs=CENTIMETRE)
        assert at.z == pytest.approx(stake.ground_m, abs=CENTIMETRE)
        figures = [float(attributes[tag]) for tag in ("CHAINAGE", "GROUND", "PIPE", "DEPTH")]
        truth = [stake.chainage_m, stake.ground_m, stake.pipe_m, stake.depth_m]
        assert figures == pytest.approx(truth, abs=0.0006)
        assert attributes["REMARK"] == words(stake.remark, 120)
        seen = [one.dxf.tag for one in insert.attribs if not one.is_invisible]
        assert seen == ["NAME"]


def test_a_reader_of_geodata_finds_stakes_and_lines(plan, tmp_path):
    frame = read(written(plan, tmp_path))
    stakes = frame[(frame["Layer"] == "stakes") & frame["BlockName"].notna()]
    wanted = every_stake(plan)
    at = get_coordinates(stakes.geometry, include_z=True)
    np.testing.assert_allclose(at[:, :2], [s.xy for s in wanted], atol=CENTIMETRE)
    np.testing.assert_allclose(at[:, 2], [s.ground_m for s in wanted], atol=CENTIMETRE)
    named = [re.search(r"NAME (\w+ \d+)", str(cell)) for cell in stakes["BlockAttributes"]]
    assert [found and found[1] for found in named] == [stake.name for stake in wanted]
    for line in plan.lines:
        (pipe,) = frame[
            (frame["Layer"] == line.role) & (frame.geometry.geom_type == "LineString")
        ].geometry
        assert pipe.length == pytest.approx(line.profile.run[-1], abs=CENTIMETRE)
        ends = get_coordinates(pipe, include_z=True)[[0, -1]]
        truth = np.column_stack([line.profile.xy, line.profile.pipe])[[0, -1]]
        np.testing.assert_allclose(ends, truth, atol=CENTIMETRE)


def test_works_and_what_the_field_brought_are_blocks(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    (ram,) = inserts(doc, "pump")
    assert ram.dxf.name == "ram"
    assert said(ram)["NAME"] == "ram"
    (station,) = inserts(doc, "levelled")
    assert said(station) == {
        "NAME": "De 02",
        "LEVEL": "503.210",
        "ERROR": "0.012",
        "MODEL": "503.400",
    }
    (mark,) = inserts(doc, "as-built")
    assert (said(mark)["WHAT"], said(mark)["DEPTH"]) == ("air valve", "0.620")
    (high,) = inserts(doc, "high-points")
    truth = plan.line("delivery").high_points[0]
    assert high.dxf.insert.z == pytest.approx(truth.level_m)
    assert said(high)["RISE"] == "0.620"
    (vent,) = inserts(doc, "vents")
    assert said(vent)["KIND"] == "air valve"
    assert [said(one)["NUMBER"] for one in inserts(doc, "findings")] == ["1"]
    powered = opened(written(replace(plan, scheme="powered"), tmp_path))
    assert [one.dxf.name for one in inserts(powered, "pump")] == ["pump"]


def test_names_of_works_keep_clear_of_the_lines(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    for role in ("chamber", "tank"):
        (work,) = inserts(doc, role)
        at = np.array(work.dxf.insert)[:2]
        name = next(one for one in work.attribs if one.dxf.tag == "NAME")
        corner = np.array(name.dxf.get("align_point", name.dxf.insert))[:2] - at
        for line in plan.lines:
            away = line.profile.xy - at
            near = away[np.hypot(*away.T).argsort()[:12]]
            if np.hypot(*near[0]) < 1.0:
                along = near[-1] / np.hypot(*near[-1])
                assert corner @ along < 0.95 * np.hypot(*corner)


def test_hostile_names_make_no_codes(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    (source,) = inserts(doc, "source")
    assert said(source)["NAME"] == words(HOSTILE, 120)
    assert "💧" in said(source)["NAME"]
    texts = [one.dxf.text for one in doc.modelspace().query("TEXT")]
    texts += [text for one in inserts(doc, "stakes") for text in said(one).values()]
    assert not any(code in text for text in texts for code in ("%%", "\\", "^", "\n"))
    (note,) = doc.modelspace().query("MTEXT")
    assert not re.search(r"[{}]|\\(?!P)", note.text)
    first = note.plain_text().split("\n")[0]
    assert first == words(plan.site.title, 400).replace("{", "(").replace("}", ")")


def test_the_note_tells_coordinates_datum_and_doubt(plan, tmp_path):
    site = replace(plan.site, papers=replace(plan.site.papers, datum="bench mark at the ford"))
    doc = opened(written(replace(plan, site=site), tmp_path))
    (note,) = doc.modelspace().query("MTEXT")
    text = note.plain_text()
    for told in ("+proj=tmerc", "bench mark at the ford", "± 0.15 m", "lidar", "hollow-dem.tif"):
        assert told in text
    x, y = plan.points[0].xy
    assert f"x {x:.3f}, y {y:.3f}" in text


def test_contours_stand_at_their_levels_and_near_the_plan(plan, tmp_path):
    doc = opened(written(plan, tmp_path))
    lines = list(doc.modelspace().query('LWPOLYLINE[layer=="contours"]'))
    assert lines
    for line in lines:
        for x, y in list(line.get_points("xy"))[::10]:
            row = round((plan.terrain.origin[1] - y) / plan.terrain.cell[1] - 0.5)
            col = round((x - plan.terrain.origin[0]) / plan.terrain.cell[0] - 0.5)
            assert plan.terrain.z[row, col] == pytest.approx(line.dxf.elevation, abs=0.4)


@pytest.mark.parametrize("degrees", range(-360, 361, 15))
def test_text_is_never_upside_down(degrees):
    angle = np.radians(degrees)
    read_at = readable(angle)
    assert -np.pi / 2 <= read_at <= np.pi / 2
    assert np.sin(read_at - angle) == pytest.approx(0.0, abs=1e-9)
