"""What the page draws while a point is dragged, against what was found there."""

import json
from dataclasses import replace

import pytest

from planner.band import Band
from planner.chain.follow import Followed
from planner.live.figures import figure_views
from planner.live.follow_view import follow_view
from planner.record.value import Blocked, Plan
from tests.example import example_plan

LOST = Blocked("distribution-trough", "distribution", "tank", "trough", "fall", "no fall is left")


def followed(plan: Plan) -> Followed:
    """The tank moved 10 m: a longer delivery without high points, no way on to the trough."""
    tank = plan.point("tank")
    moved = replace(tank, xy=(70.0, 110.0), level=tank.level + 0.5)
    line = plan.line("delivery")
    shift = replace(line.profile, chainage=line.profile.chainage * 1.02)
    return Followed(
        point=moved,
        placed=None,
        lines=(replace(line, profile=shift, high_points=(), low_points=()),),
        gone=(LOST,),
        water=replace(plan.water, delivered=Band(1.1, 1.5, 2.0)),
    )


def test_only_what_changes_is_sent() -> None:
    plan = example_plan()
    found = followed(plan)
    view = follow_view(plan, found)
    assert json.loads(json.dumps(view, allow_nan=False)) == view
    assert (view["name"], view["at"]) == ("tank", [70.0, 110.0])
    assert view["level"] == f"{found.point.level:.2f} m"
    assert [line["name"] for line in view["lines"]] == ["delivery"]
    assert view["turns"] == []
    assert view["gone"] == {"distribution-trough": "no fall is left"}


def test_figures_are_those_of_the_scheme_as_it_would_be() -> None:
    plan = example_plan()
    found = followed(plan)
    figures = {one["label"]: one["figure"] for one in follow_view(plan, found)["figures"]}
    assert figures["Delivered"] == "1,500 L/day (1,100 – 2,000)"
    there = [line for line in plan.lines if line.name in ("supply", "drive")]
    total = sum(line.profile.length for line in (*there, *found.lines))
    assert float(figures["Pipe in all"].split()[0]) == pytest.approx(total, abs=0.5)


def test_labels_match_those_of_the_plan_so_that_figures_take_their_places() -> None:
    plan = example_plan()
    labels = [one["label"] for one in figure_views(plan)]
    assert [one["label"] for one in follow_view(plan, followed(plan))["figures"]] == labels
