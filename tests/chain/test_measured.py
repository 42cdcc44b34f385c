"""What was measured is taken in before lines are looked for, and can be left out again."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.chain.measured import anything_measured, before_measuring, levelled, measure
from planner.chain.place import place_points
from planner.errors import InputError
from planner.levels.value import Survey
from planner.record.value import Placed
from planner.site.field import Built, Measured
from planner.site.value import MeasuredDelivery, Ram, Site
from planner.terrain.frame import to_lonlat
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from tests.chain.scene import SIGMA, ram_site, valley
from tests.levels.written import write

RISE = -6.2  # m, spring to ram as read; the valley's data has it 0.2 m lower
BOOK = "station,back,fore\nspring,1.000,\nturn,1.000,4.500\nram,,3.700\n"
SEEN = MeasuredDelivery(drive_flow=5e-4, fall=6.2, lift=18.0, delivered=5e-5)
TIMES = ((0.01, 20.0), (0.01, 21.0))


def measured_site(folder: Path, text: str = BOOK, **said: object) -> Site:
    file = write(folder, text, "levels.csv")
    return ram_site(measured=Measured(levels=(file,), **said))  # type: ignore[arg-type]


def placed(site: Site, terrain: Terrain, survey: Survey | None) -> dict[str, Placed]:
    points = levelled(place_points(terrain, site.sketch), terrain, survey)
    return {point.name: point for point in points}


def error_of(point: Placed) -> float:
    assert point.level_error is not None
    return point.level_error


def found(site: Site) -> tuple[Terrain, Survey]:
    bent, survey = measure(site, valley())
    assert survey is not None
    return bent, survey


@pytest.mark.parametrize(
    "site",
    [
        ram_site(measured=Measured(levels=(Path("levels.csv"),))),
        ram_site(measured=Measured(timings=TIMES)),
        ram_site(ram=Ram(measured=(SEEN,))),
    ],
    ids=["levels", "timings", "ram"],
)
def test_each_thing_measured_is_left_out_of_the_plan_before(site: Site) -> None:
    assert anything_measured(site)
    before = before_measuring(site)
    assert not anything_measured(before)
    assert before == ram_site()
    assert before_measuring(before) == before


def test_what_only_helps_to_read_measures_nothing() -> None:
    said = Measured(unit="ft", reach=50.0, stakes=Path("stakes.csv"))
    assert not anything_measured(ram_site(measured=said))


@pytest.mark.parametrize(
    "site",
    [
        ram_site(measured=Measured(walked={"delivery": Path("walk.gpx")})),
        ram_site(built=(Built("delivery", along=Path("laid.gpx")),)),
        ram_site(built=(Built("delivery", depth=0.6),)),
    ],
    ids=["walked", "laid elsewhere", "laid deeper"],
)
def test_the_plan_before_has_its_lines_routed_and_laid_as_planned(site: Site) -> None:
    assert anything_measured(site)
    assert before_measuring(site) == ram_site()


def test_a_line_built_as_planned_changes_nothing() -> None:
    assert not anything_measured(ram_site(built=(Built("delivery", photos=("trench.jpg",)),)))


def test_a_gauged_source_stands_in_for_the_flow_said_before() -> None:
    site = ram_site(measured=Measured(timings=TIMES))
    said = ram_site().source
    assert site.gauged.flow == pytest.approx((0.01 / 20.0 + 0.01 / 21.0) / 2.0)
    assert [(one.volume, one.seconds) for one in site.gauged.timings] == list(TIMES)
    assert site.gauged.share_left == said.share_left
    assert before_measuring(site).gauged == said


def test_without_levels_the_ground_is_that_of_the_data() -> None:
    site = ram_site(measured=Measured(timings=TIMES))
    terrain, survey = measure(site, valley())
    assert terrain is valley()
    assert survey is None
    points = place_points(terrain, site.sketch)
    assert levelled(points, terrain, survey) == points


def test_points_stand_apart_as_they_were_levelled(tmp_path: Path) -> None:
    site = measured_site(tmp_path)
    bent, survey = found(site)
    points = placed(site, bent, survey)
    assert points["ram"].level - points["spring"].level == pytest.approx(RISE, abs=0.003)
    on_data = placed(site, valley(), None)
    told = on_data["ram"].level - on_data["spring"].level
    assert abs(told - RISE) > 0.05  # so that the test above says something


def test_a_levelled_point_is_as_sure_as_its_level_and_the_others_as_the_data(
    tmp_path: Path,
) -> None:
    site = measured_site(tmp_path)
    bent, survey = found(site)
    points = placed(site, bent, survey)
    assert error_of(points["spring"]) < 0.01
    assert error_of(points["ram"]) < 0.01
    far = points["trough"]  # 87 m from the ram
    assert error_of(far) > 0.5 * SIGMA
    assert far.level == pytest.approx(placed(site, valley(), None)["trough"].level, abs=0.05)


def test_a_structure_keeps_its_height_above_the_ground_that_was_levelled(tmp_path: Path) -> None:
    site = measured_site(tmp_path)
    bent, survey = found(site)
    raised = tuple(replace(one, level=one.ground + 0.8) for one in place_points(bent, site.sketch))
    for point in levelled(raised, bent, survey):
        assert point.level - point.ground == pytest.approx(0.8)


def test_a_stake_at_a_point_of_the_sketch_is_that_point(tmp_path: Path) -> None:
    """The pegs at a line's ends have names of their own."""
    site = ram_site()
    at = {point.name: point.at for point in site.sketch.points}
    stakes = write(
        tmp_path,
        "name,line,lon,lat\n"
        f"Dr 01,drive,{at['spring'][0]:.9f},{at['spring'][1]:.9f}\n"
        f"Dr 09,drive,{at['ram'][0]:.9f},{at['ram'][1]:.9f}\n",
        "stakes.csv",
    )
    text = BOOK.replace("spring", "Dr 01").replace("ram", "Dr 09")
    site = measured_site(tmp_path, text, stakes=stakes)
    bent, survey = found(site)
    points = placed(site, bent, survey)
    assert points["ram"].level - points["spring"].level == pytest.approx(RISE, abs=0.003)
    assert error_of(points["ram"]) < 0.01


def test_the_ground_itself_is_bent_to_the_levels(tmp_path: Path) -> None:
    site = measured_site(tmp_path)
    bent, survey = found(site)
    x, y = np.array([one.xy for one in survey.stations]).T
    before, after = ground_at(valley(), x, y), ground_at(bent, x, y)
    level = np.array([one.level for one in survey.stations])
    assert np.max(np.abs(after - level)) < np.max(np.abs(before - level))
    assert bent.provenance == valley().provenance


def test_a_barometer_alone_leaves_lidar_as_it_is(tmp_path: Path) -> None:
    """Metres of pressure tell nothing of ground known to a decimetre."""
    text = "station,time,altitude\nspring,09:00,410\nram,09:10,401\nspring,09:20,410\n"
    site = measured_site(tmp_path, text)
    bent, survey = found(site)
    assert {method for one in survey.stations for method in one.methods} == {"barometer"}
    assert np.nanmax(np.abs(bent.z - valley().z)) < 0.02
    points = placed(site, bent, survey)
    on_data = placed(site, valley(), None)
    fall = [one["spring"].level - one["ram"].level for one in (points, on_data)]
    assert fall[0] == pytest.approx(fall[1], abs=0.03)
    error = math.hypot(error_of(points["spring"]), error_of(points["ram"]))
    assert error > 0.5 * SIGMA


def test_feet_are_taken_where_the_site_speaks_feet(tmp_path: Path) -> None:
    feet = "station,back,fore\nspring,3.281,\nram,,23.622\n"
    one = found(measured_site(tmp_path))[1]
    other = found(measured_site(tmp_path, feet, unit="ft"))[1]
    rises = [each.stations[1].level - each.stations[0].level for each in (one, other)]
    assert rises[0] == pytest.approx(rises[1], abs=0.001)


def test_a_station_that_stands_nowhere_is_refused(tmp_path: Path) -> None:
    site = measured_site(tmp_path, BOOK.replace("ram", "Nowhere"))
    with pytest.raises(InputError, match="Nowhere"):
        measure(site, valley())


def test_places_come_from_readings_too(tmp_path: Path) -> None:
    lon, lat = to_lonlat(valley(), [[60.0, 20.0]])[0]
    text = f"station,back,fore,lon,lat\nspring,1.000,,,\nknoll,,2.000,{lon:.9f},{lat:.9f}\n"
    _, survey = found(measured_site(tmp_path, text))
    station = survey.station("knoll")
    assert station is not None
    assert station.xy == pytest.approx((60.0, 20.0), abs=0.01)
