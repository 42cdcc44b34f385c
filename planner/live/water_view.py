"""The whole water table of a plan, in groups."""

from planner.live.value import FigureView, GroupView
from planner.output.water_table import water_rows
from planner.record.value import Plan


def water_view(plan: Plan) -> list[GroupView]:
    """Every water figure that is known, with what it hangs on; cautions last."""
    return [
        GroupView(
            title=group.title,
            rows=[
                FigureView(label=row.label, figure=row.figure, source=row.source)
                for row in group.rows
            ],
        )
        for group in water_rows(plan)
    ]
