import pytest

from planner.errors import InputError
from planner.levels.names import StationNames
from planner.levels.value import Row

ROW = Row("book.csv", 7)


def test_case_and_blanks_do_not_part_stations():
    names = StationNames()
    assert names.find("Bench  mark", ROW) == "Bench mark"
    assert names.find(" bench MARK ", ROW) == "Bench mark"
    assert names.find("ＢＥＮＣＨ mark", ROW) == "Bench mark"
    assert not names.notes


@pytest.mark.parametrize("written", ["De 7", "De07", "de-7", "DE 007", "De_7", "de 07"])
def test_a_near_miss_is_the_stake(written):
    names = StationNames(["De 07", "De 17", "Di 07"])
    assert names.find(written, ROW) == "De 07"
    told = [] if written == "de 07" else ["book.csv line 7"]
    assert [note[:15] for note in names.notes] == told


@pytest.mark.parametrize("written", ["De 70", "D 07", "De 7.1", "De 7a", "07 De", "TP 7"])
def test_other_names_are_other_stations(written):
    names = StationNames(["De 07"])
    assert names.find(written, ROW) == written
    assert not names.notes


def test_without_stakes_only_case_and_blanks_count():
    names = StationNames()
    assert names.find("TP 1", ROW) != names.find("TP 01", ROW)


def test_a_name_near_two_stakes_is_asked_for():
    names = StationNames(["A 1", "A-01"])
    assert names.find("A-01", ROW) == "A-01"
    with pytest.raises(InputError, match=r'line 7: "A1" can be the stake "A 1" or "A-01"'):
        names.find("A1", ROW)


def test_hostile_names_are_shortened_to_what_can_be_shown():
    names = StationNames()
    assert names.find("a\x1b\u202eb", ROW) == "a b"
    assert names.find("<script>", ROW) == "<script>"
    for text, word in (("x" * 81, "81 characters"), (" \u200e ", "no station")):
        with pytest.raises(InputError, match=word):
            names.find(text, ROW)
