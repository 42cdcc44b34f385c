"""Five numbers as typed, answered in words."""

import json
from typing import get_args

import pytest

from planner.chain.first_look import Reason, first_look
from planner.errors import InputError
from planner.live.first_look_view import FIVE, VERDICTS, first_look_view
from planner.units.show import band_text

TYPED = {
    "source_flow": "54 L/min",
    "fall": "4.2 m",
    "rise": "28 m",
    "length": "240 m",
    "need": "3800 L",
}


def test_what_is_typed_is_what_is_reckoned_with() -> None:
    view = first_look_view(TYPED)
    seen = first_look(54e-3 / 60.0, 4.2, 28.0, 240.0, 3.8)
    assert json.loads(json.dumps(view))["figure"] == view["figure"]
    assert view["figure"] == band_text(seen.delivered, "per_day", "metric")
    assert view["go"] == "unsure"
    assert view["measure"].startswith("Measure first the fall, with a level or a water hose")
    assert ("Needed", "3,800 L/day", "as typed") in view["rows"]
    assert ("Rise to fall", "6.7 to 1", "the two heights") in view["rows"]


def test_what_is_assumed_is_said_with_the_cautions() -> None:
    said = " ".join(first_look_view(TYPED)["assumed"])
    for words in ("good to 10 %", "30 % of the source's flow stays", "dry season", "commercial"):
        assert words in said
    for words in ("Local codes and licensed practice", "not drinking water", "permits"):
        assert words in said


def test_feet_and_gallons_are_answered_in_kind() -> None:
    view = first_look_view(TYPED | {"source_flow": "14 US gpm", "fall": "14 ft"})
    assert " US gal/day (" in view["figure"]
    minutes = first_look_view(TYPED | {"source_flow": "54 litres per min"} | {"fall": "4.2 metres"})
    assert " L/day (" in minutes["figure"]


def test_by_gravity_the_fall_may_be_nothing_without_a_unit() -> None:
    view = first_look_view(TYPED | {"fall": "0", "rise": "-12 m"})
    assert view["verdict"].startswith("Go: the water runs there by itself")
    assert ("Source above the tank", "12.0 m", "the two heights") in view["rows"]
    assert not any("ram" in one for one in view["assumed"])


def test_outside_what_is_known_no_figure_stands() -> None:
    view = first_look_view(TYPED | {"fall": "0 m"})
    assert (view["go"], view["figure"]) == ("no-go", "")
    assert view["verdict"].startswith("No-go for a ram")


def test_every_reason_has_its_words() -> None:
    assert {*VERDICTS, "enough"} == set(get_args(Reason))


@pytest.mark.parametrize("key", list(FIVE))
@pytest.mark.parametrize("text", ["", "  ", "12", "twelve metres", "1e9 m", "<b>3 m</b>", "nan m"])
def test_what_can_not_be_read_is_refused_by_name(key: str, text: str) -> None:
    with pytest.raises(InputError) as error:
        first_look_view(TYPED | {key: text})
    assert str(error.value).startswith(FIVE[key].name)
    assert "\n" not in str(error.value)


def test_a_pipe_shorter_than_its_climb_is_refused_in_no_unit() -> None:
    with pytest.raises(InputError, match="length is less than the height between"):
        first_look_view(TYPED | {"length": "20 m"})
