"""A line as it was laid: its pipe at the depths noted, its high points where it lies."""

import datetime
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from planner.chain.built import TOLD, as_built
from planner.chain.choices import weigh_lines
from planner.chain.lay_role import lay_role
from planner.errors import InputError
from planner.profile.along import profile_along
from planner.record.value import Line
from planner.routing.land import make_land
from planner.site.defaults import default_line
from planner.site.field import Built
from planner.site.value import LineRole
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain
from tests.chain.scene import SIGMA, ram_site, terrain_of

COLS = 220


def hill(z: npt.NDArray[np.floating[Any]]) -> Terrain:
    """Levels that hang on x alone, from x = 0 to 220."""
    return terrain_of(np.tile(z, (160, 1)), SIGMA)


X = -20.0 + np.arange(COLS) + 0.5
SLOPE = hill(100.0 + 0.05 * X)
FALL = hill(100.0 - 0.05 * X)


def line_on(terrain: Terrain, role: LineRole = "delivery") -> Line:
    """A line due east, 150 m long, laid as planned."""
    settings = default_line(role)
    profile = profile_along(terrain, [(10.0, 3.3), (160.0, 3.3)])
    way = lay_role(make_land(terrain), profile, role, settings.laying)
    laid = way.laid
    return Line(
        role, role, "a", "b", settings, laid.profile, laid.high_points, laid.low_points, laid.flats
    )


def noted(folder: Path, *rows: str, header: str = "chainage_m,depth_m,what") -> Path:
    path = folder / "marks.csv"
    path.write_text("\n".join([header, *rows]), encoding="utf-8")
    return path


def laid(line: Line, terrain: Terrain = SLOPE, **said: object) -> Line:
    return as_built(line, Built(line.name, **said), terrain, "m")  # type: ignore[arg-type]


def test_between_marks_the_depth_goes_with_the_way(tmp_path: Path) -> None:
    marks = noted(tmp_path, "30,0.6,", "90,0.9,", "120,0.5,")
    line = laid(line_on(SLOPE), marks=marks)
    profile = line.profile
    at = [0.0, 30.0, 60.0, 90.0, 105.0, 120.0, 150.0]
    told = [0.6, 0.6, 0.75, 0.9, 0.7, 0.5, 0.5]
    depth = np.interp(at, profile.chainage, profile.depth)
    np.testing.assert_allclose(depth, told, atol=5e-3)
    assert profile.length == pytest.approx(
        np.hypot(np.diff(profile.run), np.diff(profile.pipe)).sum()
    )


def test_one_depth_counts_all_along_where_no_mark_tells(tmp_path: Path) -> None:
    line = laid(line_on(SLOPE), depth=0.7, marks=noted(tmp_path, "30,,washout"))
    np.testing.assert_allclose(line.profile.depth, 0.7)
    assert not line.high_points
    assert line.rule_kept


def test_without_depths_it_lies_as_planned(tmp_path: Path) -> None:
    planned = line_on(SLOPE)
    line = laid(planned, marks=noted(tmp_path, "30,,washout"))
    assert line.profile is planned.profile
    assert line.built is not None
    assert [mark.what for mark in line.built.marks] == ["washout"]


def test_what_was_noted_is_kept_in_order_with_places(tmp_path: Path) -> None:
    lon, lat = to_lonlat(SLOPE, [(70.0, 4.5)])[0]
    marks = noted(
        tmp_path,
        f",{lon:.9f},{lat:.9f},washout,,",
        "30,,,air valve,p2.jpg,in a box",
        header="chainage_m,lon,lat,what,photo,remark",
    )
    date = datetime.date(2026, 9, 12)
    line = laid(line_on(SLOPE), marks=marks, date=date, photos=("a.jpg",), note="by hand")
    assert line.built is not None
    valve, washout = line.built.marks
    assert (valve.what, valve.photo, valve.remark) == ("air valve", "p2.jpg", "in a box")
    assert valve.xy == pytest.approx((10.0 + 30.0 / np.hypot(1.0, 0.05), 3.3), abs=0.01)
    assert washout.xy == pytest.approx((70.0, 3.3), abs=0.3)
    assert (line.built.date, line.built.photos, line.built.note) == (date, ("a.jpg",), "by hand")


def test_a_pipe_laid_shallow_in_one_place_has_its_high_point_there(tmp_path: Path) -> None:
    """On ground that rises 1 %: from 30 m on the pipe rises by 0.7 m more, and falls again."""
    gentle = hill(100.0 + 0.01 * X)
    marks = noted(tmp_path, "0,1.2,", "30,1.2,", "60,0.5,", "70,1.2,", "150,1.2,")
    line = laid(line_on(gentle), gentle, marks=marks)
    (high,) = line.high_points
    (low,) = line.low_points
    assert high.chainage_m == pytest.approx(60.0, abs=1.0)
    assert low.chainage_m == pytest.approx(70.0, abs=1.0)
    assert high.rise_m == pytest.approx(0.6, abs=2.5 * TOLD)  # 0.7 m up, 0.1 m the ground's
    assert high.level_m == pytest.approx(float(line.profile.pipe[high.index]))
    assert not line.rule_kept


def test_the_ground_s_own_roughness_makes_no_high_points(tmp_path: Path) -> None:
    rng = np.random.default_rng(5)
    rough = hill(100.0 + 0.01 * X + rng.uniform(-0.025, 0.025, COLS))
    assert not laid(line_on(rough), rough, depth=0.7).high_points
    humps = hill(100.0 + 0.01 * X + 0.2 * np.exp(-(((X - 80.0) / 4.0) ** 2)))
    assert len(laid(line_on(humps), humps, depth=0.7).high_points) == 1


def test_a_supply_that_was_laid_falling_keeps_its_rule_and_one_with_a_sag_does_not(
    tmp_path: Path,
) -> None:
    even = laid(line_on(FALL, "supply"), FALL, depth=0.6)
    assert even.rule_kept
    gentle = hill(100.0 - 0.01 * X)
    marks = noted(tmp_path, "50,0.5,", "60,1.4,", "70,0.5,")
    sagging = laid(line_on(gentle, "supply"), gentle, marks=marks)
    assert len(sagging.low_points) == 1
    assert not sagging.rule_kept


def test_a_drive_pipe_lies_straight_from_depth_to_depth(tmp_path: Path) -> None:
    humped = hill(100.0 - 0.1 * X + 0.6 * np.exp(-(((X - 80.0) / 9.0) ** 2)))
    line = laid(line_on(humped, "drive"), humped, marks=noted(tmp_path, "0,-0.4,", "150,0.2,"))
    grades = np.diff(line.profile.pipe) / np.diff(line.profile.run)
    np.testing.assert_allclose(grades, grades[0])
    np.testing.assert_allclose(line.profile.depth[[0, -1]], (-0.4, 0.2), atol=2e-3)
    assert not line.high_points


def test_a_taped_chainage_a_little_beyond_the_end_is_the_end(tmp_path: Path) -> None:
    planned = line_on(SLOPE)
    line = laid(planned, marks=noted(tmp_path, "153.5,0.8,end"))
    assert line.built is not None
    assert line.built.marks[0].chainage_m == planned.profile.length


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        (("400,0.6,",), ("marks.csv line 2", "400.0 m is beyond the end of delivery", "150.2 m")),
        (
            ("30,0.6,", "60,0.7,", "30,0.9,"),
            ("marks.csv line 2 and line 4", "two depths at 30.0 m", "0.60 m and 0.90 m"),
        ),
    ],
)
def test_marks_that_cannot_be_are_refused(
    rows: tuple[str, ...], words: tuple[str, ...], tmp_path: Path
) -> None:
    with pytest.raises(InputError) as caught:
        laid(line_on(SLOPE), marks=noted(tmp_path, *rows))
    for word in words:
        assert word in str(caught.value)


def test_a_mark_whose_place_lies_elsewhere_is_refused(tmp_path: Path) -> None:
    lon, lat = to_lonlat(SLOPE, [(70.0, 74.0)])[0]
    marks = noted(tmp_path, f"{lon:.9f},{lat:.9f},0.6", header="lon,lat,depth")
    with pytest.raises(InputError, match=r"marks.csv line 2: its place is 71 m from delivery"):
        laid(line_on(SLOPE), marks=marks)


def test_two_marks_of_one_place_may_agree(tmp_path: Path) -> None:
    line = laid(line_on(SLOPE), marks=noted(tmp_path, "30,0.6,valve", "30,0.62,tee"))
    assert line.built is not None
    assert len(line.built.marks) == 2


def test_of_lines_that_are_walked_or_laid_nothing_is_weighed() -> None:
    planned = line_on(SLOPE)
    said: list[str] = []
    land = make_land(SLOPE)
    lines = (replace(planned, walked=True), laid(planned, depth=0.7))
    told = weigh_lines(ram_site(), lines, (land, land), said.append, alternatives=2)
    assert told == lines
    assert said == []
