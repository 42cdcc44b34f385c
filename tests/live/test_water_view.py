"""The whole water table for the page."""

import json

from planner.live.water_view import water_view
from planner.output.water_table import water_rows
from tests.live.plans import valley_plan


def test_every_row_of_the_table_stands_there_in_its_group() -> None:
    plan = valley_plan()
    view = water_view(plan)
    assert json.loads(json.dumps(view)) == view
    assert [group["title"] for group in view] == [group.title for group in water_rows(plan)]
    told = [(r["label"], r["figure"], r["source"]) for group in view for r in group["rows"]]
    assert told == [
        (row.label, row.figure, row.source) for group in water_rows(plan) for row in group.rows
    ]
    assert view[-1]["title"] == "Cautions"
