import datetime
import itertools
import re
import textwrap
from pathlib import Path

import pytest

from planner.errors import SiteError
from planner.site.file import LineTable
from planner.site.read import LINE_ROLES, read_site, site_from_text
from tests.site.example import ELEVATION, SKETCH, site_text, write_site


def test_a_small_site_comes_out_complete_and_in_si(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path))
    assert site.title == "Larch Hollow"
    assert site.elevation.files == (tmp_path.resolve() / "hollow-dem.tif",)
    assert site.elevation.standard_error == 0.15
    assert site.source.flow == pytest.approx(0.0005)
    assert site.source.measured == datetime.date(2026, 8, 20)
    assert [point.role for point in site.sketch.points] == ["source", "pump", "tank", "outlet"]
    assert site.sketch.points[2].height == 2.0
    assert site.sketch.areas[0].role == "avoid"
    assert set(site.lines) == set(LINE_ROLES)
    assert site.powered is None
    assert site.folder == tmp_path.resolve()


def test_every_key_of_the_file_reaches_the_site(tmp_path: Path) -> None:
    rest = """
[source]
flow = "5 gpm"
season = "wet"
share_left = "50 %"
[pump]
kind = "powered"
curve = [["0 L/min", "40 m"], ["30 L/min", "2 bar"], ["60 L/min", "5 m"]]
hours_per_day = 6
[need]
per_day = "1500 L"
[use]
season = "summer"
frost_depth = "0.6 m"
flood_mark = "4 ft"
stream_cost = "15 m"
[lines.delivery]
laid = "buried"
least_cover = "12 in"
deepest_trench = "0.9 m"
least_grade = "1 in 100"
vent_cost = "50 m"
dig_cost = "0.5 ft/ft2"
side_slope = "40 %"
bend_cost = "2 m"
least_leg = "10 ft"
bore = "1.049 in"
rating = "100 psi"
roughness = "0.02 mm"
siphon = true
[lines.supply]
propped = "0.5 m"
deepest_trench = "0.2 m"
greatest_grade = "1 in 8"
[lines.drive]
bend = true
"""
    head = 'units = "us"\ngallon = "imperial"\n'
    site = site_from_text(site_text(head=head, rest=rest), tmp_path, "x.toml")
    assert site.title == "x"
    assert (site.units, site.gallon, site.season) == ("us", "imperial", "summer")
    assert site.source.flow == pytest.approx(5 * 4.54609e-3 / 60)
    assert site.source.share_left == 0.5
    assert site.powered is not None
    assert site.powered.curve[1] == pytest.approx((0.0005, 2e5 / 9806.65))
    assert site.powered.hours_per_day == 6.0
    assert site.need == 1.5
    assert site.frost_depth == 0.6
    assert site.flood_mark == pytest.approx(1.2192)
    delivery = site.lines["delivery"]
    assert delivery.siphon
    assert delivery.laying.least_cover == pytest.approx(0.3048)
    assert delivery.laying.least_grade == 0.01
    assert delivery.laying.vent_cost == 50.0
    assert delivery.laying.dig_cost == pytest.approx(0.5 / 0.3048)
    assert delivery.laying.side_slope == pytest.approx(0.4)
    assert delivery.laying.bend_cost == 2.0
    assert delivery.laying.least_leg == pytest.approx(3.048)
    assert delivery.laying.greatest_grade is None
    assert site.stream_cost == 15.0
    assert delivery.pipe.bore == pytest.approx(0.0266446)
    assert not delivery.pipe.bore_assumed
    assert delivery.pipe.rating == pytest.approx(70.307, rel=1e-4)
    assert delivery.pipe.roughness == pytest.approx(2e-5)
    supply = site.lines["supply"]
    assert (supply.laying.manner, supply.laying.least_cover) == ("surface", -0.5)
    assert supply.laying.deepest_trench == 0.2
    assert supply.laying.greatest_grade == 0.125
    assert supply.pipe.bore_assumed
    assert site.lines["drive"].laying.bend
    assert not delivery.laying.bend


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_windows_text_is_read_too(tmp_path: Path, encoding: str, newline: str) -> None:
    path = tmp_path / "hollow.toml"
    path.write_text(site_text(), encoding=encoding, newline=newline)
    assert read_site(path).title == "Larch Hollow"


def test_names_keep_markup_and_emoji_as_text(tmp_path: Path) -> None:
    name = "<script>alert(1)</script> tank \U0001f4a7"
    text = site_text(sketch=SKETCH.replace('"tank"', f"'{name}'"))
    assert site_from_text(text, tmp_path).sketch.points[2].name == name


def test_control_characters_and_turned_writing_leave_a_name(tmp_path: Path) -> None:
    text = site_text(sketch=SKETCH.replace('"tank"', r'"\u202eold\u001b[31m\ntank"'))
    assert site_from_text(text, tmp_path).sketch.points[2].name == "old [31m tank"


@pytest.mark.parametrize(
    "file", ["/vsicurl/http://a/b.tif", "https://a.b/dem.tif", "", "a\\u0000b"]
)
def test_elevation_is_never_fetched(tmp_path: Path, file: str) -> None:
    text = site_text(elevation=ELEVATION.replace("hollow-dem.tif", file))
    with pytest.raises(SiteError, match=r"elevation\.files: .* give a path"):
        site_from_text(text, tmp_path)


README = Path(__file__).parents[2] / "README.md"


def test_the_readme_s_prices_are_read_as_they_stand(tmp_path: Path) -> None:
    blocks = re.findall(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    whole, prices = (
        textwrap.dedent(next(block for block in blocks if word in block))
        for word in ("[elevation]", "greatest_grade")
    )
    site = site_from_text(whole.partition("[source]")[0] + prices, tmp_path)
    assert site.lines["supply"].laying.greatest_grade == 0.12
    assert site.lines["drive"].laying.bend
    assert site.sketch.areas[0].deepest_trench == 0.6
    assert site.sketch.crossings[0].cost == 20.0


def test_the_readme_s_table_names_keys_that_there_are() -> None:
    table = README.read_text(encoding="utf-8").partition("| key of `[lines.<role>]`")[2]
    rows = itertools.takewhile(lambda row: row.startswith("|"), table.splitlines()[1:])
    named = {key for row in rows for key in re.findall(r"`(\w+)`", row.split("|")[1])}
    assert named <= set(LineTable.model_fields)
    assert named >= {"dig_cost", "greatest_grade", "side_slope", "bend_cost", "least_leg", "bend"}
