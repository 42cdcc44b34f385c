"""The water table: every figure in the user's units, with its source and its state."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from planner.band import Band
from planner.output.water.row import Group, Row
from planner.output.water_table import water_rows, water_text
from planner.record.value import Plan
from planner.site.value import Fill, Units
from tests.checks import works
from tests.checks.altered import base, site, source, water

PLANS: dict[str, Callable[[], Plan]] = {
    "example": base,
    "ram": works.ram,
    "stalled": lambda: works.ram(closing=9.0),
    "wet": lambda: works.read("wet"),
    "tank": lambda: works.tank(1.0, stand=3.0),
    "undulating": lambda: works.undulating(100.0),
    "crest": works.crest,
    "pressed": lambda: works.pressed(150.0, size="50 mm"),
    "broken": lambda: works.pressed(150.0, rating=60.0),
}


def group(plan: Plan, title: str) -> dict[str, Row]:
    """The rows of one group by their labels."""
    found = next(one for one in water_rows(plan) if one.title.startswith(title))
    assert len({row.label for row in found.rows}) == len(found.rows)
    return {row.label: row for row in found.rows}


def titles(plan: Plan) -> list[str]:
    return [one.title for one in water_rows(plan)]


def metric(plan: Plan, units: Units = "metric") -> Plan:
    return site(plan, units=units)


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("units", ["metric", "us"])
def test_every_figure_is_known_and_has_its_source(name: str, units: Units) -> None:
    for one in water_rows(metric(PLANS[name](), units)):
        assert one.rows
        for row in one.rows:
            assert row.label
            assert not re.search(r"\bnan\b|\binf\b|None|–$", row.figure), row
            assert row.source or one.title == "Cautions", row


@pytest.mark.parametrize("name", PLANS)
def test_us_units_leave_no_metric_figure(name: str) -> None:
    for one in water_rows(metric(PLANS[name](), "us")):
        for row in one.rows if one.title != "Cautions" else ():
            assert not re.search(r"\d (m|mm|L|bar|kg|cm²|m²|L/day|L/min)\b", row.figure), row


@pytest.mark.parametrize("name", PLANS)
def test_no_pressure_without_its_state(name: str) -> None:
    for one in water_rows(PLANS[name]()):
        for row in one.rows:
            if re.search(r"\((?:\d|,|−|\.)+ bar\)", row.figure) and one.title != "Pipe classes":
                told = f"{row.label} {row.figure}"
                assert re.search("outlet open|outlet closed|surge", told), row


def test_the_worked_ram_reads_as_its_works_say() -> None:
    plan = works.ram()
    ram = plan.water.ram
    assert ram is not None
    beat = group(plan, "Beat")
    assert beat["Valve shuts at"].figure == "0.80 m/s, as given"
    assert beat["Beats"].figure == f"{ram.beat.cycle.beats:.0f} a minute"
    assert beat["Wasted a beat"].figure == f"{ram.beat.cycle.wasted * 1000:.2f} L"
    surge = group(plan, "Surge")
    assert surge["As it beats, surge"].figure == "48.0 m (4.7 bar)"  # twice 24 m
    assert surge["Delivery blocked, surge"].source == "Joukowsky"


def test_a_tuned_valve_is_called_so() -> None:
    assert group(works.ram(tuned=True), "Beat")["Valve shuts at"].figure.endswith("flow there is")


def test_a_stalled_ram_has_no_beats() -> None:
    beat = group(works.ram(closing=9.0), "Beat")
    assert "Beats" not in beat
    assert beat["Amiss"].figure.startswith("stalls open")


def test_ram_sizes_stand_with_their_neighbours() -> None:
    row = group(works.ram(), "Ram to take")["One ram"]
    assert re.search(r"drive pipe \d+ mm \(next smaller \d+ mm, next larger \d+ mm\)", row.figure)
    assert "table of trade yields" in row.source


def test_delivery_pipes_tell_what_each_costs() -> None:
    plan = works.ram()
    ram = plan.water.ram
    assert ram is not None
    assert ram.sizes is not None
    rows = list(group(plan, "Delivery pipe").values())
    assert len(rows) == 3
    assert ["to take" in row.label for row in rows].index(True) == ram.sizes.chosen
    assert ["in the plan" in row.label for row in rows] == [False, True, False]
    for row, pipe in zip(rows, ram.sizes.pipes, strict=True):
        cost = re.search(r"costing ([\d.,]+) L/day", row.figure)
        assert cost is not None
        litres = float(cost.group(1).replace(",", ""))
        assert litres == pytest.approx(pipe.lost * 86_400_000, rel=0.06)


def test_the_start_is_in_words_with_the_fingers_first() -> None:
    start = group(works.ram(), "Starting")
    assert "fingers" in start["Step 1"].figure
    fewest, most = re.findall(r"\d+", start["Strokes by hand"].figure)
    assert int(fewest) <= int(most)


def test_a_wet_reading_is_not_for_design() -> None:
    assert "not for design" in group(works.read("wet"), "Source")["Lowest known flow"].source


def test_fills_by_bucket_and_watch_are_the_reading_s_source() -> None:
    plan = source(flow=None, timings=(Fill(0.01, 20.0), Fill(0.01, 20.0), Fill(0.01, 20.0)))
    assert group(plan, "Source")["Reading"].source == "3 fills, bucket and watch"


def test_the_reading_is_what_was_read_and_not_what_a_season_leaves_of_it() -> None:
    told = replace(source(flow=0.0005), water=replace(base().water, source_flow=0.00025))
    assert group(told, "Source")["Reading"].figure == "30.0 L/min"
    timed = source(flow=None, timings=(Fill(0.01, 20.0),))
    assert group(timed, "Source")["Reading"].figure == "30.0 L/min"


def test_what_stays_in_the_stream_is_a_share_of_the_lowest_flow() -> None:
    row = group(base(), "Source")["Left in the stream"]
    assert row.figure.startswith("30 %")  # 0.35 of 0.5 L/s taken


def test_ratio_counts_friction() -> None:
    plan = water(fall=Band.exact(2.0), lift=Band.exact(19.0), lift_friction=1.0)
    row = group(plan, "Fall and lift")["Lift to fall, friction counted"]
    assert row.figure == "10.0 to 1"


def test_measured_deliveries_replace_the_table() -> None:
    assert group(base(), "Yield")["Delivered"].source == "table of trade yields"
    plan = base()
    powered = replace(plan, scheme="powered")
    assert group(powered, "Yield")["Delivered"].source == "pump curve"


def test_the_recommended_tank_and_its_weight() -> None:
    rows = group(works.tank(None), "Tank, the smallest")
    assert rows["Smallest that serves"].figure == "2,300 L"
    assert rows["Short of water"].figure == "on none of 14 dry days"
    assert rows["Fills, nothing drawn, in"].figure == "23 hours"
    assert rows["Weighs full"].figure == "2,400 kg"
    assert "Given" not in rows


def test_a_tank_on_a_stand_has_its_caution() -> None:
    rows = group(works.tank(1.0, stand=3.0), "Tank, as given")
    assert rows["Given"].figure == "1,000 L"
    assert rows["Short of water"].figure == "on 14 of 14 dry days"
    assert "engineer" in rows["Caution"].figure
    assert rows["Stand to bear"].figure.endswith("kN")


def test_outlets_tell_residual_and_static_head() -> None:
    rows = group(base(), "Outlets")
    assert rows["trough, outlet open"].figure.startswith("1.2 m")
    # The closed level lies the friction, 1.4 m, above the open one at the end: 1.2 + 1.4.
    assert rows["trough, outlet closed"].figure.startswith("2.6 m")


def test_the_least_margin_tells_state_and_place() -> None:
    plan = works.pressed(150.0)
    rows = group(plan, "Pressure")
    least = next(row for label, row in rows.items() if label.endswith("least to spare"))
    assert least.figure.startswith("−50.0 m")
    assert "outlet open, at chainage" in least.figure  # still and running level are drawn as one
    assert least.source.startswith("rating 100.0 m")


def test_classes_are_told_by_stretch_and_standard() -> None:
    plan = works.pressed(150.0, size="50 mm")
    pressure = plan.lines[0].pressure
    assert pressure is not None
    assert pressure.classes is not None
    rows = group(plan, "Pipe classes")
    assert len(rows) >= len(pressure.classes.stretches)
    assert next(iter(rows.values())).source == "ISO 4427"
    us = group(metric(plan, "us"), "Pipe classes")
    assert all(re.search(r"station \d+\+\d\d to station \d+\+\d\d$", label) for label in us)


def test_break_pressure_tanks_have_places() -> None:
    rows = group(works.pressed(150.0, rating=60.0), "Break-pressure")
    assert all(row.figure.startswith("chainage") for row in rows.values())


def test_air_tells_the_start_and_the_vents() -> None:
    plan = works.undulating(100.0)
    rows = list(group(plan, "Air").values())
    assert any("start as it is" in row.figure or "starts as it is" in row.figure for row in rows)
    vents = [row for row in rows if "vent at" in row.label]
    assert plan.lines[0].air is not None
    assert len(vents) == len(plan.lines[0].air.vents) > 0


def test_a_plan_with_nothing_known_leaves_groups_out() -> None:
    assert "Beat" not in titles(base())
    assert "Air" not in titles(base())
    assert titles(base())[-1] == "Cautions"


def test_plain_text_is_aligned_and_keeps_figures_with_their_units() -> None:
    rows = (Row("a", "1 m", "one"), Row("longer", "word " * 13 + "1,000 L/day and more", "two"))
    first, second, third, fourth = water_text((Group("Title", rows),))
    assert first == "Title"
    assert second.index("1 m") == third.index("word") == fourth.index("1,000 L/day")
    assert second.index("one") == third.index("two")


@pytest.mark.parametrize("name", PLANS)
def test_plain_text_holds_every_row_in_order(name: str) -> None:
    groups = water_rows(PLANS[name]())
    text = "\n".join(water_text(groups))
    at = 0
    for one in groups:
        at = text.index(one.title, at)
        for row in one.rows:
            at = text.index(row.label, at)
    assert max(map(len, text.splitlines())) < 200
