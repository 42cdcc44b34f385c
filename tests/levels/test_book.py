import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.levels.written import levels, read, refusal

# A level page set as an exercise in Indian textbooks of surveying (B. C. Punmia, Surveying, vol. 1,
# chapter on levelling): the instrument was moved after the 3rd, 6th and 8th of these readings, the
# first was taken on a bench mark of 432.384 m. Levels by hand; the check of the books holds:
# 5.964 - 6.916 = 431.432 - 432.384.
EXERCISE = """Station,B.S.,I.S.,F.S.,Rise,Fall,R.L.,Remarks
BM,2.228,,,,,432.384,bench mark
1,,1.606,,0.622,,433.006,
2,2.090,,0.988,0.618,,433.624,change point
3,,2.864,,,0.774,432.850,
4,0.602,,1.262,1.602,,434.452,change point
5,1.044,,1.982,,1.380,433.072,change point
6,,,2.684,,1.640,431.432,
"""
EXERCISE_LEVELS = {
    "BM": 432.384,
    "1": 433.006,
    "2": 433.624,
    "3": 432.850,
    "4": 434.452,
    "5": 433.072,
    "6": 431.432,
}
# The same page by height of instrument, by hand.
BY_INSTRUMENT = """station;back;height of plane of collimation;intermediate;fore;reduced level
BM;2,228;434,612;;;432,384
1;;;1,606;;433,006
2;2,090;435,714;;0,988;433,624
3;;;2,864;;432,850
4;0,602;435,054;;1,262;434,452
5;1,044;434,116;;1,982;433,072
6;;;;2,684;431,432
sum;5,964;;;6,916;
"""


@pytest.mark.parametrize("book", [EXERCISE, BY_INSTRUMENT])
def test_a_textbook_page_by_either_way_of_booking(tmp_path, book):
    readings = read(tmp_path, book)
    found = levels(readings, "BM", 432.384)
    assert found == pytest.approx(EXERCISE_LEVELS, abs=1e-9)
    assert [one.method for one in readings.differences] == ["level"] * 6
    assert readings.closures == ()  # an open run tells nothing of itself
    (note,) = readings.notes
    assert "from BM to 6 neither comes back nor ends on a known point" in note


def test_all_sights_of_a_set_up_hang_on_its_back_sight(tmp_path):
    readings = read(tmp_path, EXERCISE)
    pairs = [(one.start, one.end, one.row.line) for one in readings.differences]
    assert pairs[:3] == [("BM", "1", 3), ("BM", "2", 4), ("2", "3", 5)]


def test_a_change_point_may_stand_in_two_rows(tmp_path):
    book = "station,back,fore,distance\nA,1.0,,\nT,,0.4,30\nT,1.5,,\nA,,2.102,30\n"
    (one,) = read(tmp_path, book).closures
    assert one.misclosure == pytest.approx(-0.002)
    assert (one.setups, one.length) == (2, 60.0)


@pytest.mark.parametrize(
    ("book", "unit"),
    [
        ("station,back_ft,fore (ft)\nBM Rock,8.42,\nX,,1.20\n", "m"),
        ("station,back,fore\nBM Rock,8.42 ft,\nX,,1.20'\n", "m"),
        ("station,back,fore\nBM Rock,8.42,\nX,,1.20\n", "ft"),
        ("station,back,fore\nBM Rock,8.42,\nX,,1 ft 2.4 in\n", "ft"),
    ],
)
def test_feet_in_the_header_or_the_cell_or_by_the_site(tmp_path, book, unit):
    # Ghilani and Wolf, Elementary Surveying, the first figure on differential levelling: 8.42 ft
    # back to BM Rock at 820.00 ft, 1.20 ft fore to X make X 827.22 ft.
    (one,) = read(tmp_path, book, unit=unit).differences
    assert 820.0 + one.rise / 0.3048 == pytest.approx(827.22, abs=1e-9)


def test_the_error_is_that_of_two_sights_and_grows_with_their_length(tmp_path):
    book = "station,back,fore,distance\nA,1.000,,\nB,,2.000,{}\n"
    near, far = (read(tmp_path, book.format(d)).differences[0] for d in ("40", "120"))
    # 3 mm a sight of 30 m, read to the millimetre; twice the sight, twice the error.
    assert near.error == pytest.approx(math.sqrt(2 * (0.003**2 + 0.001**2 / 12)))
    assert far.error == pytest.approx(math.sqrt(2 * (0.006**2 + 0.001**2 / 12)))
    assert (near.distance, far.distance) == (40.0, 120.0)


def test_readings_to_the_tenth_of_a_foot_are_less_sure(tmp_path):
    coarse = read(tmp_path, "station,back,fore\nA,4.2,\nB,,5.1\n", unit="ft").differences[0]
    fine = read(tmp_path, "station,back,fore\nA,4.20,\nB,,5.11\n", unit="ft").differences[0]
    assert coarse.error > 2.0 * fine.error


def test_lengths_of_sights_add_up(tmp_path):
    book = "station,back,fore,back distance,fore distance\nA,1,,28,\nB,,2,,31\n"
    assert read(tmp_path, book).differences[0].distance == 59.0


@pytest.mark.parametrize(
    ("book", "words"),
    [
        ("A,1.2,,\nB,1.3,,\nC,,,1.1", ("line 3", "second back sight", "line 2", "fore sight")),
        ("A,1.2,,\nB,,1.3,", ("line 2", "no fore sight")),
        ("A,,,1.3\nB,1.1,,", ("line 2", "column fore", "back sight")),
        ("A,,1.3,\nB,1.1,,", ("line 2", "column intermediate", "back sight")),
        ("A,1.2,,\nA,,,1.3", ("line 3", "own back sight", "another station")),
        ("A,1.2,,\nB,1.0,1.1,1.3", ("line 3", "intermediate", "row of its own")),
        ("A,1.2,,\nB,,,", ("line 3", "holds no sight", "B")),
        ("A,1.2,,\n,,,1.3", ("line 3", "names no station")),
        ("A,1.2,,\nB,,,l.3", ("line 3", "column fore", '"l.3"', "number")),
        ("A,1.2,,\nB,,,-1.385", ("line 3", "below the foot", "upside down")),
        ("A,1.2,,\nB,,,7.35", ("line 3", "7.35 m", "more than a staff", "feet", "(ft)")),
        ("A,1.2,,\nB,,,nan", ("line 3", '"nan"')),
        ("A,1.2,,\nB,,,1e999 m", ("line 3", "finite")),
        ("A,1.2,,\nB,,,1.3 L", ("line 3", "length")),
        ("A,1.2,,\nB,,,4' 13\"", ("line 3", "12 inches")),
        ("A,1.2,,\nB,0.9,,1.3\nX,1.5,,\nC,,,1.1", ("line 4", "second back sight", "line 3")),
        ("A,1.2,,\nB,,,1.3\nX,1.5,,\nC,,,1.1", ("line 4", "gap", "X", "no sight before")),
        ("A,1.2,,\nB,,,1.3\nsum,1.2,,1.4", ("line 4", "1.4 m is 1.3 m", "rows above")),
    ],
)
def test_a_gap_or_a_reading_that_can_not_be_is_named(tmp_path, book, words):
    message = refusal(tmp_path, "station,back,intermediate,fore\n" + book + "\n")
    for word in words:
        assert word in message


def test_a_staff_in_feet_has_more_feet(tmp_path):
    book = "station,back_ft,fore_ft\nA,24.90,\nB,,0.35\n"
    assert read(tmp_path, book).differences[0].rise == pytest.approx(24.55 * 0.3048)
    assert "25 ft" in refusal(tmp_path, book.replace("24.90", "249.0"))


@pytest.mark.parametrize(
    ("right", "wrong", "line", "words"),
    [
        (",1.602,,434.452", ",1.620,,434.470", 6, ("1.620 m", "a rise of 1.602 m")),
        (",,0.774,432.850", ",0.774,,434.398", 5, ("rise", "a fall of 0.774 m")),
        (",434.452,", ",434.542,", 6, ("level", "434.542 m", "434.452 m", "known points")),
        ("BM,2.228,,,,", "BM,2.228,,,0.5,", 2, ("back sight alone",)),
        (",1.602,,434.452", ",1.602,1.602,434.452", 6, ("both filled in",)),
    ],
)
def test_the_row_where_the_users_own_arithmetic_slipped(tmp_path, right, wrong, line, words):
    assert right in EXERCISE
    message = refusal(tmp_path, EXERCISE.replace(right, wrong))
    for word in (f"book.csv line {line}, column", *words):
        assert word in message


def test_a_slip_that_was_carried_on_is_named_where_it_was_made(tmp_path):
    book = EXERCISE.replace("432.850", "432.950").replace("434.452", "434.552")
    book = book.replace("433.072", "433.172").replace("431.432", "431.532")
    assert "line 5, column level" in refusal(tmp_path, book)


def test_levels_rounded_to_the_centimetre_are_no_slip(tmp_path):
    book = "station,back,fore,level\nA,1.234,,100\nB,0.876,1.011,100.22\nC,,2.000,99.1\n"
    assert len(read(tmp_path, book).differences) == 2


def test_a_wrong_height_of_instrument(tmp_path):
    message = refusal(tmp_path, BY_INSTRUMENT.replace("435,054", "435,154"))
    assert "line 6, column height_of_instrument" in message
    assert "435.054 m" in message


SIGHT = st.integers(min_value=0, max_value=4000)  # mm
SET_UPS = st.lists(st.tuples(SIGHT, st.lists(SIGHT, max_size=4), SIGHT), min_size=1, max_size=8)


@given(SET_UPS, st.sampled_from(["rise and fall", "height of instrument"]))
def test_a_simulated_book_reduces_to_its_truth_by_either_way(tmp_path_factory, set_ups, way):
    folder = tmp_path_factory.getbasetemp()
    text, truth = simulated(set_ups, way)
    found = levels(read(folder, text), "S0", 100.0)
    assert found == pytest.approx({name: mm / 1000 for name, mm in truth.items()}, abs=1e-9)
    first, last = truth["S0"], list(truth.values())[-1]
    backs = sum(back for back, _, _ in set_ups)
    fores = sum(fore for _, _, fore in set_ups)
    assert backs - fores == last - first


def simulated(set_ups, way):
    """A book with its own arithmetic filled in, and the levels of its stations in mm."""
    names, rows = ["S0"], [{"level": 100_000}]
    for back, between, fore in set_ups:
        instrument = rows[-1]["level"] + back
        rows[-1] |= {"back": back, "height of instrument": instrument}
        before = back
        for sight in (*between, fore):
            names.append(f"S{len(names)}")
            step = {"rise" if before >= sight else "fall": abs(before - sight)}
            rows.append({"level": instrument - sight, "intermediate": sight, **step})
            before = sight
        rows[-1]["fore"] = rows[-1].pop("intermediate")
    own = ["rise", "fall"] if way == "rise and fall" else ["height of instrument"]
    columns = ["back", "intermediate", "fore", *own, "level"]
    lines = [
        ",".join([name, *(f"{row[c] / 1000:.3f}" if c in row else "" for c in columns)])
        for name, row in zip(names, rows, strict=True)
    ]
    truth = {name: row["level"] for name, row in zip(names, rows, strict=True)}
    return "\n".join([",".join(["station", *columns]), *lines]) + "\n", truth
