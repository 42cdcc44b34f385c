"""A sketch while points are missing: what is drawn, and what is asked for next."""

import json

import numpy as np

from planner.live.sketch_view import sketch_view
from planner.site.edits.incomplete import Incomplete
from planner.site.value import Point
from planner.terrain.drainage import find_streams
from planner.terrain.sample import ground_at
from planner.wording.cautions import CAUTIONS
from tests.chain.scene import SPRING, area, at, point, site, valley
from tests.chain.small import CURVE

PLACE_TANK = "Place a tank, or an outlet: where the water is to arrive."


def test_what_is_there_is_drawn_and_what_is_missing_is_asked_for() -> None:
    bog = area("bog", "avoid", (40.0, -20.0, 60.0, 20.0))
    view = sketch_view(Incomplete(site(SPRING, areas=(bog,)), PLACE_TANK), valley(), 4)
    assert json.loads(json.dumps(view, allow_nan=False)) == view
    assert (view["state"], view["revision"], view["missing"]) == ("sketch", 4, PLACE_TANK)
    (spring,) = view["points"]
    assert spring["at"] == [20.5, -0.5]
    assert spring["level"] == f"{float(ground_at(valley(), 20.5, -0.5)):.2f} m"
    (drawn,) = view["areas"]
    west, south = np.array(drawn["parts"][0][0]).min(axis=0)
    assert (west, south) == (40.0, -20.0)
    assert [view["lines"], view["findings"], view["figures"]] == [[], [], []]


def test_nothing_at_all_can_be_drawn() -> None:
    view = sketch_view(Incomplete(site(), "Place the source."), valley(), 1)
    assert (view["points"], view["areas"], view["missing"]) == ([], [], "Place the source.")
    assert CAUTIONS["codes"][1] in view["cautions"]


def test_a_point_off_the_data_is_drawn_and_told_once_nothing_else_is_missing() -> None:
    astray = point("tank", "tank", 900.0, 60.0)
    for missing in ("", PLACE_TANK):
        view = sketch_view(Incomplete(site(SPRING, astray), missing), valley(), 1)
        (_, tank) = view["points"]
        assert tank["at"] == [900.0, 60.0]
        assert tank["level"] == "–"
        told = missing or "the point 'tank' at longitude"
        assert view["missing"].startswith(told)


def test_latitude_and_longitude_exchanged_are_put_right() -> None:
    lon, lat = at(20.5, -0.5)
    turned = Point("spring", "source", (lat, lon))
    (spring,) = sketch_view(Incomplete(site(turned), ""), valley(), 1)["points"]
    assert spring["at"] == [20.5, -0.5]


def test_streams_are_drawn_where_they_are_known() -> None:
    streams = find_streams(valley())
    view = sketch_view(Incomplete(site(), ""), valley(), 1, streams)
    assert len(view["streams"]) == len([one for one in streams if len(one.xy) > 1]) > 0


def test_a_pump_with_a_curve_is_no_ram() -> None:
    pump = point("lift", "pump", 92.5, 1.5)
    view = sketch_view(Incomplete(site(SPRING, pump, powered=CURVE), ""), valley(), 1)
    assert [one["letter"] for one in view["points"]] == ["S", "P"]
