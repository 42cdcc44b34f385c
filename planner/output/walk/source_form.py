"""The source's flow: bucket and watch."""

from collections.abc import Iterator

from planner.output.print.page import Page, dated
from planner.output.print.sheet import Sheet
from planner.output.print.table import column_names, column_widths, named
from planner.output.print.type import paragraph
from planner.output.walk.form import filled, signed
from planner.record.value import Plan
from planner.units.show import show

TIMINGS = 8
VOLUMES = {"metric": ("L", "L/min"), "us": ("US gal", "US gal/min")}


def source_form(plan: Plan, page: Page) -> Sheet:
    """The form, with what the plan counts on."""
    volume, flow = VOLUMES[plan.site.units]
    columns = {
        "No.": 40.0,
        f"Bucket holds, {volume}": 110.0,
        "Time to fill, seconds": 110.0,
        f"Flow = bucket × 60 ÷ seconds, {flow}": 150.0,
        "Remark": 0.0,
    }
    widths = column_widths(columns, page.width)
    wide = page.width
    return Sheet(
        name=f"Flow of the source{_named(plan)}",
        head=(
            *(paragraph(text) for text in _told(plan)),
            signed(wide, "By", "Date"),
            signed(wide, "Season", "Last rain"),
        ),
        columns=column_names(tuple(columns), widths),
        rows=tuple(named([str(number)], widths) for number in range(1, TIMINGS + 1)),
        foot=(
            filled(wide, f"Mean flow, {flow}"),
            filled(wide, "Who remembers dry years, and how little came"),
            filled(wide, "Highest flood, above which mark"),
            filled(wide, "Water clear after rain?"),
            paragraph(
                "To bring it back: write in site.toml, under [measured], each bucket and its time:"
                f' timings = [["12 {volume}", "14.2 s"], ...], date = 2026-09-30,'
                ' flow_season = "dry" or "wet". Then plan again.'
            ),
        ),
    )


def _named(plan: Plan) -> str:
    names = [point.name for point in plan.points if point.role == "source"]
    return f", {names[0]}" if names else ""


def _told(plan: Plan) -> Iterator[str]:
    yield (
        "Lead the whole flow into a bucket, by a short pipe or sheet; time at least three"
        " fillings, each of 5 seconds or more. Come back late in the dry season: that flow counts."
    )
    units, water, source = plan.site.units, plan.water, plan.site.gauged
    if water.source_flow is None:
        yield "The plan knows no flow yet, so it can promise no water."
        return
    said = f"The plan counts on {show(water.source_flow, 'flow', units, figures=3)} at the lowest"
    if water.taken is not None and water.taken < water.source_flow:
        said += f", of which {show(water.taken, 'flow', units, figures=3)} may be taken"
    yield f"{said}{f'; measured {dated(source.measured)}' if source.measured else ''}."
