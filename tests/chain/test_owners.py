"""Whose land each line crosses."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from planner.chain.owners import LEAST, owner_shares
from planner.profile.along import profile_along
from planner.record.value import Line, PlacedArea
from planner.site.defaults import default_line
from tests.chain.scene import valley


def line(*places, name="delivery"):
    profile = profile_along(valley(), LineString(places))
    return Line(name, "delivery", "a", "b", default_line("delivery"), profile)


def owner(name, west, south, east, north):
    return PlacedArea(name, "owner", box(west, south, east, north))


def test_metres_are_counted_along_the_slope():
    steep = line((50.0, 2.0), (50.0, 62.0))  # 25 % up
    shares = owner_shares((steep,), (owner("North Farm", 0, 22, 100, 80),))
    along = np.hypot(1.0, 0.25)
    assert [s.owner for s in shares] == ["North Farm", None]
    assert [s.metres for s in shares] == pytest.approx([40.0 * along, 20.0 * along], rel=1e-3)


def test_without_owners_all_land_is_nobody_s():
    (share,) = owner_shares((line((0, 0), (30, 0)),), ())
    assert share.owner is None
    assert share.metres == pytest.approx(line((0, 0), (30, 0)).profile.length)


def test_areas_of_other_roles_own_nothing():
    avoid = replace(owner("bog", -10, -10, 100, 10), role="avoid")
    (share,) = owner_shares((line((0, 0), (30, 0)),), (avoid,))
    assert share.owner is None


def test_a_line_that_leaves_and_comes_back_is_one_share():
    bent = line((10, 5), (10, 25), (20, 25), (20, 5))
    shares = owner_shares((bent,), (owner("South Farm", 0, 0, 100, 15),))
    assert [share.owner for share in shares] == ["South Farm", None]


def test_a_line_back_over_itself_is_pipe_twice():
    there_and_back = line((10, 5), (30, 5), (10, 5))
    shares = owner_shares((there_and_back,), (owner("West", 0, 0, 20, 10),))
    assert [share.metres for share in shares] == pytest.approx([20.0, 20.0], rel=1e-2)


def test_steep_land_holds_more_pipe_than_flat_land_of_the_same_width():
    ell = line((40, 0.5), (70, 0.5), (70, 30.5))  # along the creek, then 25 % up
    shares = owner_shares((ell,), (owner("Hill Farm", 0, 0.6, 100, 80),))
    assert shares[0].metres == pytest.approx(29.9 * np.hypot(1.0, 0.25), rel=1e-3)


def test_each_line_has_its_own():
    shares = owner_shares(
        (line((0, 0), (30, 0)), line((0, 5), (40, 5), name="main")),
        (owner("East", 20, -50, 100, 50),),
    )
    assert [(s.line, s.owner) for s in shares] == [
        ("delivery", "East"),
        ("delivery", None),
        ("main", "East"),
        ("main", None),
    ]


centimetres = st.integers(-1500, 7500).map(lambda v: v / 100.0)
places = st.tuples(st.integers(-1500, 19000).map(lambda v: v / 100.0), centimetres)


@given(st.lists(places, min_size=2, max_size=6, unique=True), st.floats(10, 150))
def test_the_metres_of_a_line_sum_to_its_length(route, border):
    """Parcels side by side and land of nobody: what one does not own another does."""
    if LineString(route).length < 1.0:
        return
    one = line(*route)
    parcels = (
        owner("West", -15, -75, border, 60),
        owner("East", border, -75, 170, 60),
    )
    shares = owner_shares((one,), parcels)
    assert sum(s.metres for s in shares) == pytest.approx(one.profile.length, abs=3 * LEAST)
    assert all(s.metres > LEAST for s in shares)
