"""What was noted along a laid line: read with its units, or refused by file and line."""

from pathlib import Path

import pytest

from planner.chain.built_marks import Noted, read_marks
from planner.errors import InputError
from planner.levels.value import Row
from planner.site.field import LengthUnit

MARKS = """\
chainage_m,depth_m,what,photo,remark
0,0.6,connection,p1.jpg,
64.5,0.85,air valve,p2.jpg,"in a box, lid green"
120,,washout,,
"""


def marks(folder: Path, text: str, unit: LengthUnit = "m") -> tuple[Noted, ...]:
    path = folder / "marks.csv"
    path.write_text(text, encoding="utf-8")
    return read_marks(path, unit)


def test_each_row_comes_with_its_place_and_what_was_noted(tmp_path: Path) -> None:
    first, second, third = marks(tmp_path, MARKS)
    assert first == Noted(Row("marks.csv", 2), 0.0, 0.6, "connection", "p1.jpg", "")
    assert second == Noted(
        Row("marks.csv", 3), 64.5, 0.85, "air valve", "p2.jpg", "in a box, lid green"
    )
    assert (third.place, third.depth, third.what) == (120.0, None, "washout")


FOOT = 0.3048

# Header, row, unit of the site, and place and depth in metres.
SPELT: list[tuple[str, str, LengthUnit, float, float]] = [
    ("chainage,depth", "64.5 m,85 cm", "ft", 64.5, 0.85),
    ("Chainage (ft),Depth [in]", "100,24", "m", 30.48, 0.6096),
    ("chainage,depth", "100,2", "ft", 30.48, 0.6096),
    ("chainage,depth", "100,2", "m", 100.0, 2.0),
    ("Station,Cover", "1+25,2' 6\"", "ft", 125 * FOOT, 2.5 * FOOT),
    ("station_ft,depth_ft", "12+05.5,2.5", "m", 1205.5 * FOOT, 2.5 * FOOT),
    ("chainage,depth", "0+125,0.5", "m", 125.0, 0.5),
    ("chainage;depth", "64,5;0,85", "m", 64.5, 0.85),
    ("ch\tdepth of pipe (cm)", "64.5\t-30", "m", 64.5, -0.3),
]


@pytest.mark.parametrize(("header", "row", "unit", "place", "depth"), SPELT)
def test_units_stand_in_cells_or_headers_or_are_the_site_s(
    header: str, row: str, unit: LengthUnit, place: float, depth: float, tmp_path: Path
) -> None:
    (noted,) = marks(tmp_path, f"{header}\n{row}\n", unit)
    assert noted.place == pytest.approx(place)
    assert noted.depth == pytest.approx(depth)


def test_a_place_may_be_longitude_and_latitude_and_chainage_stands_before_it(
    tmp_path: Path,
) -> None:
    text = "lon,lat,chainage,depth,wall\n11.2,47.3,,0.5,x\n11.2,47.3,20,0.5,x\n"
    assert [one.place for one in marks(tmp_path, text)] == [(11.2, 47.3), 20.0]


def test_a_place_may_be_a_stake_of_the_plan_s_list(tmp_path: Path) -> None:
    path = tmp_path / "marks.csv"
    path.write_text("stake,depth\nde 7,0.6\nDe 12,0.8\n", encoding="utf-8")
    stakes = {"De 07": (11.2, 47.3), "De 12": (11.201, 47.3)}
    assert [one.place for one in read_marks(path, "m", stakes)] == [(11.2, 47.3), (11.201, 47.3)]
    with pytest.raises(InputError) as caught:
        read_marks(path, "m", {"De 12": (11.201, 47.3)})
    assert str(caught.value) == (
        'marks.csv line 2, column stake: no stake list has "de 7"; name the list as stakes under '
        "[measured], or write the chainage"
    )


def test_words_are_kept_as_text_on_one_line(tmp_path: Path) -> None:
    (noted,) = marks(tmp_path, "chainage,what,remark\n5,<b>valve</b>,=SUM(A1)\n")
    assert (noted.what, noted.remark) == ("<b>valve</b>", "=SUM(A1)")


BAD = [
    ("depth,what\n0.6,valve\n", ("marks.csv line 1", "it needs chainage", "lon and lat")),
    ("lon,depth\n11.2,0.6\n", ("marks.csv line 1", "it needs chainage")),
    ("chainage,ch,depth\n1,1,1\n", ("line 1", "two columns mean chainage")),
    ("chainage,depth\n,0.6\n", ("line 2", "tells no place", "chainage, or lon and lat")),
    ("chainage,depth\nthere,0.6\n", ("line 2", "column chainage", '"there')),
    ("chainage,depth\n-5,0.6\n", ("line 2", "column chainage", "before the line's start")),
    ("chainage,depth\n5 L,0.6\n", ("line 2", "column chainage", "no length")),
    ("chainage,depth\n5,60\n", ("line 2", "column depth", "60 m can't be right", "6 m deep")),
    ("chainage,depth\n5,-9\n", ("line 2", "column depth", "can't be right")),
    ("chainage,depth\n\n5,deep\n", ("line 3", "column depth", '"deep"')),
    ("lon,lat,depth\n11.2,,0.6\n", ("line 2", "column lat", "fill in both")),
    ("lon,lat,depth\n47.3,174,0.6\n", ("line 2", "no place on the Earth")),
    (f"chainage,what\n5,{'x' * 201}\n", ("line 2", "column what", "at most 200")),
    ("chainage,depth\n5,0,6\n", ("line 2", "3 cells", "write a point")),
    ("", ("marks.csv",)),
    ("chainage\x00\n5\n", ("marks.csv", "control characters")),
]


@pytest.mark.parametrize(("text", "words"), BAD)
def test_what_cannot_be_used_is_told_by_file_and_line(
    text: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    with pytest.raises(InputError) as caught:
        marks(tmp_path, text)
    message = str(caught.value)
    for word in words:
        assert word in message
    assert "\n" not in message
    assert len(message) < 300


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"marks\.csv is not there; give the path"):
        read_marks(tmp_path / "marks.csv", "m")
    with pytest.raises(InputError, match=r"is a folder"):
        read_marks(tmp_path, "m")
