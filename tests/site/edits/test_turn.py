"""Latitude written first, which only the ground can tell."""

import pytest

from planner.site.edits.apply import edited
from planner.site.edits.open import draft_site
from planner.site.edits.turn import turned
from planner.site.edits.value import MovePoint
from planner.site.write import same_site
from tests.site.edits.drafts import both_draft, geojson_draft, written_draft

GROUND = (11.19, 47.29, 11.22, 47.32)
ELSEWHERE = (47.29, 11.19, 47.32, 11.22)  # the same ground with the two exchanged


@pytest.mark.parametrize("way", [geojson_draft, both_draft, written_draft])
def test_a_sketch_is_turned_onto_the_ground_and_back(way, tmp_path):
    draft = way(tmp_path)
    assert turned(draft, GROUND) is draft
    there = turned(draft, ELSEWHERE)
    before, after = draft_site(draft).sketch, draft_site(there).sketch
    assert [p.at for p in after.points] == [p.at[::-1] for p in before.points]
    assert after.areas[0].shape.bounds[0] == before.areas[0].shape.bounds[1]
    assert after.crossings[0].shape.coords[0] == before.crossings[0].shape.coords[0][::-1]
    assert same_site(draft_site(turned(there, GROUND)), draft_site(draft))


def test_what_is_placed_afterwards_lies_among_the_rest(tmp_path):
    draft = turned(geojson_draft(tmp_path), ELSEWHERE)
    draft = edited(draft, MovePoint("tank", (47.3011, 11.2021)))
    assert turned(draft, ELSEWHERE) is draft
