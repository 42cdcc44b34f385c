"""A plan as the page draws it: plain values, in the terrain's own metres, nothing left out."""

import json
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.live.plan_view import plan_view
from planner.output.map.panel import water_figures
from planner.profile.value import Profile
from planner.record.value import Line, Plan
from planner.remedies.value import Remedy
from planner.site.edits.value import SetValue
from planner.wording.findings import sentence
from tests.example import PLACES, example_plan
from tests.live.plans import valley_plan
from tests.output.map.plans import NASTY, bare_plan, blocked_plan, crowded_plan, nasty_plan

PLANS = (example_plan, valley_plan, nasty_plan, blocked_plan, bare_plan, crowded_plan)


@pytest.mark.parametrize("make", PLANS)
def test_json_takes_it_as_it_is(make: Callable[[], Plan]) -> None:
    view = plan_view(make(), 7)
    assert json.loads(json.dumps(view, allow_nan=False)) == view
    assert view["revision"] == 7
    assert view["state"] == "plan"
    assert not view["missing"]


def test_points_lie_where_they_were_put() -> None:
    view = plan_view(example_plan(), 1)
    assert {p["name"]: tuple(p["at"]) for p in view["points"]} == {
        name: (x, y) for name, (_, x, y) in PLACES.items()
    }
    assert [p["letter"] for p in view["points"]] == ["S", "C", "R", "T", "1"]


def test_a_pump_is_not_called_a_ram() -> None:
    view = plan_view(replace(example_plan(), scheme="powered"), 1)
    assert [(p["letter"], p["word"]) for p in view["points"] if p["role"] == "pump"] == [
        ("P", "Pump")
    ]


def test_heights_and_flows_of_the_sketch_are_told_and_levels_with_them() -> None:
    plan = example_plan()
    trough = plan.point("trough")
    points = tuple(
        replace(point, height=1.2, flow=2e-4) if point.name == "trough" else point
        for point in plan.site.sketch.points
    )
    plan = replace(
        plan,
        site=replace(plan.site, sketch=replace(plan.site.sketch, points=points)),
        points=tuple(
            replace(p, level=p.ground + 1.2) if p.name == "trough" else p for p in plan.points
        ),
    )
    (view,) = [p for p in plan_view(plan, 1)["points"] if p["name"] == "trough"]
    assert (view["height"], view["flow"]) == ("1.20 m", "12.0 L/min")
    assert view["ground"] == f"{trough.ground:.2f} m"
    assert view["level"] == f"{trough.ground + 1.2:.2f} m"


def test_lines_are_sampled_alike_in_plan_and_section_and_keep_their_turns() -> None:
    plan = example_plan()
    view = plan_view(plan, 1)
    assert [line["name"] for line in view["lines"]] == [line.name for line in plan.lines]
    for drawn, line in zip(view["lines"], plan.lines, strict=True):
        sizes = {len(drawn[key]) for key in ("path", "chainage", "ground", "pipe")}
        assert len(sizes) == 1
        assert drawn["path"][0] == np.round(line.profile.xy[0], 2).tolist()
        assert drawn["chainage"][-1] == pytest.approx(line.profile.length, abs=0.005)
    high, low = view["turns"]
    delivery = next(line for line in view["lines"] if line["name"] == "delivery")
    for turn, kind in ((high, "high"), (low, "low")):
        assert (turn["kind"], turn["line"], turn["text"]) == (kind, "delivery", "0.62 m")
        at = delivery["chainage"].index(turn["chainage"])
        assert delivery["path"][at] == turn["at"]


def test_a_level_that_is_not_known_is_null() -> None:
    plan = example_plan()
    line = plan.lines[0]
    ground = line.profile.ground.copy()
    ground[1] = np.nan
    profile = _with_ground(line.profile, ground)
    holed = replace(plan, lines=(_with_profile(line, profile), *plan.lines[1:]))
    drawn = plan_view(holed, 1)["lines"][0]
    assert drawn["ground"][1] is None
    assert None not in drawn["pipe"]


def _with_ground(profile: Profile, ground: np.ndarray) -> Profile:
    return replace(profile, ground=ground)


def _with_profile(line: Line, profile: Profile) -> Line:
    return replace(line, profile=profile)


def test_findings_are_numbered_worded_and_placed() -> None:
    plan = example_plan()
    views = plan_view(plan, 1)["findings"]
    assert [view["number"] for view in views] == [1, 2, 3]
    for view, finding in zip(views, plan.findings, strict=True):
        words = sentence(finding, "metric")
        assert (view["message"], view["remedy"]) == (words.message, words.remedy)
    assert views[0]["at"] == np.round(plan.findings[0].at or (), 2).tolist()
    assert views[1]["at"] is None


def test_odds_stand_in_words_with_tenths() -> None:
    plan = example_plan()
    likely = replace(plan.findings[0], likelihood=0.7)
    view = plan_view(replace(plan, findings=(likely,)), 1)["findings"][0]
    assert view["odds"] == "Likely, 7 of 10."


def test_what_the_program_can_do_stands_with_its_finding() -> None:
    deepen = Remedy("deepen", "Dig to 1.15 m", SetValue(("lines", "delivery"), None))
    views = plan_view(example_plan(), 1, [(deepen,), (), ()])["findings"]
    assert views[0]["actions"] == [{"key": "deepen", "words": "Dig to 1.15 m"}]
    assert [view["actions"] for view in views[1:]] == [[], []]


def test_remedies_must_match_the_findings() -> None:
    with pytest.raises(ValueError, match="zip"):
        plan_view(example_plan(), 1, [()])


def test_areas_keep_the_order_of_the_sketch_and_their_holes() -> None:
    areas = plan_view(crowded_plan(), 1)["areas"]
    assert [area["index"] for area in areas] == [0, 1, 2, 3]
    assert [area["label"] for area in areas] == [
        "orchard",
        "rock shelf ×3",
        "our parcel",
        "M. Alder",
    ]
    assert [len(part) for part in areas[2]["parts"]] == [2]
    assert areas[0]["parts"][0][0] == [[-10, -40], [30, -40], [30, 0], [-10, 0]]


def test_names_stay_as_they_were_typed() -> None:
    view = plan_view(nasty_plan(), 1)
    assert view["title"] == NASTY
    assert all(point["name"].endswith(NASTY) for point in view["points"])
    assert view["areas"][0]["name"] == NASTY


@pytest.mark.parametrize("make", [example_plan, valley_plan])
def test_every_figure_says_what_it_hangs_on(make: Callable[[], Plan]) -> None:
    plan = make()
    figures = plan_view(plan, 1)["figures"]
    assert [(f["label"], f["figure"]) for f in figures] == water_figures(plan)
    assert all(figure["source"] for figure in figures)


def test_a_fall_names_its_two_points_and_how_sure_each_is() -> None:
    plan = example_plan()
    levelled = tuple(
        replace(point, level_error=0.01) if point.name == "ram" else point for point in plan.points
    )
    figures = plan_view(replace(plan, points=levelled), 1)["figures"]
    (fall,) = [figure for figure in figures if figure["label"] == "Fall"]
    assert fall["source"] == "the levels of chamber ± 0.15 m and ram ± 0.01 m, measured"


def test_figures_come_in_the_units_of_the_site() -> None:
    plan = example_plan()
    feet = plan_view(replace(plan, site=replace(plan.site, units="us")), 1)
    assert feet["units"] == "us"
    assert feet["lines"][0]["length"].endswith(" ft")
    assert feet["figures"][0]["figure"].startswith("450 US gal/day")
    assert feet["points"][0]["at"] == plan_view(plan, 1)["points"][0]["at"]


def test_without_a_line_no_scheme_is_claimed() -> None:
    assert plan_view(blocked_plan(), 1)["scheme"] == (
        "No line brings the water where it is wanted yet"
    )


def test_streams_stay_within_half_a_cell_of_theirs() -> None:
    plan = valley_plan()
    drawn = plan_view(plan, 1)["streams"]
    assert len(drawn) == len([s for s in plan.streams if len(s.xy) > 1]) > 0
    for path, stream in zip(drawn, plan.streams, strict=True):
        away = LineString(path).hausdorff_distance(LineString(stream.xy))
        assert away <= 0.5 * max(plan.terrain.cell) + 0.01
        assert len(path) <= len(stream.xy)
