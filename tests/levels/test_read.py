import itertools
import time
from functools import partial

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.errors import InputError
from planner.levels.header import SYNONYMS
from planner.levels.read import read_levels
from planner.levels.stakes_file import read_stakes
from planner.levels.table import MOST_ROWS
from planner.levels.value import Readings
from tests.levels.written import read, refusal, write

FILES = {
    "book.csv": "station,back,intermediate,fore\nBM,1.2,,\nDe 1,,1.5,\nTank,,,0.9\n",
    "hose.csv": "from,to,rise\nTANK,De 02,0.31\nDe 02,De03,-0.2\n",
    "traverse.csv": "from,to,tape,clino\nbm,Ridge,40,3\n",
    "barometer.csv": "station,time,altitude\nBM,9:00,500\nRidge,9:05,502\nBM,9:10,500\n",
    "known.csv": "station,level\nBM,100\n",
}
STAKES = ["De 01", "De 02", "De 03"]


def test_files_of_all_kinds_speak_of_the_same_stations(tmp_path):
    paths = [write(tmp_path, text, name) for name, text in FILES.items()]
    readings = read_levels(paths, unit="m", stakes=STAKES)
    assert [(one.method, one.start, one.end) for one in readings.differences] == [
        ("level", "BM", "De 01"),
        ("level", "BM", "Tank"),
        ("hose", "Tank", "De 02"),
        ("hose", "De 02", "De 03"),
        ("traverse", "BM", "Ridge"),
        ("barometer", "BM", "Ridge"),
    ]
    assert [known.station for known in readings.knowns] == ["BM"]
    assert any("stake" in note for note in readings.notes)


@pytest.mark.parametrize("order", list(itertools.permutations(FILES))[::11])
def test_the_order_of_the_files_does_not_matter(tmp_path, order):
    def found(names):
        paths = [write(tmp_path, FILES[name], name) for name in names]
        readings = read_levels(paths, unit="m", stakes=STAKES)
        rises = {(str(d.row), d.end.casefold()): (d.rise, d.error) for d in readings.differences}
        return rises, sorted(note.casefold() for note in readings.notes)

    assert found(order) == found(FILES)


def test_the_order_of_shots_does_not_matter(tmp_path):
    shots = ["A,B,0.4", "B,C,0.3", "C,A,-0.702", "B,D,1.1"]

    def found(rows):
        return sorted((d.start, d.end, d.rise) for d in read(tmp_path, rows).differences)

    wanted = found("from,to,rise\n" + "\n".join(shots))
    for rows in itertools.permutations(shots):
        assert found("from,to,rise\n" + "\n".join(rows)) == wanted


def test_files_of_one_name_are_told_apart_and_none_counts_twice(tmp_path):
    for folder in ("one", "two"):
        (tmp_path / folder).mkdir()
    paths = [write(tmp_path / folder, FILES["book.csv"]) for folder in ("one", "two")]
    files = {one.row.file for one in read_levels(paths, unit="m").differences}
    assert files == {"one/book.csv", "two/book.csv"}
    with pytest.raises(InputError, match="given twice"):
        read_levels([paths[0], paths[0]], unit="m")


def test_no_files_are_no_readings():
    assert read_levels([], unit="m") == Readings()


def test_columns_left_aside_are_told(tmp_path):
    readings = read(tmp_path, "from,to,rise,photo,,\nA,B,0.1,p1.jpg,rain,\n")
    wanted = 'book.csv: columns that hold no readings were left aside: "photo", "column 5"'
    assert readings.notes[0] == wanted


def test_a_run_may_begin_anew_where_another_file_leads(tmp_path):
    book = "station,back,fore\nA,1.2,\nB,,1.3\nX,1.5,\nC,,1.1\n"
    assert "gap" in refusal(tmp_path, book)
    assert len(read(tmp_path, book, stakes=["X"]).differences) == 2
    hose = write(tmp_path, "from,to,rise\nB,x,0.2\n", "hose.csv")
    assert len(read_levels([write(tmp_path, book), hose], unit="m").differences) == 3


def test_a_kind_without_rows_is_refused(tmp_path):
    assert "a level book without readings" in refusal(tmp_path, "station,back,fore\n")


def test_too_many_readings_are_refused(tmp_path):
    rows = "from,to,rise\n" + "A,B,0.1\n" * (MOST_ROWS // 2 + 1)
    paths = [write(tmp_path, rows, name) for name in ("a.csv", "b.csv")]
    with pytest.raises(InputError, match="more than"):
        read_levels(paths, unit="m")
    with pytest.raises(InputError, match="at most 100"):
        read_levels([*paths] * 60, unit="m")


@pytest.mark.slow
def test_the_largest_survey_is_read_in_bearable_time(tmp_path):
    half = MOST_ROWS // 2
    chain = "".join(f"S{i},S{i + 1},1\n" for i in range(half))
    closing = f"S{half},S0,-{half}\n" * half
    begun = time.perf_counter()
    (one,) = read(tmp_path, "from,to,rise (mm)\n" + chain + f"S{half},S0,-{half}\n").closures
    assert one.setups == half + 1
    read(tmp_path, "from,to,rise (mm)\n" + chain + closing)
    assert time.perf_counter() - begun < 30


WORDS = [word.split(",")[0] for word in SYNONYMS.values()]
CELL = st.one_of(
    st.sampled_from(
        ["", "A", "B", "1.2", "0.9", "-1", "4' 3\"", "1,5", "9:00", "9:10", "95", "5%"]
    ),
    st.text(max_size=8),
)


@given(st.binary(max_size=300), st.sampled_from(["a.csv", "a.gpx"]))
def test_any_bytes_are_readings_or_a_clear_refusal(tmp_path_factory, content, name):
    path = tmp_path_factory.getbasetemp() / name
    path.write_bytes(content)
    _reads_or_refuses(path)


@given(
    st.sampled_from(
        [
            "station,back,intermediate,fore,rise,fall,level,distance",
            "station,back,fore,height_of_instrument",
            "from,to,rise,fall",
            "from,to,from_reading,to_reading,distance",
            "from,to,slope_distance,angle,bearing",
            "from,to,horizontal_distance,grade,lon,lat",
            "station,time,altitude,date",
            "station,time,pressure,temperature",
            "station,level,error,lon,lat",
        ]
    ),
    st.sampled_from([",", ";", "\t"]),
    st.lists(st.lists(CELL, max_size=8), max_size=8),
)
@settings(suppress_health_check=[HealthCheck.too_slow], max_examples=300)
def test_any_cells_are_readings_or_a_clear_refusal(tmp_path_factory, header, separator, rows):
    lines = [header.replace(",", separator), *(separator.join(row) for row in rows)]
    path = tmp_path_factory.getbasetemp() / "cells.csv"
    path.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    _reads_or_refuses(path)


@given(st.lists(st.one_of(st.sampled_from(WORDS), st.text(max_size=12)), max_size=8))
def test_any_header_is_a_kind_or_a_clear_refusal(tmp_path_factory, words):
    path = tmp_path_factory.getbasetemp() / "header.csv"
    path.write_text(",".join(words) + "\nA,B,1\n", encoding="utf-8", errors="replace")
    _reads_or_refuses(path)
    _is_clear(_refusal(read_stakes, path))


def _refusal(reader, path):
    try:
        reader(path)
    except InputError as error:
        return error.message
    return None


def _is_clear(message):
    assert message is None or (message.isprintable() and len(message) < 900)


def _reads_or_refuses(path):
    for unit in ("m", "ft"):
        _is_clear(_refusal(partial(_sound_readings, unit), path))


def _sound_readings(unit, path):
    readings = read_levels([path], unit=unit, stakes=["A 01"])
    assert readings.differences or readings.knowns or path.suffix == ".gpx"
    for one in readings.differences:
        assert one.start != one.end
        assert one.error > 0
        assert abs(one.rise) < 11_000
