from dataclasses import astuple, replace
from pathlib import Path

import pytest

from planner.errors import SiteError
from planner.site.read import site_from_text
from planner.site.value import Fill, OwnPipe, Site, Source, Tank
from tests.site.example import HEAD, site_text
from tests.site.test_bad_input import refusal
from tests.site.water import WATER


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return site_from_text(site_text(rest=WATER), tmp_path)


def test_bucket_and_watch_give_the_mean_of_their_flows(site: Site) -> None:
    assert site.source.timings == (Fill(0.02, 38.0), Fill(0.02, 40.0), Fill(0.02, 37.0))
    # By hand: 20/38 + 20/40 + 20/37 = 0.52632 + 0.5 + 0.54054 = 1.56686; a third is 0.52229 L/s.
    assert site.source.flow == pytest.approx(0.52229e-3, rel=1e-5)
    assert site.source.season_factor == pytest.approx((0.3, 0.7))
    assert site.source.share_left == 0.3


def test_what_is_said_of_ram_water_need_and_tank_comes_out_in_si(site: Site) -> None:
    assert site.ram.closing_velocity == 0.8
    litre_a_minute = 1e-3 / 60.0
    (measured,) = site.ram.measured
    assert astuple(measured) == pytest.approx(
        (22.0 * litre_a_minute, 4.8, 33.0, 2.3 * litre_a_minute)
    )
    assert site.temperature == pytest.approx(10.0)  # 50 °F
    assert site.demand == {"person_village": 4.0, "sheep": 30.0, "garden": 120.5}
    assert site.need is None
    assert site.tank == Tank(5.0, 2.5, 1.2)


def test_a_pipe_by_its_trade_size_is_a_choice_of_the_users(site: Site) -> None:
    pipe = site.lines["delivery"].pipe
    assert (pipe.size, pipe.standard, pipe.pressure_class) == ("1 in", "ISO 4427", "PN 10")
    assert pipe.fittings == (("elbow", 2), ("ball valve", 1))
    assert not pipe.bore_assumed
    assert site.lines["main"].pipe.size is None
    assert site.lines["main"].pipe.bore_assumed


def test_own_pipes_leave_out_what_is_not_known(site: Site) -> None:
    coils, sticks = site.own_pipes
    assert replace(coils, bore=0.0204) == OwnPipe("my coils", "25 mm", 0.0204, 0.025, 100.0)
    assert coils.bore == pytest.approx(0.0204)
    assert (coils.bend_radius, coils.coil) == (None, None)
    assert sticks.rating == pytest.approx(101.97, rel=1e-4)
    assert (sticks.roughness, sticks.bend_radius, sticks.coil) == (1e-4, 30.0, 6.0)


def test_a_file_that_says_nothing_of_it_has_the_defaults(tmp_path: Path) -> None:
    site = site_from_text(site_text(), tmp_path)
    assert (site.demand, site.tank, site.own_pipes) == ({}, Tank(), ())
    assert site.temperature == 10.0
    assert (site.ram.closing_velocity, site.ram.measured) == (None, ())
    assert (site.source.timings, site.source.season_factor) == ((), None)


def test_both_the_day_and_the_counts_may_be_given(tmp_path: Path) -> None:
    rest = '[need]\nper_day = "1500 L"\n[need.count]\nsheep = 30\n'
    site = site_from_text(site_text(rest=rest), tmp_path)
    assert (site.need, site.demand) == (1.5, {"sheep": 30.0})


def test_a_bare_gallon_in_a_bucket_is_the_sites_own(tmp_path: Path) -> None:
    rest = '[source]\ntimings = [["5 gal", "60 s"]]\n'
    site = site_from_text(site_text(head='gallon = "us"\n' + HEAD, rest=rest), tmp_path)
    assert site.source.flow == pytest.approx(5 * 231 * 0.0254**3 / 60)
    assert '"5 gal" does not say which gallon' in refusal(site_text(rest=rest), tmp_path)


def test_a_source_made_in_python_keeps_flow_and_timings_together() -> None:
    timings = (Fill(0.02, 40.0), Fill(0.02, 50.0))
    assert Source(timings=timings).flow == pytest.approx(0.45e-3)
    assert Source(flow=0.45e-3, timings=timings) == Source(timings=timings)
    with pytest.raises(SiteError, match="the mean of its timings"):
        Source(flow=1e-3, timings=timings)


def timed(volume: str, time: str) -> str:
    return f'[source]\ntimings = [["{volume}", "{time}"]]'


def measured(**said: str) -> str:
    usual = {"drive_flow": "22 L/min", "fall": "4.8 m", "lift": "33 m", "delivered": "2.3 L/min"}
    kept = {key: value for key, value in (usual | said).items() if value}
    inline = ", ".join(f'{key} = "{value}"' for key, value in kept.items())
    return f"[pump]\nmeasured = [{{{inline}}}]"


def line(text: str) -> str:
    return f"[lines.main]\n{text}"


def own(**said: str) -> str:
    usual = {
        "standard": "my coils",
        "size": "25 mm",
        "bore": "20.4 mm",
        "outside": "25 mm",
        "rating": "100 m",
    }
    kept = {key: value for key, value in (usual | said).items() if value}
    return "[[pipes]]\n" + "\n".join(f'{key} = "{value}"' for key, value in kept.items())


# What stands in the file, and the words of the message: place, value, remedy.
WRONG: list[tuple[str, tuple[str, ...]]] = [
    (
        '[source]\nflow = "30 L/min"\ntimings = [["20 L", "38 s"]]',
        ("source", "mean of the timings", "either flow or timings"),
    ),
    ("[source]\ntimings = []", ("source.timings", "too few", "at least 1")),
    ('[source]\ntimings = ["20 L", "38 s"]', ("timings no. 1", '"20 L"', "a pair in square")),
    ('[source]\ntimings = [["20 L"]]', ("source.timings no. 1", "too few", "a pair in square")),
    ('[source]\ntimings = [["20 L", 38]]', ("timings no. 1", '"38" has no unit', '"6 h"')),
    (timed("20", "38 s"), ("timings no. 1", '"20" has no unit', "1500 L")),
    (timed("20 m3", "38 s"), ("timings no. 1", '"20 m3" can\'t be right', "0.05 L to 10 m3")),
    (timed("20 L", "0 s"), ("timings no. 1", '"0 s" can\'t be right', "1 s to 1 day")),
    (timed("10 m3", "2 s"), ("source", "10000 L in 2 s", "1000 L/s")),
    ("[source]\nseason_factor = 0.5", ("source.season_factor", '"0.5"', "a pair in square")),
    ("[source]\nseason_factor = [0.7, 0.3]", ("season_factor", "out of order", "[0.3, 0.7]")),
    ('[source]\nseason_factor = [0.3, "130 %"]', ("season_factor", "130 %", "0 % to 100 %")),
    ('[water]\ntemperature = "10"', ("water.temperature", '"10" has no unit', "12 °C")),
    ('[water]\ntemperature = "95 °C"', ("water.temperature", "95 °C", "0 °C to 60 °C")),
    ('[water]\ntemprature = "9 °C"', ("water", '"temprature"', '"temperature" is probably')),
    ('[pump]\nclosing_velocity = "0.8"', ("pump.closing_velocity", "no unit", "0.8 m/s")),
    ('[pump]\nclosing_velocity = "80 m/s"', ("pump.closing_velocity", "80 m/s", "10 m/s")),
    (measured(lift=""), ("measured no. 1", '"lift" is missing', 'lift = "33 m"')),
    (measured(lift="4 m"), ("measured no. 1", "lift of 4 m", "heights above the ram")),
    (measured(delivered="4 L/min"), ("measured no. 1", "4 L/min is more", "3.2 L/min is the")),
    (measured(fall="-4.8 m"), ("measured no. 1, fall", '"-4.8 m"', "1 cm to 500 m")),
    ('[pump]\nmeasured = "good"', ("pump.measured", '"good"', "a list in square brackets")),
    ("[need.count]\nsheep = -3", ("need.count.sheep", '"-3"', "greater than or equal to 0")),
    ("[need.count]\nsheep = 1e9", ("need.count.sheep", "less than or equal to 1000000")),
    ("[need.count]\nsheep = nan", ("need.count.sheep", '"nan"', "finite")),
    ('[need.count]\nsheep = "many"', ("need.count.sheep", '"many"', "a number")),
    ("[need.count]\nsheep = true", ("need.count.sheep", '"True"', "a number")),
    ("[need]\ncount = 4", ("need.count", '"4"', "a table")),
    ('[need.count]\n"" = 4', ("need.count", '"" is no name', "on one line")),
    ('[need.count]\n"\\u001b[31m" = 4', ("need.count", "is no name", "on one line")),
    ('[need.count]\n"\\u001b[31m" = "x"', ("need.count", "is no name", "on one line")),
    (f'[need.count]\n"a.{"s" * 40}" = 4', ("need.count: ", "too long")),
    (f"[need.count]\n{'s' * 41} = 4", ("need.count", "too long", "at most 40")),
    ('[tank]\nvolume = "0 m3"', ("tank.volume", '"0 m3"', "1 L to 100000 m3")),
    ('[tank]\nbase = "2.5 m"', ("tank.base", "is no area", "2.5 m2")),
    ('[tank]\nstand = "-1 m"', ("tank.stand", '"-1 m"', "0 m to 30 m")),
    (line('pipe = "1 in"\nbore = "26 mm"'), ("lines.main", 'pipe = "1 in"', "tells the bore")),
    (line('pipe = "1 in"\nrating = "9 bar"'), ("lines.main", "tells the rating", "[[pipes]]")),
    (line("pipe = 1"), ("lines.main.pipe", '"1"', "text in quotes")),
    (line('pipe = " "'), ("lines.main.pipe", "is no name", "on one line")),
    (line(f'standard = "{"x" * 41}"'), ("lines.main.standard", "too long", "at most 40")),
    (line("fittings = {elbow = 1.5}"), ("lines.main.fittings.elbow", '"1.5"', "whole number")),
    (line("fittings = {elbow = -1}"), ("lines.main.fittings.elbow", '"-1"', "equal to 0")),
    (line("fittings = {elbow = 9999}"), ("main.fittings.elbow", '"9999"', "equal to 1000")),
    (
        line('fittings = {ball_valve = 1, "Ball valve" = 2}'),
        ("lines.main", '"ball valve" is counted twice', "once"),
    ),
    (line('fittings = ["elbow"]'), ("lines.main.fittings", "elbow", "a table")),
    (own(outside=""), ("pipes no. 1", '"outside" is missing', 'outside = "25 mm"')),
    (own(bore="25 mm"), ("pipes no. 1", "25 mm leaves no wall", "smaller bore")),
    (own(rating="100"), ("pipes no. 1, rating", '"100" has no unit', "60 m")),
    (own(coil="0 m"), ("pipes no. 1, coil", '"0 m"', "0.5 m to 5 km")),
    (own(wall="2 mm"), ("pipes no. 1", 'no key "wall"', "the keys are standard")),
    ('pipes = "1 in"', ("pipes", '"1 in"', "a list in square brackets")),
]


@pytest.mark.parametrize(("rest", "words"), WRONG)
def test_what_is_wrong_is_told_in_one_sentence(
    rest: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    message = refusal(site_text(head=HEAD + rest + "\n", rest=""), tmp_path)
    for word in words:
        assert word in message
