"""What the page holds for the field: stakes, marks, what measuring changed, lines as built."""

from typing import Any

from planner.output.map.brought import (
    built_lines,
    change_lines,
    laid_word,
    station_rows,
    survey_notes,
)
from planner.output.map.field_marks import MarkKind
from planner.output.map.pegs import peg_lists
from planner.output.map.scene import Scene
from planner.output.sheets.measure import measure
from planner.output.stakes.words import source_note
from planner.record.value import Plan

MARK_WORDS: dict[MarkKind, str] = {
    "crossed": "a line crosses a stream or a drawn line",
    "station": "levelled on the ground",
    "built": "noted as it was built",
}


def field_content(plan: Plan, scene: Scene) -> dict[str, Any]:
    """What `page.html.jinja` shows of the field."""
    kinds = {mark.kind for mark in scene.marks}
    return {
        "pegs": peg_lists(plan, scene.staked),
        "along": measure(plan.site.units).chainage_word,
        "stakes_note": source_note(plan),
        "marks": [(kind, word) for kind, word in MARK_WORDS.items() if kind in kinds],
        "crossings": bool(scene.crossings),
        "laid": {line.name: laid_word(line) for line in plan.lines},
        "changes": change_lines(plan),
        "survey_notes": survey_notes(plan),
        "stations": station_rows(plan),
        "built": built_lines(plan),
    }
