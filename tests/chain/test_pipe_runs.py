"""What a line is made of: classes in turn, or the nearest pipe that is made, in pieces."""

from dataclasses import replace

import pytest

from planner.chain.pipe_runs import MOST_CARRIED, pipe_runs
from planner.hydraulics.catalogue import catalogue, find_pipes
from planner.hydraulics.classes import ClassedLine, ClassedStretch
from planner.record.value import Line
from tests.checks import works
from tests.checks.altered import base


def _bored(bore: float, rating: float = 60.0, name: str = "delivery") -> Line:
    line = base().line(name)
    pipe = replace(line.settings.pipe, bore=bore, rating=rating)
    return replace(line, settings=replace(line.settings, pipe=pipe))


def test_a_bore_alone_takes_the_nearest_pipe_that_bears_enough() -> None:
    # ASTM D2239, 1 in: inside 26.64 mm; 100 m of water is 142 psi, so the 160 psi class.
    (run,) = pipe_runs(_bored(0.0266, rating=100.0), (), 10.0)
    assert (run.start_m, run.end_m) == (0.0, base().line("delivery").profile.length)
    assert not run.named
    assert run.label == "26.6 mm bore"
    assert run.pipe.material == "PE"
    assert abs(run.pipe.bore / 0.0266 - 1.0) < 0.03
    assert run.pipe.rating >= 100.0
    weaker = [
        row
        for row in catalogue()
        if row.standard == run.pipe.standard and row.nominal == run.pipe.nominal
    ]
    assert all(row.rating >= run.pipe.rating or row.rating < 100.0 for row in weaker)


def test_a_bore_is_told_in_the_units_of_the_site() -> None:
    (run,) = pipe_runs(_bored(0.0266), (), 10.0, "us")
    assert run.label == "1.05 in bore"


def test_a_drive_pipe_is_rigid_and_comes_in_sticks() -> None:
    (run,) = pipe_runs(_bored(0.0525, name="drive"), (), 10.0)
    assert (run.pipe.material, run.form) == ("steel", "stick")


def test_a_named_size_is_the_strongest_of_those_it_can_mean() -> None:
    offered = find_pipes("1 in", standard="ASTM D2239")
    (run,) = pipe_runs(base().line("supply"), offered, 10.0)
    assert run.named
    assert run.pipe == offered[-1]
    assert run.label.startswith("1 in ASTM D2239")


def test_classes_lie_in_turn_from_end_to_end() -> None:
    weak, strong = find_pipes("1 in", standard="ASTM D2239")[:2]
    line = works.pressed(40.0).lines[0]
    length = line.profile.length
    assert line.pressure is not None
    classes = ClassedLine(
        (ClassedStretch(0.0, 40.0, strong, 90.0), ClassedStretch(40.0, length, weak, 40.0)),
        mass=1.0,
        mass_spared=0.0,
        too_weak=(),
    )
    runs = pipe_runs(replace(line, pressure=replace(line.pressure, classes=classes)), (), 10.0)
    assert [(run.start_m, run.end_m, run.pipe) for run in runs] == [
        (0.0, 40.0, strong),
        (40.0, length, weak),
    ]


@pytest.mark.parametrize("row", catalogue()[::7], ids=lambda row: f"{row.standard} {row.nominal}")
def test_a_piece_is_the_longest_that_two_can_carry(row: object) -> None:
    (run,) = pipe_runs(base().line("supply"), (row,), 10.0)  # type: ignore[arg-type]
    usual = sorted(run.pipe.lengths)
    if usual:
        light = [length for length in usual if length * run.pipe.mass <= MOST_CARRIED]
        assert run.piece == (light[-1] if light else usual[0])


def test_joints_stand_a_piece_apart_and_leave_no_stub() -> None:
    (run,) = pipe_runs(_bored(0.0525, name="drive"), (), 10.0)
    whole = replace(run, start_m=0.0, end_m=18.05, piece=6.0)
    assert whole.joints == (6.0, 12.0)  # the last five centimetres are made up
    assert replace(whole, end_m=18.2).joints == (6.0, 12.0, 18.0)
    assert replace(whole, end_m=5.0).joints == ()
