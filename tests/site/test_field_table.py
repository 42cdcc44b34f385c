"""What the site file says of the field: measured, built, papers, rates."""

import datetime
from pathlib import Path

import pytest

from planner.site.field import DIG_RATES, Built, Measured, Papers, Rates
from planner.site.read import read_site, site_from_text
from planner.site.value import Site
from tests.site.example import HEAD, SKETCH, SOURCE, site_text, write_site
from tests.site.field import FIELD
from tests.site.test_bad_input import refusal

FOOT = 0.3048  # m, the international foot


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return site_from_text(site_text(rest=SOURCE + FIELD), tmp_path)


def test_what_was_measured_comes_out_with_its_files(site: Site, tmp_path: Path) -> None:
    assert site.measured == Measured(
        levels=(tmp_path / "levels.csv", tmp_path / "field" / "hose.csv"),
        unit="ft",
        stakes=tmp_path / "stakes.csv",
        reach=60.0,
        walked={
            "delivery": tmp_path / "walk.gpx",
            "distribution-trough": tmp_path / "field" / "walk 2.gpx",
        },
        timings=((0.02, 38.0), (0.02, 40.0)),
        date=datetime.date(2026, 8, 20),
        flow_season="dry",
    )


def test_what_was_built_comes_out_line_by_line(site: Site, tmp_path: Path) -> None:
    supply, drive = site.built
    assert supply == Built(
        "supply",
        along=tmp_path / "field" / "laid.gpx",
        marks=tmp_path / "marks.csv",
        date=datetime.date(2026, 9, 12),
        depth=2 * FOOT,
        photos=("trench-1.jpg", "<b>.jpg"),
        note="warning tape at half the depth",
    )
    assert drive == Built("drive", depth=-0.3)


def test_papers_and_rates_come_out_in_si(site: Site, tmp_path: Path) -> None:
    assert site.papers == Papers(
        paper="A3",
        revision="B",
        drawn_by="R. Larch",
        owner="the hollow's commons",
        datum="peg at the spring, 100.00 m",
        stake_interval=25 * FOOT,
        told=("the water authority", "the neighbour below"),
    )
    rates = site.rates
    assert (rates.allowance, rates.rough_allowance) == pytest.approx((0.04, 0.12))
    assert (rates.trench_width, rates.bedding) == pytest.approx((0.3048, 0.1))
    assert rates.lay == pytest.approx(60.96)
    assert rates.load == pytest.approx(55 * 0.45359237)
    assert (rates.ground, rates.currency) == ("stony", "EUR")
    assert rates.prices == tmp_path / "prices.csv"
    # Where the file says nothing of a ground, its default stays.
    assert rates.dig == {
        "soft": 4.0,
        "ordinary": DIG_RATES["ordinary"],
        "stony": DIG_RATES["stony"],
        "rock": pytest.approx(0.5 * 0.9144**3),
    }


def test_a_site_file_that_says_nothing_of_the_field_has_the_defaults(tmp_path: Path) -> None:
    site = site_from_text(site_text(), tmp_path)
    assert (site.measured, site.built) == (Measured(), ())
    assert (site.papers, site.rates) == (Papers(), Rates())


def test_an_area_tells_how_hard_its_digging_is(tmp_path: Path) -> None:
    sketch = SKETCH.replace('role = "avoid"', 'role = "costly"\nground = "rock"')
    (area,) = site_from_text(site_text(sketch=sketch), tmp_path).sketch.areas
    assert area.ground == "rock"


def test_an_area_in_a_sketch_file_tells_it_by_an_attribute(tmp_path: Path) -> None:
    (tmp_path / "s.geojson").write_text(
        """{"type": "FeatureCollection", "features": [
        {"type": "Feature", "properties": {"role": "source"},
         "geometry": {"type": "Point", "coordinates": [11.2, 47.3]}},
        {"type": "Feature", "properties": {"role": "tank"},
         "geometry": {"type": "Point", "coordinates": [11.201, 47.3]}},
        {"type": "Feature", "properties": {"role": "costly", "ground": "soft"},
         "geometry": {"type": "Polygon", "coordinates":
          [[[11.2, 47.3], [11.21, 47.3], [11.21, 47.31], [11.2, 47.3]]]}}]}""",
        encoding="utf-8",
    )
    site = read_site(write_site(tmp_path, site_text(sketch='[sketch]\nfile = "s.geojson"\n')))
    assert [area.ground for area in site.sketch.areas] == ["soft"]


def test_text_for_the_papers_stands_on_one_line_and_stays_text(tmp_path: Path) -> None:
    rest = '[papers]\nowner = "two\\nlines \\u202e<script>"\nrevision = "a\\tb"\n'
    papers = site_from_text(site_text(rest=rest), tmp_path).papers
    assert (papers.owner, papers.revision) == ("two lines <script>", "a b")


def built(text: str, line: str = "main") -> str:
    return f'[[built]]\nline = "{line}"\n{text}'


# What stands in the file, and the words of the message: place, value, remedy.
WRONG: list[tuple[str, tuple[str, ...]]] = [
    ('[measured]\nlevels = "levels.csv"', ("measured.levels", "a list in square brackets")),
    ("[measured]\nlevels = [7]", ("measured.levels no. 1", '"7"', "text in quotes")),
    (
        '[measured]\nlevels = ["https://x.example/l.csv"]',
        ("measured.levels", "https://x", "not a file of this machine", "levels.csv"),
    ),
    ('[measured]\nlevels = [""]', ("measured.levels", "not a file", "levels.csv")),
    ('[measured]\nlevels = ["a\\u0000b"]', ("measured.levels", "not a file", "levels.csv")),
    ('[measured]\nunit = "feet"', ("measured.unit", '"feet"', '"m" or "ft"')),
    ('[measured]\nstakes = "/vsicurl/x"', ("measured.stakes", "not a file", "stakes.csv")),
    ('[measured]\nreach = "60"', ("measured.reach", '"60" has no unit')),
    ('[measured]\nreach = "0 m"', ("measured.reach", '"0 m"', "1 m to 10 km")),
    ('[measured]\nwalked = "walk.gpx"', ("measured.walked", '"walk.gpx"', "a table")),
    (
        '[measured.walked]\n"The delivery" = "walk.gpx"',
        ("measured.walked", '"The delivery" is no line\'s name', "distribution-trough"),
    ),
    (
        '[measured.walked]\ndelivery = "ftp://a/walk.gpx"',
        ("measured.walked.delivery", "not a file", "walk.gpx"),
    ),
    ("[measured.walked]\ndelivery = 4", ("measured.walked.delivery", '"4"', "text in quotes")),
    ('[measured]\ntimings = [["10 m3", "2 s"]]', ("measured", "10000 L in 2 s", "1000 L/s")),
    ("[measured]\ntimings = []", ("measured.timings", "too few", "at least 1")),
    ('[measured]\ndate = "today"', ("measured.date", '"today"', "2026-08-20")),
    ('[measured]\nwalkd = "x"', ("measured", '"walkd"', '"walked" is probably meant')),
    ('built = "supply"', ("built", '"supply"', "a list in square brackets")),
    ("[[built]]\ndate = 2026-09-12", ("built no. 1", '"line" is missing', 'line = "delivery"')),
    (built("", "../main"), ("built no. 1, line", '"../main" is no line', "delivery")),
    (built("") + "\n" + built(""), ("built no. 2", '"main" is told already', "once")),
    (built('depth = "0.6"'), ("built no. 1, depth", '"0.6" has no unit', "2.3 m")),
    (built('depth = "60 m"'), ("built no. 1, depth", '"60 m"', "-5 m to 6 m")),
    (built('marks = "http://a/b.csv"'), ("built no. 1, marks", "not a file", "marks.csv")),
    (built('along = " "'), ("built no. 1, along", "not a file", "laid.gpx")),
    (built('photos = "a.jpg"'), ("built no. 1, photos", "a list in square brackets")),
    (built(f'note = "{"x" * 501}"'), ("built no. 1, note", "too long", "at most 500")),
    ('[papers]\npaper = "A5"', ("papers.paper", '"A5"', '"A4", "A3", "Letter" or "Tabloid"')),
    (f'[papers]\nowner = "{"x" * 81}"', ("papers.owner", "too long", "at most 80")),
    ('[papers]\nstake_interval = "10"', ("papers.stake_interval", '"10" has no unit')),
    ('[papers]\nstake_interval = "1 mm"', ("papers.stake_interval", '"1 mm"', "0.5 m to 500 m")),
    ('[papers]\ntold = "the council"', ("papers.told", "a list in square brackets")),
    ('[rates]\nallowance = "120 %"', ("rates.allowance", '"120 %"', "0 % to 100 %")),
    ('[rates]\ntrench_width = "30"', ("rates.trench_width", '"30" has no unit')),
    ('[rates]\nground = "clay"', ("rates.ground", '"clay"', '"soft", "ordinary"')),
    ('[rates]\ndig = "2 m3/day"', ("rates.dig", '"2 m3/day" is no table', "heading")),
    ('[rates.dig]\nclay = "2 m3/day"', ("rates.dig", '"clay"', "the keys are soft")),
    ('[rates.dig]\nsoft = "2 m3"', ("rates.dig.soft", "no volume dug in a day", "cu yd/day")),
    ('[rates.dig]\nsoft = "0 m3/day"', ("rates.dig.soft", "0.01 m3/day to 1000 m3/day")),
    ('[rates]\nlay = "60 m"', ("rates.lay", "no length laid in a day", "60 m/day")),
    ('[rates]\nload = "25"', ("rates.load", '"25" has no unit', "55 lb")),
    ('[rates]\nload = "25 stone"', ("rates.load", "is no mass", "55 lb")),
    ('[rates]\nprices = "gs://x"', ("rates.prices", "not a file", "prices.csv")),
    ('[rates]\ncurrency = "\\u0007"', ("rates.currency", "is no name", "on one line")),
    ("[rates]\nwages = 3", ("rates", 'no key "wages"', "the keys are allowance")),
]


@pytest.mark.parametrize(("rest", "words"), WRONG)
def test_what_is_wrong_is_told_in_one_sentence(
    rest: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    message = refusal(site_text(head=HEAD + rest + "\n", rest=""), tmp_path)
    for word in words:
        assert word in message


def test_a_ground_nobody_knows_is_refused_in_an_area(tmp_path: Path) -> None:
    sketch = SKETCH.replace('role = "avoid"', 'role = "avoid"\nground = "clay"')
    message = refusal(site_text(sketch=sketch), tmp_path)
    assert 'sketch.areas no. 1, ground: "clay"' in message
