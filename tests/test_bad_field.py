"""What a careless or hostile user brings back from the field: one clear message, nothing left."""

import random
from pathlib import Path

import pytest

from tests.command import RAM_POINTS, headfall, lonlat, write_site
from tests.test_bad_input import refusal

BOOK = "station,back,fore\n{0},1.512,\n{1},1.403,2.874\n{0},,0.041\n"
GPX = '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'

Case = tuple[str, str, tuple[str, ...]]


LEVELS: tuple[Case, ...] = (
    # What the file holds; what the message must say.
    ("empty", "", ("levels.csv",)),
    ("no header", "spring,1.5,\ntank,,2.8\n", ("levels.csv", "level book")),
    ("a gap", "station,back,fore\nspring,1.5,\nram,1.4,2.8\ntank,,\n", ("levels.csv line 4",)),
    ("no number", "station,back,fore\nspring,1.5x,\ntank,,2.8\n", ("levels.csv line 2", "1.5x")),
    ("binary", "\0\1\2\3", ("levels.csv",)),
    ("unknown place", "station,back,fore\nspring,1.5,\nQQ 7,,2.8\n", ("QQ 7", "levels.csv line 3")),
    ("a metre", BOOK.format("spring", "tank").replace("0.041", "1.041"), ("levels.csv", "1.00")),
)


@pytest.mark.parametrize(("what", "text", "words"), LEVELS, ids=[case[0] for case in LEVELS])
def test_levels_that_cannot_be_used(
    what: str, text: str, words: tuple[str, ...], tmp_path: Path
) -> None:
    site = _with(tmp_path, '[measured]\nlevels = ["levels.csv"]\n')
    (tmp_path / "levels.csv").write_text(text)
    message = refusal(tmp_path, "plan", site)
    for word in words:
        assert word in message, message


def test_a_station_five_kilometres_away(tmp_path: Path) -> None:
    site = _with(tmp_path, '[measured]\nlevels = ["levels.csv"]\n')
    lon, lat = lonlat(5050, 60)
    text = f"station,level,lon,lat\nspring,100,,\nfar hill,140,{lon},{lat}\n"
    (tmp_path / "levels.csv").write_text(text)
    message = refusal(tmp_path, "plan", site)
    assert "far hill" in message
    assert "levels.csv line 3" in message
    assert "outside the elevation data" in message


def test_two_readings_that_contradict_each_other(tmp_path: Path) -> None:
    site = _with(tmp_path, '[measured]\nlevels = ["hose.csv"]\n')
    (tmp_path / "hose.csv").write_text("from,to,rise\nspring,ram,-2.00\nspring,ram,-3.20\n")
    message = refusal(tmp_path, "plan", site)
    assert "hose.csv line 2" in message
    assert "hose.csv line 3" in message


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ('[measured]\nlevels = ["gone.csv"]\n', ("gone.csv",)),
        ('[measured]\nlevels = ["https://x.example/l.csv"]\n', ("not a file of this machine",)),
        ('[measured.walked]\ndelivry = "walk.gpx"\n', ("delivry", "delivery")),
        ('[measured]\nstakes = "site.toml"\nlevels = ["site.toml"]\n', ("site.toml",)),
        ('[rates]\nprices = "gone.csv"\n', ("gone.csv",)),
        ('[rates]\nload = "25 m"\n', ("load", "25 m")),
        ('[papers]\npaper = "A0"\n', ("paper",)),
        ('[[built]]\nline = "delivery"\ndepth = "60 m"\n', ("depth", "60 m")),
        ('[[built]]\nline = "../../etc"\n', ("../../etc",)),
    ],
)
def test_tables_that_cannot_be_used(table: str, words: tuple[str, ...], tmp_path: Path) -> None:
    site = _with(tmp_path, table)
    (tmp_path / "walk.gpx").write_text(GPX.format(""))
    message = refusal(tmp_path, "plan", site)
    for word in words:
        assert word in message, message


@pytest.mark.parametrize(
    "inside",
    [
        "",
        "<trk><trkseg/></trk>",
        '<trk><trkseg><trkpt lon="1" lat="2"/></trkseg></trk>',
        '<trk><trkseg><trkpt lon="x" lat="2"/><trkpt lon="1" lat="2"/></trkseg></trk>',
    ],
)
def test_walks_that_are_no_line(inside: str, tmp_path: Path) -> None:
    site = _with(tmp_path, '[measured.walked]\ndelivery = "walk.gpx"\n')
    (tmp_path / "walk.gpx").write_text(GPX.format(inside))
    assert "walk.gpx" in refusal(tmp_path, "plan", site)


def test_a_price_that_is_a_formula_is_refused_before_the_work(tmp_path: Path) -> None:
    site = _with(tmp_path, '[rates]\nprices = "prices.csv"\n')
    (tmp_path / "prices.csv").write_text("item,unit,price\npipe,m,=1+1\n")
    message = refusal(tmp_path, "plan", site)
    assert "prices.csv, line 2" in message


@pytest.mark.parametrize("seed", range(25))
def test_any_bytes_for_levels_are_refused_in_words_or_planned(seed: int, tmp_path: Path) -> None:
    draw = random.Random(seed)  # noqa: S311 - no secret
    site = _with(tmp_path, '[measured]\nlevels = ["levels.csv"]\n')
    text = bytearray(BOOK.format("spring", "tank").encode())
    for _ in range(draw.randint(1, 12)):
        text[draw.randrange(len(text))] = draw.randrange(256)
    (tmp_path / "levels.csv").write_bytes(bytes(text))
    told = headfall("plan", site, "--quiet")
    assert told.status in (0, 1, 2)
    if told.status == 2:
        (message,) = told.err.splitlines()
        assert "fault of the program" not in message


def _with(folder: Path, table: str) -> Path:
    site = write_site(folder, sketch=RAM_POINTS)
    site.write_text(site.read_text() + "\n" + table)
    return site
