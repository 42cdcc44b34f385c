import pytest

from planner.errors import InputError
from planner.levels.header import KINDS, MEANING, SYNONYMS, column_of, read_header
from planner.levels.table import Table
from planner.levels.value import Row


def table(header):
    return Table("f.csv", tuple(header.split(",")), Row("f.csv", 1), (), decimal_comma=False)


@pytest.mark.parametrize(
    ("said", "name", "unit"),
    [
        ("Back Sight", "back", None),
        ("B.S.", "back", None),
        ("BS (ft)", "back", "foot"),
        ("back_ft", "back", "foot"),
        ("Foresight [mm]", "fore", "millimeter"),
        ("I.F.S.", "intermediate", None),
        ("Reduced Level, m", "level", "meter"),
        ("R.L.", "level", None),
        ("Elevation in feet", "level", "foot"),
        ("H.I.", "height_of_instrument", None),
        ("Height of plane of collimation", "height_of_instrument", None),
        ("HPC (m)", "height_of_instrument", "meter"),
        ("TO READING", "to_reading", None),
        ("to_reading_cm", "to_reading", "centimeter"),
        ("Slope distance (m)", "slope_distance", "meter"),
        ("angle (deg)", "angle", "degree"),
        ("angle °", "angle", "degree"),
        ("vertical angle (%)", "grade", "percent"),
        ("angle%", "grade", "percent"),
        ("Slope °", "angle", "degree"),
        ("slope_percent", "grade", "percent"),
        ("Pressure (hPa)", "pressure", "hectopascal"),
        ("temp °F", "temperature", "degF"),
        ("Peg no.", "station", None),
        ("ＢＳ", "back", None),
    ],
)
def test_columns_in_the_words_people_use(said, name, unit):
    column = column_of(said)
    assert column is not None
    assert (column.name, column.unit) == (name, unit)


@pytest.mark.parametrize("said", ["", "photo", "slope", "angle (gon)", "ele", "()", "%"])
def test_other_columns_mean_nothing(said):
    assert column_of(said) is None


def test_no_word_means_two_things():
    words = [word for words in SYNONYMS.values() for word in words.split(",")]
    assert len(words) == len(set(words)) == len(MEANING)


@pytest.mark.parametrize(
    ("header", "kind", "aside"),
    [
        ("station,back,intermediate,fore", "level book", ()),
        ("Stn,BS,FS,Rise,Fall,RL,date", "level book", ("date",)),
        ("from,to,up,down", "hose level", ()),
        ("shot,from,to,rise,photo", "hose level", ("shot", "photo")),
        ("from,to,tape,abney,rise", "traverse", ("rise",)),
        ("stake,time,altimeter", "barometer", ()),
        ("point,elevation,accuracy", "known points", ()),
        ("name,level,lon,lat,remark", "known points", ()),
    ],
)
def test_the_kind_is_told_by_the_columns(header, kind, aside):
    found = read_header(table(header))
    assert (found.kind, found.aside) == (kind, aside)


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("station,back", ('"station, back"', "a level book (station, back, intermediate, fore)")),
        ("a,b,c", ('"a, b, c"', "f.csv line 1", "known points (station, level)")),
        ("name,lat,lon,ele", ("never levels",)),
        ("name,lat,lon,elevation,time", ("never levels", "barometer")),
        ("name,altitude", ("never levels", "need their time")),
        ("name,line,chainage_m,lon,lat,ground_m", ("stake list", "holds no readings")),
        ("station,BS,back,fore", ('"BS, back" both mean back',)),
        ("station,back,fore,from,to,rise", ("a level book and a hose level", "file of its own")),
        ("back,intermediate,fore", ('"back, intermediate, fore"',)),
    ],
)
def test_a_header_of_no_kind_is_told_what_there_is(header, words):
    with pytest.raises(InputError) as caught:
        read_header(table(header))
    for word in words:
        assert word in caught.value.message


def test_every_column_of_every_kind_has_a_word():
    for may, must in KINDS.values():
        assert may <= set(SYNONYMS)
        assert all(needed <= may for needed in must)
