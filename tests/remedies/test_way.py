"""A way point by a button: the line leads round the ridge it ran over."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.record.value import Finding, Plan
from planner.remedies.table import remedies
from planner.site.edits.apply import edited
from planner.site.edits.value import AddPoint, Edit
from planner.terrain.frame import to_lonlat
from tests.remedies.pressing import GONE, planned, press
from tests.remedies.ridge import ridge_draft


@pytest.mark.slow
@pytest.mark.parametrize(
    ("code", "half", "error"),
    [("crest-low-pressure", 45.0, "0.05 m"), ("crest-low-pressure", 60.0, "0.05 m"),
     ("air-trap", 45.0, "3 m")],
)  # fmt: skip
def test_the_line_leads_round_the_ridge(code: str, half: float, error: str, tmp_path: Path) -> None:
    pressed = press(ridge_draft(tmp_path, half=half, error=error), code, "way-point")
    assert pressed.level == GONE
    assert not pressed.worse
    before, after = (plan.line("main") for plan in (pressed.before, pressed.after))
    assert (len(before.high_points), len(after.high_points)) == (1, 0)
    detour = next(o for c in before.choices for o in c.others if o.kind == "detour")
    more = after.profile.length - before.profile.length
    assert more == pytest.approx(detour.pipe_m, rel=0.1)
    assert pressed.remedy.words == f"Lead it round with a way point, {detour.pipe_m:.0f} m more"


def low(plan: Plan) -> Finding:
    (finding,) = [one for one in plan.findings if one.code == "crest-low-pressure"]
    return finding


def way_point(plan: Plan) -> Edit:
    (remedy,) = [one for one in remedies(plan, low(plan)) if one.key == "way-point"]
    return remedy.edit


@pytest.mark.slow
def test_it_stands_before_the_way_point_that_comes_next(tmp_path: Path) -> None:
    draft = ridge_draft(tmp_path)
    line = planned(draft).line("main")
    lon, lat = to_lonlat(planned(draft).terrain, line.profile.xy[-30:-29])[0].tolist()
    named = edited(draft, AddPoint("way", (lon, lat), "Peg", line="main"))
    edit = way_point(planned(named))
    assert isinstance(edit, AddPoint)
    assert (edit.line, edit.before) == ("main", "Peg")
    after = planned(edited(named, edit))
    names = [point.name for point in after.site.sketch.role("way")]
    assert names == [edit.name, "Peg"]
    assert after.line("main").high_points == ()


@pytest.mark.slow
def test_a_second_one_takes_another_name(tmp_path: Path) -> None:
    plan = planned(ridge_draft(tmp_path))
    first = way_point(plan)
    assert isinstance(first, AddPoint)
    taken = replace(plan, points=(*plan.points, replace(plan.points[0], name=str(first.name))))
    second = way_point(taken)
    assert isinstance(second, AddPoint)
    assert second.name not in (None, first.name)


@pytest.mark.slow
def test_a_plan_not_weighed_and_a_line_that_shares_its_role_have_no_such_button(
    tmp_path: Path,
) -> None:
    plan = planned(ridge_draft(tmp_path))
    plain = replace(plan, lines=tuple(replace(line, choices=()) for line in plan.lines))
    twice = replace(plan, lines=(*plan.lines, replace(plan.line("main"), name="main-2")))
    for other in (plain, twice):
        assert "way-point" not in [one.key for one in remedies(other, low(other))]
