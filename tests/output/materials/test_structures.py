"""What stands at the points: ram, tank, chamber, break-pressure tanks; and what the user named."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from planner.hydraulics.break_pressure import BreakPressure
from planner.hydraulics.catalogue import find_pipes
from planner.output.materials.make import materials_of
from planner.output.materials.value import Materials
from planner.record.value import Line, Plan
from planner.record.works import RamWorks
from planner.site.value import LineRole, Ram
from tests.output.materials.hand import PN10, PN16, bare, hand_plan, run_of, straight
from tests.output.worked import worked_plan


def amounts(materials: Materials, start: str) -> dict[str, float]:
    """Amount by place of all items whose code begins so."""
    found: dict[str, float] = {}
    for item in materials.items:
        for use in item.uses if item.article.code.startswith(start) else ():
            found[use.place] = found.get(use.place, 0.0) + use.amount
    return found


def words(materials: Materials, start: str) -> str:
    (found,) = [it.article.words for it in materials.items if it.article.code.startswith(start)]
    return found


def as_role(line: Line, role: LineRole, start: str, end: str) -> Line:
    return replace(line, role=role, name=role, start=start, end=end)


def with_rams(count: int) -> Plan:
    """A drive pipe of 12 m of PN 16 in sticks of 6 m, and so many rams."""
    worked, plan = worked_plan(), hand_plan()
    works = worked.water.ram
    assert isinstance(works, RamWorks)
    option = replace(works.options[0], count=count)
    drive = bare(plan.lines[0], straight(12), (run_of(0.0, 12.0, PN16, piece=6.0),))
    return replace(
        plan,
        lines=(as_role(drive, "drive", "chamber", "ram"),),
        water=replace(plan.water, ram=replace(works, options=(option,))),
    )


def test_a_ram_with_its_pad_spares_and_drive_valve() -> None:
    listed = materials_of(with_rams(1))
    # 12 m and 5 % are 12.6 m: three sticks of 6 m, two sockets between them.
    assert amounts(listed, "pipe-32") == pytest.approx({"drive": 12.6})
    assert [it.quantity for it in listed.items if it.article.group == "pipe"] == [3.0]
    assert amounts(listed, "coupling-32")["drive"] == 2.0
    assert amounts(listed, "drive-valve") == {"drive": 1.0}
    assert amounts(listed, "strainer") == {"drive": 1.0}
    assert amounts(listed, "ram-valve-rubbers") == {"ram": 2.0}
    assert amounts(listed, "concrete") == pytest.approx({"ram": 0.072})
    assert "drive pipe of" in words(listed, "ram-5")


def test_rams_side_by_side_have_a_drive_pipe_each() -> None:
    listed = materials_of(with_rams(2))
    assert amounts(listed, "pipe-32") == pytest.approx({"drive": 25.2})
    assert amounts(listed, "drive-valve") == {"drive": 2.0}
    assert amounts(listed, "coupling-32")["drive"] == 4.0
    assert amounts(listed, "ram-50") == {"ram": 2.0}
    assert amounts(listed, "concrete") == pytest.approx({"ram": 0.144})
    assert amounts(listed, "laying") == pytest.approx({"drive": 24 / 60})


def test_a_home_made_ram_needs_its_air_vessel() -> None:
    plan = with_rams(1)
    made = replace(plan, site=replace(plan.site, ram=Ram(make="home-made")))
    works = plan.water.ram
    assert works is not None
    assert works.options[0].size.bore == 0.05  # the makers' list: 50 mm, 10 L
    assert "10 L or more" in words(materials_of(made), "air-vessel")
    assert amounts(materials_of(plan), "air-vessel") == {}


def test_silt_settles_at_the_source_where_there_is_no_chamber() -> None:
    plan = hand_plan()
    assert amounts(materials_of(plan), "settling-chamber") == {"chamber": 1.0}
    gravity = replace(
        plan,
        scheme="gravity",
        points=tuple(point for point in plan.points if point.role not in ("chamber", "pump")),
    )
    listed = materials_of(gravity)
    assert amounts(listed, "settling-chamber") == {"spring": 1.0}
    assert not any(item.article.group == "ram" for item in listed.items)


def test_a_pump_takes_a_check_valve_and_no_rubbers() -> None:
    listed = materials_of(replace(hand_plan(), scheme="powered"))
    assert amounts(listed, "check-valve") == {"delivery": 1.0}
    assert amounts(listed, "pump") == {"ram": 1.0}
    assert amounts(listed, "ram-valve") == {}


def test_break_pressure_tanks_stand_where_the_plan_has_them() -> None:
    plan = worked_plan()
    line = plan.line("distribution-trough")
    assert line.pressure is not None
    level = np.full(line.profile.run.size, 500.0)
    pressure = replace(line.pressure, tanks=BreakPressure((20, 90), level, None))
    lines = tuple(replace(one, pressure=pressure) if one is line else one for one in plan.lines)
    listed = materials_of(replace(plan, lines=lines))
    assert amounts(listed, "break-pressure") == {"distribution-trough": 2.0}


def test_waste_and_overflow_are_never_shut_and_have_screened_ends() -> None:
    plan = hand_plan()
    waste = bare(plan.lines[0], straight(8), (run_of(0.0, 8.0, PN10),))
    overflow = as_role(waste, "overflow", "tank", "overflow end")
    waste = as_role(waste, "waste", "ram", "waste end")
    listed = materials_of(replace(plan, lines=(waste, overflow)))
    assert amounts(listed, "end-screen") == {"waste": 1.0, "overflow": 1.0}
    assert not any("valve-full" in item.article.code for item in listed.items)
    assert amounts(listed, "union") == {}
    assert amounts(listed, "wall-fitting") == {"waste": 1.0, "overflow": 1.0}
    assert amounts(listed, "overflow-bend") == {"tank": 1.0}


@pytest.mark.parametrize(
    ("named", "start", "amount"),
    [
        (("gate valve", 3), "gate-valve", 2.0),  # one is the line's own
        (("gate valve", 1), "gate-valve", 0.0),
        (("elbow", 2), "elbow-90", 2.0),
        (("swing check", 1), "check-valve-swing", 1.0),
        (("tee branch", 2), "tee-32", 2.0),
        (("entrance", 1), "entrance", 0.0),
    ],
)
def test_fittings_the_user_named(named: tuple[str, int], start: str, amount: float) -> None:
    plan = hand_plan()
    delivery, tap = plan.lines
    pipe = replace(delivery.settings.pipe, fittings=(named,))
    said = replace(delivery, settings=replace(delivery.settings, pipe=pipe))
    listed = materials_of(replace(plan, lines=(said, tap)))
    assert amounts(listed, start).get("delivery", 0.0) == amount


def test_a_reducer_where_the_size_changes() -> None:
    plan = hand_plan()
    wide = find_pipes("40 mm", standard="ISO 4427", pressure_class="PN 10")[0]
    runs = (run_of(0.0, 180.0, wide), run_of(180.0, 300.0, PN10))
    listed = materials_of(replace(plan, lines=(replace(plan.lines[0], runs=runs),)))
    assert amounts(listed, "reducing-coupling-40-mm") == {"delivery": 1.0}
    assert amounts(listed, "coupling-40")["delivery"] == 1.0  # 189 m: two coils
    assert amounts(listed, "coupling-32")["delivery"] == 1.0  # 128.5 m: two coils


@pytest.mark.parametrize("make", [hand_plan, worked_plan])
def test_the_order_says_why_of_every_number(make: Callable[[], Plan]) -> None:
    for item in materials_of(make()).items:
        if item.article.kind != "tool":
            assert all(use.why for use in item.uses), item.article.words
