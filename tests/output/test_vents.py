"""Vents in a word or two."""

from dataclasses import replace

import pytest

from planner.hydraulics.vents import Vent, VentKind
from planner.output.vents import vents_in_all, vents_of
from planner.record.value import Line
from planner.record.works import LineAir, PlacedVent
from tests.example import example_plan


def vented(*kinds: VentKind | None) -> Line:
    placed = tuple(
        PlacedVent(number, 10.0 * number, None if kind is None else Vent(kind, 2.0, by_hand=False))
        for number, kind in enumerate(kinds)
    )
    return replace(example_plan().lines[2], air=LineAir((), None, placed, enough=True))


def test_each_vent_stands_at_its_sample_and_none_where_none_must_be() -> None:
    assert vents_of(vented("standpipe", None, "hand-cock")) == {0: "standpipe", 2: "hand cock"}


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ([vented("air-valve")], "1 air valve"),
        ([vented("air-valve", "standpipe"), vented("air-valve")], "2 air valves, 1 standpipe"),
        ([vented(None)], None),
        ([], None),
    ],
)
def test_vents_are_counted_by_kind(lines: list[Line], told: str | None) -> None:
    assert vents_in_all(lines) == told
