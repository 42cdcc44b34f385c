"""A site's tables of the field, written so that another folder reads the same."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.site.field import DIG_RATES, Built, Measured, Papers, Rates
from planner.site.read import read_site, site_from_text
from planner.site.value import Site
from planner.site.write import portable, same_site
from tests.example import example_plan
from tests.site.example import SOURCE, site_text, write_site
from tests.site.field import FIELD


def _again(site: Site, folder: Path) -> Site:
    return site_from_text(portable(site, folder), folder)


def test_every_word_is_kept_and_every_path_is_seen_from_the_new_folder(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=SOURCE + FIELD)))
    folder = tmp_path / "plans" / "autumn"
    text = portable(site, folder)
    expected = site.text
    for name in ("hollow-dem.tif", "levels.csv", "stakes.csv", "walk.gpx", "marks.csv"):
        expected = expected.replace(f'"{name}', f'"../../{name}')
    expected = expected.replace('"field/', '"../../field/').replace('"prices', '"../../prices')
    assert text == expected
    assert same_site(site_from_text(text, folder), site)


def test_a_plan_s_folder_can_be_planned_again_from_folder_to_folder(tmp_path: Path) -> None:
    first = site = read_site(write_site(tmp_path, site_text(rest=SOURCE + FIELD)))
    for folder in (tmp_path / "a", tmp_path / "b" / "c", tmp_path):
        folder.mkdir(parents=True, exist_ok=True)
        site = read_site(write_site(folder, portable(site, folder), "site.toml"))
    assert same_site(site, first)


SPELT = [
    'measured = {levels = ["a.csv"], walked = {main = "w.gpx"}}\n',
    'measured.walked.main = "w.gpx"\nmeasured.stakes = "s.csv"\n',
    'built = [{line = "main", along = "a.gpx"}, {line = "waste"}]\n',
    'rates = {prices = "p.csv", dig.rock = "1 m3/day"}\n',
    'papers.paper = "A3"\n[measured]\nlevels = [\n  "a.csv",  # by hand\n  "b.csv",\n]\n',
]


@pytest.mark.parametrize("head", SPELT)
def test_however_toml_spells_the_tables_the_paths_are_moved(head: str, tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(head=head)))
    text = portable(site, tmp_path / "plan")
    assert same_site(site_from_text(text, tmp_path / "plan"), site)
    assert 'kind = "lidar"' in text
    assert ("# by hand" in text) == ("# by hand" in head)


CHANGES: list[dict[str, Any]] = [
    {"measured": Measured()},
    {"measured": Measured(walked={"main": Path("/data/walk.gpx")})},
    {"measured": Measured(levels=(Path("/data/a.csv"),), reach=41.0)},
    {"built": ()},
    {"built": (Built("waste", marks=Path("/data/m.csv")), Built("main", depth=0.7))},
    {"papers": Papers(stake_interval=5.0)},
    {"rates": Rates(dig={**DIG_RATES, "rock": 0.25})},
    {"rates": Rates(prices=Path("/data/p.csv"), currency="$")},
]


@pytest.mark.parametrize("change", CHANGES, ids=lambda change: next(iter(change)))
def test_each_change_in_python_is_written(change: dict[str, Any], tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=SOURCE + FIELD)))
    changed = replace(site, **change)
    assert not same_site(changed, site)
    assert same_site(_again(changed, tmp_path), changed)


def test_the_ground_of_an_area_is_written(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path))
    areas = tuple(replace(area, ground="stony") for area in site.sketch.areas)
    changed = replace(site, sketch=replace(site.sketch, areas=areas))
    assert not same_site(changed, site)
    assert same_site(_again(changed, tmp_path), changed)


WORDS = st.text("abzÄß_<&>'\"\\#[]=💧", max_size=20)
FILES = st.text("abzÄß_&'#[]= 💧.", min_size=1, max_size=12).map(
    lambda name: Path("/data") / f"x{name}.csv"
)
LINES = st.from_regex(r"\A(?:[a-z0-9]{1,8}-){0,3}[a-z0-9]{1,8}\Z")
DATES = st.none() | st.dates()
FLOAT = st.floats


MEASURED = st.builds(
    Measured,
    levels=st.lists(FILES, max_size=3).map(tuple),
    unit=st.sampled_from(["m", "ft", None]),
    stakes=st.none() | FILES,
    reach=st.none() | FLOAT(1.0, 10_000.0),
    walked=st.dictionaries(LINES, FILES, max_size=3),
    timings=st.lists(st.tuples(FLOAT(0.001, 1.0), FLOAT(2.0, 1000.0)), max_size=3).map(tuple),
    date=DATES,
    flow_season=st.sampled_from(["dry", "wet", None]),
)
BUILT = st.builds(
    Built,
    LINES,
    along=st.none() | FILES,
    marks=st.none() | FILES,
    date=DATES,
    depth=st.none() | FLOAT(-5.0, 6.0),
    photos=st.lists(WORDS, max_size=3).map(tuple),
    note=WORDS,
)
PAPERS = st.builds(
    Papers,
    st.sampled_from(["A4", "A3", "Letter", "Tabloid", None]),
    WORDS,
    WORDS,
    WORDS,
    WORDS,
    st.none() | FLOAT(0.5, 500.0),
    st.lists(WORDS, max_size=3).map(tuple),
)
RATES = st.builds(
    Rates,
    FLOAT(0.0, 1.0),
    FLOAT(0.0, 1.0),
    FLOAT(0.05, 5.0),
    FLOAT(0.0, 1.0),
    st.sampled_from(["soft", "ordinary", "stony", "rock"]),
    st.fixed_dictionaries({ground: FLOAT(0.01, 1000.0) for ground in DIG_RATES}),
    FLOAT(0.5, 20_000.0),
    FLOAT(1.0, 2000.0),
    st.none() | FILES,
    st.sampled_from(["", "EUR", "£", "\\"]),
)


@settings(max_examples=60, deadline=None)
@given(MEASURED, st.lists(BUILT, max_size=3, unique_by=lambda one: one.line), PAPERS, RATES)
def test_whatever_python_says_of_the_field_comes_back_bit_for_bit(
    measured: Measured, built: list[Built], papers: Papers, rates: Rates
) -> None:
    site = replace(
        example_plan().site, measured=measured, built=tuple(built), papers=papers, rates=rates
    )
    assert same_site(_again(site, Path("/somewhere/else")), site)
