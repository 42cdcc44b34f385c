"""Drafts to plans: the same as the command makes of the saved site."""

from dataclasses import replace
from pathlib import Path

import pytest

from planner.errors import InputError, SiteError
from planner.live.plans import MOST, Plans
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.value import MovePoint
from planner.site.read import read_site
from tests.command import lonlat
from tests.live.drafts import bare_draft, gravity_draft


def silent(_: str) -> None:
    """Nobody listens."""


def moved(draft: Draft, east: float) -> Draft:
    lon, lat = lonlat(east, 100)
    return edited(draft, MovePoint("tank", (lon, lat)))


def lies(plan: Plan) -> list[tuple[str, list[list[float]]]]:
    return [(line.name, line.profile.xy.tolist()) for line in plan.lines]


@pytest.mark.slow
def test_an_unsaved_draft_is_planned_as_it_would_be_once_saved(tmp_path: Path) -> None:
    draft = moved(gravity_draft(tmp_path), 55)
    plan = Plans(silent).make(draft)
    draft.site_path.write_text(draft.site, encoding="utf-8")
    if draft.sketch_path is not None:
        draft.sketch_path.write_text(draft.sketch, encoding="utf-8")
    saved = make_plan(read_site(draft.site_path))
    assert lies(plan) == lies(saved)
    assert repr(plan.water) == repr(saved.water)


@pytest.mark.slow
def test_a_draft_known_is_not_planned_again_but_asked_for_anew_it_is(tmp_path: Path) -> None:
    plans, draft = Plans(silent), gravity_draft(tmp_path)
    plan = plans.make(draft)
    assert plans.known(draft) is plan
    assert plans.make(draft) is not plan
    for east in range(40, 40 + MOST):
        plans.known(moved(draft, east))
    assert plans.known(draft) is not plan  # the oldest is forgotten


def test_what_is_missing_is_told(tmp_path: Path) -> None:
    plans, draft = Plans(silent), bare_draft(tmp_path)
    so_far, ground = plans.ground(draft)
    assert so_far.missing.startswith("Place the source")
    assert ground.shape == (120, 100)
    with pytest.raises(InputError, match="Place the source"):
        plans.make(draft)


def test_a_draft_that_is_no_site_is_refused(tmp_path: Path) -> None:
    draft = replace(gravity_draft(tmp_path), site="title = ")
    with pytest.raises(SiteError, match=r"site\.toml"):
        Plans(silent).ground(draft)
