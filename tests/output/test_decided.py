"""What is decided stands on every paper: a vent where the pipe turns, or wherever it was put."""

from dataclasses import replace

import pytest

from planner.output.line_json import line_document
from planner.output.materials.make import materials_of
from planner.output.owner.fittings import fittings
from planner.output.stakes.marks import marks_of
from planner.output.vents import apart, vents_of
from planner.record.value import Line, Plan
from planner.record.works import Decided
from planner.site.fit import FittingKind
from tests.checks.fits import decided
from tests.example import example_plan


def with_one(kind: FittingKind, index: int) -> tuple[Plan, Line]:
    """The example, whose lines have no works, with one fitting where its delivery does not turn."""
    plan = example_plan()
    line = plan.line("delivery")
    chainage = float(line.profile.chainage[index])
    one = Decided(0, kind, index, chainage, at_turn=False, note="in a <box>")
    line = replace(line, decided=(one,))
    lines = tuple(line if other.name == line.name else other for other in plan.lines)
    return replace(plan, lines=lines), line


def test_a_vent_decided_at_a_high_point_is_the_kind_that_suits_the_pressure() -> None:
    (line,) = decided("vent").lines
    assert vents_of(line) == {1: "air valve"}
    assert apart(line, "vent") == ()


def test_one_that_would_draw_in_air_is_not_drawn() -> None:
    (line,) = decided("vent", opened=508.0, closed=504.5).lines
    assert vents_of(line) == {}


@pytest.mark.parametrize(
    ("kind", "article", "word"),
    [("vent", "vent-kind-not-chosen", "fit a vent"), ("washout", "washout", "fit a washout")],
)
def test_one_apart_from_the_turns_is_bought_staked_and_told_the_owner(
    kind: FittingKind, article: str, word: str
) -> None:
    plan, line = with_one(kind, 10)
    at = float(line.profile.chainage[10])

    def bought(of: Plan) -> float:
        items = materials_of(of).items
        return sum(i.quantity for i in items if i.article.code.startswith(article))

    assert bought(plan) == bought(example_plan()) + 1
    assert [m.remark for m in marks_of(plan, line) if m.chainage_m == at and m.remark] == [word]
    assert [one.kind for one in fittings(plan) if one.chainage_m == at] == [kind]
    document = line_document(line, plan.terrain)
    assert [(one["kind"], one["note"]) for one in document["decided"]] == [(kind, "in a <box>")]
