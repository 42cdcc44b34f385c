"""Distance, fall and grade between two clicks, and how sure the fall is."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.live.levels_view import levels_view
from planner.terrain.value import Provenance, Terrain
from tests.example import CRS


def slope(error: float = 0.15) -> Terrain:
    """100 x 80 m that fall 5 cm a metre to the east from 500 m."""
    z = np.tile(500.0 - 0.05 * (np.arange(100) + 0.5), (80, 1))
    terrain = Terrain.from_array(z, 1.0, origin=(0.0, 80.0), crs=CRS)
    return replace(terrain, provenance=Provenance(standard_error=error))


def test_what_is_planted_is_found() -> None:
    view = levels_view(slope(), "metric", (10.0, 40.0), (70.0, 40.0))
    assert view == {
        "first": "499.5 m",
        "second": "496.5 m",
        "distance": "60.0 m",
        "fall": "falls 3.0 m ± 0.21 m",
        "grade": "5.0 % down, 1 in 20",
        "odds": "The second place lies lower: almost certain, 10 of 10.",
    }


def test_feet_are_told_in_feet() -> None:
    view = levels_view(slope(0.01), "us", (10.0, 40.0), (70.0, 40.0))
    assert (view["distance"], view["fall"]) == ("196.9 ft", "falls 9.84 ft ± 0.05 ft")


PLACES = st.tuples(st.floats(1, 99), st.floats(1, 79))


@given(PLACES, PLACES)
def test_there_and_back_are_the_same_but_for_the_direction(
    one: tuple[float, float], other: tuple[float, float]
) -> None:
    there, back = (levels_view(slope(), "metric", *ends) for ends in ((one, other), (other, one)))
    assert (there["first"], there["second"]) == (back["second"], back["first"])
    assert there["distance"] == back["distance"]
    assert there["fall"].split()[1:] == back["fall"].split()[1:]


@pytest.mark.parametrize(
    ("fall", "words"),
    [(0.0, "as likely as not, 5 of 10"), (0.11, "likely, 7 of 10"), (0.5, "almost certain")],
)
def test_odds_are_those_of_a_normal_error_of_two_heights(fall: float, words: str) -> None:
    # By hand: 0.11 m over sqrt(2) x 0.15 m is 0.52 standard errors, under which lie 70 % of errors.
    view = levels_view(slope(), "metric", (20.0, 40.0), (20.0 + fall / 0.05, 40.001))
    assert words in view["odds"]


def test_what_is_not_known_is_said() -> None:
    terrain = slope()
    z = terrain.z.copy()
    z[:, 50:] = np.nan
    view = levels_view(replace(terrain, z=z), "metric", (10.0, 40.0), (70.0, 40.0))
    assert (view["second"], view["fall"], view["grade"]) == ("not known there",) * 3
    assert view["distance"] == "60.0 m"
    assert view["odds"] == ""
    assert levels_view(slope(math.nan), "metric", (1, 1), (9, 9))["odds"] == ""


def test_a_place_against_itself_has_no_grade() -> None:
    view = levels_view(slope(), "metric", (10.0, 40.0), (10.0, 40.0))
    assert (view["distance"], view["grade"], view["odds"]) == ("0.0 m", "–", "")
