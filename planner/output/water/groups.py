"""Every water figure of a plan, in groups."""

from planner.output.water.lines import line_groups
from planner.output.water.ram import ram_groups
from planner.output.water.row import Group
from planner.output.water.source import intake_group, source_group
from planner.output.water.tank import tank_group
from planner.output.water.yields import heads_group, yield_group
from planner.record.value import Plan


def water_groups(plan: Plan) -> tuple[Group, ...]:
    """Source, intake, heads, yield, ram, tank and lines; those without a row are left out."""
    groups = (
        source_group(plan),
        intake_group(plan),
        heads_group(plan),
        yield_group(plan),
        *ram_groups(plan),
        tank_group(plan),
        *line_groups(plan),
    )
    return tuple(one for one in groups if one.rows)
