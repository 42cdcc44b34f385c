"""Two plans in one table."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.live.compare import _merged, compare_view
from planner.record.value import Blocked, Plan
from tests.example import example_plan
from tests.live.plans import valley_plan

Rows = dict[str, tuple[str, str, bool]]


def rows(first: Plan, second: Plan) -> Rows:
    found = compare_view(first, second)["rows"]
    labels = [label for label, *_ in found]
    assert len(set(labels)) == len(labels)
    return {label: (one, other, differs) for label, one, other, differs in found}


@pytest.mark.parametrize("make", [example_plan, valley_plan])
def test_a_plan_beside_itself_differs_nowhere(make) -> None:
    plan = make()
    assert not any(differs for _, _, differs in rows(plan, plan).values())


def test_what_was_changed_is_what_differs() -> None:
    plan = example_plan()
    better = replace(
        plan,
        water=replace(plan.water, delivered=Band(1.4, 2.1, 2.6)),
        lines=tuple(
            replace(line, high_points=(), low_points=()) if line.name == "delivery" else line
            for line in plan.lines
        ),
        findings=plan.findings[1:],
    )
    found = rows(plan, better)
    assert found["Delivered"] == (
        "1,700 L/day (1,200 – 2,300)",
        "2,100 L/day (1,400 – 2,600)",
        True,
    )
    assert found["High points"] == ("1", "0", True)
    assert found["Warnings"] == ("2", "1", True)
    assert found["Notes"] == ("1", "1", False)
    assert found["Fall"][2] is False


def test_lines_of_either_stand_there_with_their_lengths() -> None:
    plan = example_plan()
    lost = Blocked("delivery", "delivery", "ram", "tank", "closed", "the bog closes the way")
    without = replace(
        plan, lines=tuple(x for x in plan.lines if x.name != "delivery"), blocked=(lost,)
    )
    length = f"{plan.line('delivery').profile.length:.1f} m"
    assert rows(plan, without)["Length of delivery"] == (length, "no way found", True)
    assert rows(without, plan)["Length of delivery"] == ("no way found", length, True)


def test_digging_is_the_sum_of_the_trenches() -> None:
    """A trench 0.3 m wide, 0.5 m deep all along every line, as the example is laid."""
    plan = example_plan()
    volume = 0.3 * 0.5 * sum(line.profile.run[-1] for line in plan.lines)
    told = float(rows(plan, plan)["Trench"][0].split()[0])
    assert told == pytest.approx(volume, rel=0.02)


def test_materials_are_counted_and_cost_where_there_are_prices(tmp_path: Path) -> None:
    plan = valley_plan()
    assert "Cost of what has a price" not in rows(plan, plan)
    prices = tmp_path / "prices.csv"
    prices.write_text("item,unit,price,currency\nBackfill,m³,2.00,EUR\n")
    rates = replace(plan.site.rates, prices=prices)
    priced = replace(plan, site=replace(plan.site, rates=rates))
    found = rows(plan, priced)
    before, cost, _ = found["Cost of what has a price"]
    assert before == "–"
    assert cost.endswith(" EUR")
    assert float(cost.split()[0].replace(",", "")) > 0.0
    assert any(label.startswith("Pipe, ") for label in found)


def test_a_price_list_that_is_gone_is_told_and_hides_nothing_else(tmp_path: Path) -> None:
    plan = example_plan()
    rates = replace(plan.site.rates, prices=tmp_path / "gone.csv")
    found = rows(plan, replace(plan, site=replace(plan.site, rates=rates)))
    assert "gone.csv" in found["Materials"][1]
    assert found["Delivered"][2] is False


def test_both_stand_in_the_units_there_are_now() -> None:
    plan = example_plan()
    feet = replace(plan, site=replace(plan.site, units="us"))
    assert not any(differs for _, _, differs in rows(plan, feet).values())
    assert rows(plan, feet)["Delivered"][0].startswith("450 US gal/day")


def test_the_kept_plans_lines_come_along() -> None:
    plan = example_plan()
    other = replace(plan, lines=plan.lines[:1])
    assert [line["name"] for line in compare_view(plan, other)["lines"]] == [
        line.name for line in plan.lines
    ]


LABELS = st.lists(st.sampled_from("abcdefg"), unique=True)


@given(LABELS, LABELS)
def test_labels_of_both_stand_once_and_in_the_order_of_the_first(
    first: list[str], second: list[str]
) -> None:
    merged = _merged(first, second)
    assert sorted(merged) == sorted({*first, *second})
    assert [label for label in merged if label in first] == first
