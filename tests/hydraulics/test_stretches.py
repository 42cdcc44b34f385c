"""Lines of several bores: what the parts say, the whole must say."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pipe_flow
from planner.hydraulics.stretches import Stretch, line_flow, line_grade, line_loss

FLOWS = st.floats(1e-6, 3e-3)
STRETCHES = st.builds(
    Stretch, st.floats(1.0, 800.0), st.floats(0.012, 0.1), st.floats(0, 2e-4), st.floats(0, 20)
)
LINES = st.lists(STRETCHES, min_size=1, max_size=5)


def test_one_stretch_is_one_pipe() -> None:
    one = [Stretch(300.0, 0.0204)]
    assert line_loss(2e-4, one) == friction_loss(2e-4, 0.0204, 300.0)
    assert line_flow(5.0, one) == pytest.approx(pipe_flow(5.0, 0.0204, 300.0), rel=1e-9)


def test_two_stretches_by_hand() -> None:
    # Laminar: h = 128 nu L q / (pi g D^4), nu 1.0034e-6 at 20 °C. 5e-6 m³/s through 100 m of 20 mm
    # (Reynolds 317) lose 0.01303 m, through 50 m of 10 mm (634) 0.10422 m.
    loss = line_loss(5e-6, [Stretch(100.0, 0.020, 0.0), Stretch(50.0, 0.010, 0.0)])
    assert loss == pytest.approx(0.11725, rel=1e-3)


@given(FLOWS, STRETCHES, st.floats(0.05, 0.95))
def test_splitting_a_stretch_changes_nothing(flow: float, whole: Stretch, at: float) -> None:
    parts = [
        Stretch(whole.length * share, whole.bore, whole.roughness, whole.minor * share)
        for share in (at, 1.0 - at)
    ]
    assert line_loss(flow, parts) == pytest.approx(line_loss(flow, [whole]), rel=1e-9)
    assert line_flow(4.0, parts) == pytest.approx(line_flow(4.0, [whole]), rel=1e-9)


@given(FLOWS, LINES)
def test_order_does_not_matter_to_the_whole(flow: float, line: list[Stretch]) -> None:
    assert line_loss(flow, line[::-1]) == pytest.approx(line_loss(flow, line), rel=1e-12)


@given(FLOWS, LINES, st.floats(1.0, 2.0), st.integers(0, 4))
def test_a_wider_stretch_never_loses_more(
    flow: float, line: list[Stretch], wider: float, which: int
) -> None:
    k = which % len(line)
    old = line[k]
    better = [*line]
    better[k] = Stretch(old.length, old.bore * wider, old.roughness, old.minor)
    assert line_loss(flow, better) <= np.asarray(line_loss(flow, line)) * (1 + 1e-9)


@given(st.floats(0.01, 200.0), LINES, st.floats(0.0, 40.0))
def test_flow_spends_exactly_the_head(head: float, line: list[Stretch], warmth: float) -> None:
    flow = line_flow(head, line, warmth)
    assume(flow < 100.0)
    assert line_loss(flow, line, warmth) == pytest.approx(head, rel=1e-6)


@given(st.floats(0.01, 100.0), st.floats(1.0, 3.0), LINES)
def test_more_head_or_less_line_never_carries_less(
    head: float, more: float, line: list[Stretch]
) -> None:
    flow = line_flow(head, line)
    assert line_flow(head * more, line) >= flow * (1 - 1e-9)
    assert line_flow(head, [*line, Stretch(10.0, 0.03)]) <= flow * (1 + 1e-9)


@given(FLOWS, LINES)
def test_grade_line_falls_by_the_loss_and_stretch_by_stretch(
    flow: float, line: list[Stretch]
) -> None:
    ends = np.cumsum([0.0, *(s.length for s in line)])
    grade = line_grade(flow, line, 500.0, ends)
    assert grade[0] == 500.0
    assert 500.0 - grade[-1] == pytest.approx(line_loss(flow, line), rel=1e-9, abs=1e-9)
    for k, part in enumerate(line):
        assert grade[k] - grade[k + 1] == pytest.approx(line_loss(flow, [part]), abs=1e-9)
    middle = line_grade(flow, line, 500.0, (ends[:-1] + ends[1:]) / 2.0)
    np.testing.assert_allclose(middle, (grade[:-1] + grade[1:]) / 2.0, atol=1e-9)


def test_flows_may_be_an_array() -> None:
    line = [Stretch(100.0, 0.02), Stretch(50.0, 0.03, minor=3.0)]
    many = np.asarray(line_loss([[0.0, 1e-4], [2e-4, 3e-4]], line))
    assert many.shape == (2, 2)
    assert many[0, 0] == 0.0
    assert many[1, 0] == line_loss(2e-4, line)
    assert isinstance(line_loss(1e-4, line), float)


def test_no_head_drives_nothing() -> None:
    assert line_flow(0.0, [Stretch(10.0, 0.02)]) == 0.0
    assert line_flow(-3.0, [Stretch(10.0, 0.02)]) == 0.0


def test_refuses_by_name() -> None:
    line = [Stretch(100.0, 0.02)]
    with pytest.raises(OutsideRange, match="stretches must hold at least one"):
        line_loss(1e-4, [])
    with pytest.raises(OutsideRange, match="stretches must hold at least one"):
        line_flow(1.0, [])
    with pytest.raises(OutsideRange, match="flow must be"):
        line_loss(-1e-4, line)
    with pytest.raises(OutsideRange, match=r"head must be .* got nan"):
        line_flow(np.nan, line)
    with pytest.raises(OutsideRange, match=r"chainage must be .* got 100.5 at index 1"):
        line_grade(1e-4, line, 500.0, [0.0, 100.5])
    with pytest.raises(OutsideRange, match="start_level must be"):
        line_grade(1e-4, line, np.inf, [0.0])
    assert line_grade(1e-4, line, 500.0, [100.0005]).shape == (1,)


@pytest.mark.parametrize(
    ("length", "bore", "roughness", "minor", "words"),
    [
        (0.0, 0.02, 0.0, 0.0, "length must be above 0"),
        (10.0, np.nan, 0.0, 0.0, "bore must be above 0 and at most 10, got nan"),
        (10.0, 0.02, 0.02, 0.0, "roughness must be 0 or more and at most 0.01, got 0.02"),
        (10.0, 0.02, 0.0, -1.0, "minor must be 0 or more"),
    ],
)
def test_a_stretch_is_refused_by_name(
    length: float, bore: float, roughness: float, minor: float, words: str
) -> None:
    with pytest.raises(OutsideRange, match=words):
        Stretch(length, bore, roughness, minor)
