"""What is built is not asked for again."""

import pytest

from planner.record.value import Plan
from planner.record.works import AsBuilt, BuiltMark
from tests.checks.altered import base, found, line


def _built(what: str, off: float) -> Plan:
    """The delivery as built, with something noted so far from its high or low point."""
    own = base().line("delivery")
    place = own.high_points[0] if "valve" in what else own.low_points[0]
    mark = BuiltMark(place.chainage_m + off, (0.0, 0.0), 0.5, what, "", "")
    return line("delivery", built=AsBuilt(None, (mark,), (), ""), walked=True)


@pytest.mark.parametrize(
    ("what", "code"), [("Air valve in a box", "air-trap"), ("washout", "sag-wont-drain")]
)
def test_a_fitting_noted_near_its_place_is_not_asked_for_again(what: str, code: str) -> None:
    plain = [f for f in found(base(), code) if f.line == "delivery"]
    assert plain
    assert [f for f in found(_built(what, 3.0), code) if f.line == "delivery"] == []
    assert [f for f in found(_built(what, 30.0), code) if f.line == "delivery"] == plain


def test_a_vent_is_no_washout() -> None:
    own = base().line("delivery")
    low = own.low_points[0]
    mark = BuiltMark(low.chainage_m, (0.0, 0.0), 0.5, "air valve", "", "")
    plan = line("delivery", built=AsBuilt(None, (mark,), (), ""))
    assert [f.line for f in found(plan, "sag-wont-drain")].count("delivery") == 1
