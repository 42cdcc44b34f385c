"""Lines that were walked or staked lie where they lie, from point to point."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.chain.lines import Lines, find_lines
from planner.chain.place import lands_of, place_areas, place_points
from planner.chain.scheme import choose_scheme
from planner.errors import InputError
from planner.record.value import Line
from planner.site.field import Built, Measured
from planner.site.value import LineRole, Point, PoweredPump, Site
from planner.terrain.drainage import find_streams
from planner.terrain.frame import to_lonlat
from planner.terrain.sample import ground_at
from planner.terrain.value import FloatArray, Terrain
from tests.chain.scene import (
    LOW_TANK,
    RAM,
    SPRING,
    TANK,
    TROUGH,
    area,
    levels,
    point,
    ram_site,
    site,
    terrain_of,
    valley,
)
from tests.chain.walks import WAY, along, trail, write_geojson

BEND = WAY[1]


def found(made: Site, terrain: Terrain | None = None, ground: object = None) -> Lines:
    terrain = terrain or valley()
    points = place_points(terrain, made.sketch)
    areas = place_areas(terrain, made.sketch.areas)
    scheme = choose_scheme(made, points)
    lands, streams = lands_of(terrain, areas), find_streams(terrain)
    return find_lines(made, scheme, lands, streams, lambda _: None, ground)  # type: ignore[arg-type]


def walked_site(folder: Path, xy: FloatArray, name: str = "delivery", **said: object) -> Site:
    file = write_geojson(folder / "walk.geojson", valley(), xy)
    return ram_site(measured=Measured(walked={name: file}), **said)


def line_of(lines: Lines, name: str = "delivery") -> Line:
    return next(line for line in lines.lines if line.name == name)


def delivery(folder: Path, xy: FloatArray) -> Line:
    return line_of(found(walked_site(folder, xy)))


def nearest(line: Line, place: FloatArray) -> float:
    return float(np.hypot(*(line.profile.xy - place).T).min())


def test_it_runs_from_point_to_point_by_the_corners_that_were_staked(tmp_path: Path) -> None:
    line = delivery(tmp_path, WAY)
    assert line.walked
    assert (line.start, line.end) == ("ram", "tank")
    np.testing.assert_allclose(line.profile.xy[[0, -1]], WAY[[0, -1]], atol=1e-6)
    assert max(nearest(line, corner) for corner in WAY) < 1e-6
    assert line.profile.run[-1] == pytest.approx(LineString(WAY).length)
    routed = found(ram_site())
    assert nearest(line_of(routed), BEND) > 2.0  # no route came by
    assert not any(one.walked for one in routed.lines)


def test_heights_in_the_file_are_never_used(tmp_path: Path) -> None:
    line = delivery(tmp_path, WAY)
    ground = ground_at(valley(), *line.profile.xy.T)
    np.testing.assert_allclose(line.profile.ground, ground)


def test_it_is_laid_in_the_trench_of_its_role(tmp_path: Path) -> None:
    line = delivery(tmp_path, WAY)
    laying = line.settings.laying
    assert line.profile.depth.min() >= laying.least_cover - 1e-6
    assert line.profile.depth.max() <= laying.deepest_trench + 1e-6
    assert line.rule_kept == (not line.high_points)


def test_a_line_walked_from_the_other_end_is_turned_round(tmp_path: Path) -> None:
    there, back = delivery(tmp_path, WAY), delivery(tmp_path, WAY[::-1])
    np.testing.assert_allclose(there.profile.xy, back.profile.xy, atol=1e-6)
    np.testing.assert_allclose(there.profile.pipe, back.profile.pipe, atol=1e-6)


@pytest.mark.parametrize("seed", range(5))
def test_a_trail_is_freed_of_what_the_handheld_added(seed: int, tmp_path: Path) -> None:
    line = delivery(tmp_path, trail(WAY, seed))
    assert line.path.hausdorff_distance(LineString(WAY)) < 7.5
    assert line.profile.run[-1] == pytest.approx(LineString(WAY).length, rel=0.1)
    np.testing.assert_allclose(line.profile.xy[[0, -1]], WAY[[0, -1]], atol=1e-6)


def test_a_walk_that_passes_its_points_is_cut_there(tmp_path: Path) -> None:
    before, after = WAY[0] - (0.0, 30.0), WAY[-1] + (20.0, 0.0)
    rng = np.random.default_rng(1)
    fixes = along(np.vstack([before, WAY, after]), 1.0)
    line = delivery(tmp_path, fixes + rng.uniform(-0.5, 0.5, fixes.shape))
    assert line.profile.run[-1] == pytest.approx(LineString(WAY).length, abs=2.0)
    assert line.path.hausdorff_distance(LineString(WAY)) < 3.0


def test_a_line_that_begins_some_metres_off_gets_a_first_leg(tmp_path: Path) -> None:
    line = delivery(tmp_path, along(np.vstack([WAY[0] + (0.0, 12.0), WAY[1:]]), 1.0))
    np.testing.assert_allclose(line.profile.xy[0], WAY[0], atol=1e-6)
    assert nearest(line, WAY[0] + (0.0, 12.0)) < 1e-6


def test_a_line_far_from_its_point_is_refused_with_both_and_the_distance(tmp_path: Path) -> None:
    far = np.vstack([[150.0, -65.0], WAY[1:]])
    with pytest.raises(InputError) as caught:
        delivery(tmp_path, far)
    assert str(caught.value) == (
        'measured.walked.delivery: the line in walk.geojson begins 88 m from "ram"; give the '
        "line from point to point, or move the point to where it was put"
    )
    with pytest.raises(InputError, match=r'ends 63 m from "tank"'):
        delivery(tmp_path, np.vstack([WAY[:-1], [60.0, 78.0]]))


def test_a_short_line_may_begin_less_far_from_its_point(tmp_path: Path) -> None:
    drive = np.array([[64.0, 0.0], [92.5, 1.5]])
    found(walked_site(tmp_path, drive + np.array([0.0, 9.0]), "drive"))
    with pytest.raises(InputError, match=r'ends 20 m from "ram"'):
        found(walked_site(tmp_path, drive + np.array([0.0, 20.0]), "drive"))


def test_a_line_that_leaves_the_data_or_crosses_a_hole_is_told(tmp_path: Path) -> None:
    out = np.vstack([WAY[:1], [230.0, 20.0], WAY[-1:]])
    with pytest.raises(InputError, match=r"walked.delivery: .* outside the elevation data from"):
        delivery(tmp_path, out)
    z = levels()
    z[52:56, 122:127] = np.nan  # about (104.5, 26)
    made = walked_site(tmp_path, WAY)
    with pytest.raises(InputError, match=r"walk.geojson crosses a hole in the elevation data from"):
        found(made, terrain_of(z))


def test_a_line_nobody_plans_is_refused_with_those_there_are(tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        found(walked_site(tmp_path, WAY, "main"))
    assert str(caught.value) == (
        'measured.walked: the plan has no line "main"; its lines are supply, drive, delivery, '
        "distribution-trough, waste, overflow"
    )
    nowhere = Measured(walked={"main": tmp_path / "nothing.gpx"})
    with pytest.raises(InputError, match='no line "main"'):  # before its file is looked for
        found(ram_site(measured=nowhere))
    with pytest.raises(InputError, match='built: the plan has no line "main"; its lines are'):
        found(ram_site(built=(Built("main"),)))


@pytest.mark.parametrize(
    ("text", "words"),
    [(None, "is not there"), ("[]", "not GeoJSON"), ("", "is empty")],
)
def test_a_file_that_cannot_be_read_is_named_with_its_line(
    text: str | None, words: str, tmp_path: Path
) -> None:
    file = tmp_path / "walk.geojson"
    if text is not None:
        file.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=r"^measured\.walked\.delivery: .*walk\.geojson") as caught:
        found(ram_site(measured=Measured(walked={"delivery": file})))
    assert words in str(caught.value)


def test_a_file_of_marks_that_cannot_be_used_is_named_with_its_line(tmp_path: Path) -> None:
    marks = tmp_path / "marks.csv"
    marks.write_text("chainage,depth\n5,60\n", encoding="utf-8")
    with pytest.raises(InputError, match=r"^built delivery, marks: marks\.csv line 2, column dep"):
        found(ram_site(built=(Built("delivery", marks=marks),)))


def test_a_walk_in_another_country_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"begins [\d,]+ m from \"ram\"|nowhere near"):
        delivery(tmp_path, WAY + 5e6)


def test_stakes_of_several_lines_give_each_its_own(tmp_path: Path) -> None:
    trough = np.array([[120.5, 60.5], [150.0, 60.0], [170.5, 40.5]])
    rows = ["name,line,number,chainage_m,lon,lat"]
    for line, way in (("distribution-trough", trough), ("delivery", WAY)):
        for k, (lon, lat) in enumerate(to_lonlat(valley(), way), start=1):
            rows.append(f"x {k},{line},{k},0,{lon:.9f},{lat:.9f}")
    file = tmp_path / "stakes.csv"
    file.write_text("\n".join(rows), encoding="utf-8")
    lines = found(
        ram_site(measured=Measured(walked={"delivery": file, "distribution-trough": file}))
    )
    assert {line.name for line in lines.lines if line.walked} == {"delivery", "distribution-trough"}
    for name, way in (("distribution-trough", trough), ("delivery", WAY)):
        assert max(nearest(line_of(lines, name), corner) for corner in way) < 1e-3


def test_where_it_was_laid_stands_before_where_it_was_walked(tmp_path: Path) -> None:
    laid = write_geojson(tmp_path / "laid.geojson", valley(), WAY)
    made = walked_site(tmp_path, WAY[[0, -1]], built=(Built("delivery", along=laid),))
    line = line_of(found(made))
    assert nearest(line, BEND) < 1e-6
    assert line.walked
    assert line.built is not None


def test_the_chamber_stands_where_the_walked_supply_ends(tmp_path: Path) -> None:
    supply = np.array([[20.5, -0.5], [40.0, -2.0], [66.0, 1.0]])
    lines = found(walked_site(tmp_path, supply[::-1], "supply"))
    chamber = lines.scheme.chamber
    assert chamber is not None
    assert chamber.xy == pytest.approx((66.0, 1.0), abs=1e-6)
    assert not chamber.by_program
    assert line_of(lines, "supply").profile.xy[-1] == pytest.approx(chamber.xy)
    assert line_of(lines, "drive").profile.xy[0] == pytest.approx(chamber.xy)


def test_the_chamber_stands_where_the_walked_drive_pipe_begins(tmp_path: Path) -> None:
    lines = found(walked_site(tmp_path, np.array([[92.5, 1.5], [64.0, 0.0]]), "drive"))
    assert lines.scheme.chamber is not None
    assert lines.scheme.chamber.xy == pytest.approx((64.0, 0.0), abs=1e-6)


def test_a_walked_drive_pipe_is_straight(tmp_path: Path) -> None:
    wobbling = trail(np.array([[64.0, 0.0], [92.5, 1.5]]), stray=0.5)
    drive = line_of(found(walked_site(tmp_path, wobbling, "drive")), "drive")
    assert drive.walked
    grades = np.diff(drive.profile.pipe) / np.diff(drive.profile.run)
    np.testing.assert_allclose(grades, grades[0])
    assert drive.path.length == pytest.approx(float(np.ptp(drive.profile.xy, axis=0)[0]), rel=0.02)
    assert drive.rule_kept


def test_a_drive_pipe_staked_round_a_corner_does_not_keep_its_rule(tmp_path: Path) -> None:
    bent = np.array([[64.0, 0.0], [78.0, 9.0], [92.5, 1.5]])
    assert not line_of(found(walked_site(tmp_path, bent, "drive")), "drive").rule_kept
    made = walked_site(tmp_path, bent, "drive")
    settings = made.lines["drive"]
    leave = replace(settings, laying=replace(settings.laying, bend=True))
    made = replace(made, lines={**made.lines, "drive": leave})
    assert line_of(found(made), "drive").rule_kept


def test_a_walked_waste_pipe_ends_in_the_open_where_it_was_walked_to(tmp_path: Path) -> None:
    waste = line_of(
        found(walked_site(tmp_path, np.array([[92.5, 1.5], [112.0, 0.2]]), "waste")), "waste"
    )
    assert waste.walked
    assert waste.end == "stream"
    assert waste.profile.xy[-1] == pytest.approx((112.0, 0.2), abs=1e-6)
    assert waste.profile.depth[-1] == pytest.approx(0.0, abs=1e-6)
    assert waste.rule_kept


def test_a_supply_walked_over_a_rise_is_laid_with_rises(tmp_path: Path) -> None:
    over = np.array([[20.5, -0.5], [40.0, 25.0], [66.0, 1.0]])
    supply = line_of(found(walked_site(tmp_path, over, "supply")), "supply")
    assert not supply.rule_kept
    assert len(supply.high_points) == 1


def test_a_walked_line_may_cross_closed_land_where_a_route_may_not(tmp_path: Path) -> None:
    bog = area("bog", "avoid", (100, 10, 110, 45))
    file = write_geojson(tmp_path / "walk.geojson", valley(), WAY)
    made = site(SPRING, RAM, TANK, areas=(bog,), measured=Measured(walked={"delivery": file}))
    assert line_of(found(made)).walked


@pytest.mark.parametrize(
    ("role", "points", "way"),
    [
        ("main", (SPRING, LOW_TANK), [[20.5, -0.5], [90.0, 12.0], [150.5, 6.5]]),
        ("delivery", (SPRING, RAM, TANK), WAY.tolist()),
    ],
)
def test_gravity_and_powered_schemes_take_walked_lines_too(
    role: LineRole, points: tuple[Point, ...], way: list[list[float]], tmp_path: Path
) -> None:
    file = write_geojson(tmp_path / "walk.geojson", valley(), np.array(way))
    pump = PoweredPump(((0.0, 60.0), (1e-3, 10.0))) if role == "delivery" else None
    made = site(*points, measured=Measured(walked={role: file}), powered=pump)
    line = line_of(found(made), role)
    assert nearest(line, np.array(way[1])) < 1e-6


def test_a_levelled_ground_lays_every_line_anew(tmp_path: Path) -> None:
    """Ground measured 0.4 m lower along x > 100: pipes go with it there, and nowhere else."""

    def lower(xy: FloatArray) -> FloatArray:
        return np.where(xy[:, 0] > 100.0, -0.4, 0.0)

    made = walked_site(tmp_path, WAY)
    plain, measured = found(made), found(made, ground=lower)
    for before, after in zip(plain.lines, measured.lines, strict=True):
        assert before.name == after.name
        np.testing.assert_array_equal(before.profile.xy, after.profile.xy)
        added = after.profile.ground - before.profile.ground
        np.testing.assert_allclose(added, lower(before.profile.xy))
        laying = after.settings.laying
        if after.role not in ("drive", "waste", "overflow"):
            assert after.profile.depth.min() >= laying.least_cover - 1e-6
            assert after.profile.depth.max() <= laying.deepest_trench + 1e-6
        if not added.any():
            np.testing.assert_array_equal(before.profile.pipe, after.profile.pipe)
    assert any(
        (a.profile.ground != b.profile.ground).any()
        for a, b in zip(plain.lines, measured.lines, strict=True)
    )


def test_a_levelled_drive_pipe_stays_straight(tmp_path: Path) -> None:
    tilted = found(ram_site(), ground=lambda xy: 0.01 * (xy[:, 0] - 60.0))
    drive = line_of(tilted, "drive")
    grades = np.diff(drive.profile.pipe) / np.diff(drive.profile.run)
    np.testing.assert_allclose(grades, grades[0])
    np.testing.assert_allclose(drive.profile.pipe[[0, -1]], drive.profile.ground[[0, -1]])


def test_an_outlet_s_line_is_told_by_its_own_name(tmp_path: Path) -> None:
    tap = point("Upper tap", "outlet", 150.5, 55.5)
    file = write_geojson(tmp_path / "w.geojson", valley(), np.array([[120.5, 60.5], [150.5, 55.5]]))
    made = site(SPRING, RAM, TANK, TROUGH, tap)
    made = replace(made, measured=Measured(walked={"distribution-upper-tap": file}))
    walked = [line.name for line in found(made).lines if line.walked]
    assert walked == ["distribution-upper-tap"]
