"""The tank: days it runs short, the smallest that serves, its weight."""

from planner.wording.findings import sentence
from tests.checks.altered import base, found
from tests.checks.works import tank


def test_a_tank_too_small_is_told_with_the_one_that_serves() -> None:
    # 2.4 m³ come evenly and are drawn in one hour: 2.3 m³ must be there.
    (small,) = found(tank(2.2), "tank-too-small")
    assert small.level == "warn"
    assert sentence(small, "metric").message.startswith(
        "A tank of 2,200 L runs empty on 14 of 14 dry days"
    )
    assert sentence(small, "metric").remedy == "Use a tank of 2,300 L or more."
    assert small.at == base().point("tank").xy
    assert found(tank(2.4), "tank-too-small") == []


def test_the_smallest_is_told_where_none_is_named() -> None:
    (note,) = found(tank(None), "tank-smallest")
    assert note.level == "note"
    assert abs(float(note.values["smallest_m3"]) - 2.3) < 1e-9
    assert found(tank(3.0), "tank-smallest") == []


def test_no_tank_makes_up_for_too_little_water() -> None:
    for volume in (None, 1.0):
        plan = tank(volume, need=2.5)
        assert found(plan, "tank-too-small") == []
        assert found(plan, "tank-smallest") == []
        assert [one.values["case"] for one in found(plan, "yield-below-need")] == ["far"]
    assert found(tank(None, need=2.5), "tank-load") == []


def test_weight_and_time_to_fill() -> None:
    # 3 m³ and 5 % of shell: 3.15 t; 3 m³ at 2.4 m³ a day: 30 hours.
    (note,) = found(tank(3.0), "tank-load")
    assert note.level == "note"
    assert sentence(note, "metric").message == (
        "Full, a tank of 3,000 L weighs 3,100 kg; it takes 30 hours to fill, nothing drawn."
    )
    assert "6,900 lb" in sentence(note, "us").message


def test_a_stand_is_an_engineers_work() -> None:
    assert [one.level for one in found(tank(0.9, stand=0.9), "tank-load")] == ["note"]
    for volume, stand in ((0.9, 1.1), (1.1, 0.5)):
        (warning,) = found(tank(volume, stand=stand), "tank-load")
        assert warning.level == "warn"
        assert warning.values["stand_m"] == stand
