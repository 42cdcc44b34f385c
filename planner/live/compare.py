"""`compare_view`: two plans of one site side by side, in one table."""

from dataclasses import replace

from planner.errors import InputError
from planner.live.line_view import line_view
from planner.live.value import CompareView
from planner.output.map.panel import delivered_label, water_figures
from planner.output.materials.make import priced_materials
from planner.output.materials.shown import shown
from planner.output.materials.value import PipeOrder, Unit
from planner.output.summary import scheme_words
from planner.record.value import Level, Plan
from planner.units.show import show

NONE = "–"
LEVELS: dict[Level, str] = {"stop": "Stop the work", "warn": "Warnings", "note": "Notes"}

Rows = dict[str, str]


def compare_view(first: Plan, second: Plan) -> CompareView:
    """Water, lines, digging, materials and findings of two plans.

    Parameters
    ----------
    first, second : Plan
        The one that was kept, and the one there is now.

    Returns
    -------
    CompareView
        A row for all that either has, "–" where the other has none of it, in the second's units;
        `lines` are the first's, to be drawn under the second.
    """
    first = replace(first, site=replace(first.site, units=second.site.units))
    tables = _table(first), _table(second)
    labels = _merged(list(tables[0]), list(tables[1]))
    rows = []
    for label in labels:
        one, other = (table.get(label, NONE) for table in tables)
        rows.append((label, one, other, one != other))
    lines = [line_view(line, first.site.units) for line in first.lines]
    return CompareView(rows=rows, lines=lines)


def _merged(first: list[str], second: list[str]) -> list[str]:
    """Labels of both in order; what only the second has stands after what it follows there."""
    merged = list(first)
    for place, label in enumerate(second):
        if label not in merged:
            before = second[place - 1] if place else None
            merged.insert(merged.index(before) + 1 if before is not None else 0, label)
    return merged


def _table(plan: Plan) -> Rows:
    return {
        "Scheme": scheme_words(plan),
        **_water(plan),
        **_lines(plan),
        **_bought(plan),
        **_findings(plan),
    }


def _water(plan: Plan) -> Rows:
    """The water figures; what is delivered under one name, dry reading or not."""
    own = delivered_label(plan)
    return {"Delivered" if label == own else label: figure for label, figure in water_figures(plan)}


def _lines(plan: Plan) -> Rows:
    units = plan.site.units
    rows = {"High points": str(sum(len(line.high_points) for line in plan.lines))}
    for line in plan.lines:
        rows[f"Length of {line.name}"] = show(line.profile.length, "length", units)
    for blocked in plan.blocked:
        rows[f"Length of {blocked.name}"] = "no way found"
    return rows


def _bought(plan: Plan) -> Rows:
    """Digging and materials, and what they cost where there are prices."""
    try:
        priced = priced_materials(plan)
    except InputError as error:
        return {"Materials": error.message}
    materials = priced.materials
    rows = {
        "Trench": _amount(sum(row.volume for row in materials.trench), "m³", plan),
        "Days of work, one person": f"{sum(work.days for work in materials.work):,.1f}",
        **{order.article.words: _order(order) for order in materials.pipes},
    }
    weights = [item.mass for item in materials.items if item.mass is not None]
    if weights:
        rows["To carry, of what has a known weight"] = _amount(sum(weights), "kg", plan)
    if priced.prices is not None:
        currency = priced.prices.currency
        rows["Cost of what has a price"] = f"{priced.total:,.2f} {currency}".strip()
        rows["Without a price"] = f"{len(priced.unpriced)} items"
    return rows


def _order(order: PipeOrder) -> str:
    count = len(order.pieces)
    return f"{count} {order.form}{'' if count == 1 else 's'}"


def _amount(amount: float, unit: Unit, plan: Plan) -> str:
    number, sign = shown(amount, unit, plan.site.units)
    return f"{number:,.0f} {sign}" if number >= 100.0 else f"{number:,.1f} {sign}"


def _findings(plan: Plan) -> Rows:
    found = [finding.level for finding in plan.findings]
    return {words: str(found.count(level)) for level, words in LEVELS.items()}
