"""The blank forms fit the plan, and what is written in them can be read back."""

import re
import tomllib
from itertools import pairwise

import pytest

from planner.levels.header import column_of
from planner.levels.read import read_levels
from planner.output.print.page import page_of
from planner.output.stakes.make import stakes_of
from planner.output.walk.commissioning import running_record
from planner.output.walk.hose import COLUMNS as HOSE
from planner.output.walk.level_book import COLUMNS as BOOK
from planner.output.walk.source_form import source_form
from planner.output.walk.stations import shots, stations
from planner.site.field_table import MeasuredTable as FieldTable
from planner.site.value import Units
from planner.site.water_table import MeasuredTable as RamTable
from tests.output.print import papers

MEANT = {
    "Station": "station",
    "Back": "back",
    "Inter": "intermediate",
    "Fore": "fore",
    "HI": "height_of_instrument",
    "Rise": "rise",
    "Fall": "fall",
    "Level": "level",
    "Dist": "distance",
    "Remark": "remark",
    "From": "from",
    "To": "to",
    "From reading": "from_reading",
    "To reading": "to_reading",
    "Running height": None,
}


@pytest.mark.parametrize("word", [*BOOK, *HOSE])
def test_the_program_reads_every_column_by_its_word(word: str):
    column = column_of(word)
    assert (None if column is None else column.name) == MEANT[word]


def test_a_level_book_typed_as_it_is_printed_is_read(tmp_path):
    path = tmp_path / "levels.csv"
    rows = ["spring,1.500,,,,,,,,", "De 02,,,0.500,,1.000,,,12,", ""]
    path.write_text("\n".join([",".join(BOOK), *rows]), encoding="utf-8")
    (one,) = read_levels([path], unit="m").differences
    assert (one.start, one.end) == ("spring", "De 02")
    assert one.rise == pytest.approx(1.0)


def test_a_hose_form_typed_as_it_is_printed_is_read(tmp_path):
    path = tmp_path / "hose.csv"
    row = "spring,Su 02,1.000,1.250,,,"
    path.write_text("\n".join([",".join(HOSE), row, ""]), encoding="utf-8")
    (one,) = read_levels([path], unit="m").differences
    assert (one.start, one.end) == ("spring", "Su 02")
    assert one.rise == pytest.approx(-0.25)


def test_stations_go_along_the_water_and_stop_at_crests():
    plan = papers.ram_plan()
    staked = stakes_of(plan)
    names = stations(plan, staked)
    crest = next(stake.name for one in staked for stake in one.stakes if "high" in stake.reasons)
    wanted = ["spring", "chamber", "ram", crest, "tank", "trough"]
    assert [name for name in names if name in wanted] == wanted
    assert len(set(names)) == len(names)


def test_shots_hang_together_from_source_to_ram():
    found = list(shots(stakes_of(papers.ram_plan())))
    assert found[0][0] == "spring"
    assert found[-1][1] == "ram"
    assert all(one[1] == after[0] for one, after in pairwise(found))


@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_the_source_form_asks_to_be_written_is_read(units: Units):
    plan = papers.ram_plan(units)
    told = source_form(plan, page_of(plan)).foot[-1].getPlainText()
    written = told[told.index("timings") : told.index(', flow_season = "dry"')]
    text = written.replace(", ...", "").replace("], date", "]\ndate")
    read = FieldTable.model_validate(tomllib.loads(text))
    gallon = 3.785411784e-3  # m³, the US liquid gallon
    assert read.timings is not None
    (volume, seconds) = read.timings[0]
    assert volume == pytest.approx(12e-3 if units == "metric" else 12 * gallon)
    assert seconds == 14.2


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_units_asked_for_a_ram_are_read(units: Units):
    plan = papers.ram_plan(units)
    told = " ".join(one.getPlainText() for one in running_record(plan, page_of(plan)).foot)
    figures = {"drive_flow": "20", "fall": "5", "lift": "30", "delivered": "1"}
    asked = dict(re.findall(r'(\w+) = "\.\.\. ([^"]+)"', told))
    assert asked.keys() == figures.keys()
    RamTable.model_validate({name: f"{figures[name]} {asked[name]}" for name in figures})
