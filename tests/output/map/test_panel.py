"""The water beside the plan: beats, tank, vents, and pressures that say their state."""

from dataclasses import replace

import numpy as np
import pytest

from planner.output.map.make import make_map
from planner.output.map.panel import section_facts, water_figures
from planner.units.show import show
from tests.checks import works
from tests.example import example_plan
from tests.output.worked import worked_plan


def test_beats_tank_and_vents_join_the_figures() -> None:
    worked = worked_plan()
    plan = replace(worked, water=replace(worked.water, need=1.0))
    figures = dict(water_figures(plan))
    assert plan.water.ram is not None
    assert figures["Beats a minute"] == f"{plan.water.ram.beat.cycle.beats:.0f}"
    assert figures["Tank for 14 dry days"] == "2,300 L"
    assert figures["Vents"] == "1 standpipe"


def test_no_tank_is_offered_for_water_that_does_not_come() -> None:
    plan = worked_plan()
    dry = replace(plan, water=replace(plan.water, need=99.0))
    assert not any(label.startswith("Tank") for label, _ in water_figures(dry))


def test_without_works_nothing_is_claimed() -> None:
    labels = [label for label, _ in water_figures(example_plan())]
    assert not {"Beats a minute", "Vents"} & set(labels)
    assert not any(label.startswith("Tank") for label in labels)


def test_a_ram_that_stalls_has_no_beats() -> None:
    assert dict(water_figures(works.ram(closing=9.0)))["Beats a minute"] == "none: it stalls"


def test_a_tank_nobody_needs_is_left_out() -> None:
    plan = worked_plan()
    assert plan.water.tank is not None
    tank = replace(plan.water.tank, smallest=np.nan)
    without = replace(plan, water=replace(plan.water, tank=tank))
    assert not any(label.startswith("Tank") for label, _ in water_figures(without))


def test_section_facts_hold_both_states_of_the_outlet() -> None:
    plan = worked_plan()
    line = plan.line("distribution-trough")
    assert line.water is not None
    still = show(float(np.max(line.water.closed_level - line.profile.pipe)), "head", "metric")
    facts = section_facts(plan)
    assert facts["distribution-trough"].endswith(f"outlet open, {still} outlet closed")
    assert "outlet" not in facts["supply"]  # it runs part full


@pytest.mark.parametrize("vented", [True, False])
def test_a_vent_has_a_stem_and_its_kind_on_the_page(vented: bool) -> None:
    html = make_map(worked_plan() if vented else example_plan()).get_root().render()
    assert ("0.62 m, standpipe" in html) is vented
    assert ("vent on a high point" in html) is vented
    assert ("l7 -7 7 7M0 -16V-2" in html) is vented
