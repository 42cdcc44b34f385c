"""Classes along a line: against brute force, and against what can be said by hand."""

from collections.abc import Sequence
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import InputError, OutsideRange
from planner.hydraulics.catalogue import find_pipes
from planner.hydraulics.classes import (
    ClassedLine,
    choose_classes,
    laid_stretches,
    needed_along,
)
from planner.hydraulics.pipe import CataloguePipe
from planner.hydraulics.stretches import line_loss

PE = find_pipes("32 mm", standard="ISO 4427")  # PN 10, 12.5, 16, 20, 25
NEEDS = st.lists(st.floats(0.0, 250.0), min_size=2, max_size=7)


def classes(line: ClassedLine) -> list[tuple[float, float, str]]:
    return [(round(p.start, 2), round(p.end, 2), p.pipe.pressure_class) for p in line.stretches]


def bears(s: np.ndarray, need: np.ndarray, line: ClassedLine) -> bool:
    """Whether every point of a fine walk lies in pipe that bears it, to 2 cm."""
    walk = np.linspace(s[0], s[-1], 2001)
    joints = np.array([p.start for p in line.stretches])
    part = np.searchsorted(joints, walk, side="right") - 1
    rating = np.array([p.pipe.rating for p in line.stretches])[part]
    return bool(np.all(np.interp(walk, s, need) <= rating + 0.02))


def cost(line: ClassedLine, change: float, heaviest: float) -> float:
    return line.mass + change * heaviest * (len(line.stretches) - 1)


def brute_force(
    s: np.ndarray, need: np.ndarray, pipes: Sequence[CataloguePipe], least: float, change: float
) -> float:
    """Least cost over all choices of up to four stretches with ends on a grid of places."""
    ladder = sorted(pipes, key=lambda p: p.rating)
    crossings = [
        a + (b - a) * (p.rating - x) / (y - x)
        for p in ladder
        for (a, x), (b, y) in pairwise(zip(s, need, strict=True))
        if (x - p.rating) * (y - p.rating) < 0
    ]
    grid = np.unique([*np.linspace(s[0], s[-1], 9), *crossings])

    def lightest(a: float, b: float) -> CataloguePipe:
        inside = need[(s >= a) & (s <= b)]
        worst = max([*inside, *np.interp([a, b], s, need)])
        return next(p for p in ladder if p.rating >= worst - 1e-9)

    heaviest = lightest(s[0], s[-1]).mass
    best = np.inf
    for joints in range(4):
        for inner in combinations(grid[1:-1], joints):
            ends = (s[0], *inner, s[-1])
            if joints and min(np.diff(ends)) < least:
                continue
            mass = sum((b - a) * lightest(a, b).mass for a, b in pairwise(ends))
            best = min(best, mass + joints * change * heaviest)
    return float(best)


@settings(max_examples=40, deadline=None)
@given(NEEDS, st.sampled_from([0.0, 20.0, 60.0]), st.sampled_from([0.0, 5.0, 40.0]))
def test_never_dearer_than_brute_force(needs: list[float], least: float, change: float) -> None:
    need = np.array(needs)
    s = np.linspace(0.0, 200.0, need.size)
    line = choose_classes(s, need, PE, least_stretch=least, change_length=change)
    assert bears(s, need, line)
    heaviest = max(p.pipe.mass for p in line.stretches)
    assert cost(line, change, heaviest) <= brute_force(s, need, PE, least, change) + 0.01


@given(NEEDS, st.floats(0.0, 90.0), st.floats(0.0, 50.0), st.floats(0.0, 60.0))
def test_what_is_promised_of_every_line(
    needs: list[float], least: float, change: float, warmth: float
) -> None:
    need = np.array(needs) * 0.5  # what PN 25 still bears at 60 °C
    s = 30.0 + np.linspace(0.0, 150.0, need.size)
    line = choose_classes(
        s, need, PE, least_stretch=least, change_length=change, temperature=warmth
    )
    starts, ends = zip(*((p.start, p.end) for p in line.stretches), strict=True)
    assert starts[0] == 30.0
    assert ends[-1] == 180.0
    assert starts[1:] == ends[:-1]
    if len(starts) > 1:
        assert min(b - a for a, b in zip(starts, ends, strict=True)) > least - 0.01
    assert all(a.pipe != b.pipe for a, b in pairwise(line.stretches))
    assert line.mass_spared >= -1e-6
    assert line.too_weak == ()
    for part in line.stretches:
        assert part.needed <= part.pipe.rating + 0.02


def test_a_steady_fall_steps_up_where_each_class_ends() -> None:
    # Need 0 to 200 m over 1 km: PN 10 to 500 m, PN 12.5 to 625, PN 16 to 800, PN 20 to the end.
    line = choose_classes([0.0, 1000.0], [0.0, 200.0], PE)
    assert classes(line) == [
        (0.0, 500.0, "PN 10"),
        (500.0, 625.0, "PN 12.5"),
        (625.0, 800.0, "PN 16"),
        (800.0, 1000.0, "PN 20"),
    ]
    by_class = {p.pressure_class: p.mass for p in PE}
    by_hand = (
        500 * by_class["PN 10"]
        + 125 * by_class["PN 12.5"]
        + 175 * by_class["PN 16"]
        + 200 * by_class["PN 20"]
    )
    assert line.mass == pytest.approx(by_hand)
    assert line.mass_spared == pytest.approx(1000 * by_class["PN 20"] - by_hand)
    assert [p.needed for p in line.stretches] == pytest.approx([100, 125, 160, 200])


def test_a_short_deep_sag_gets_a_whole_coil_around_it() -> None:
    s = [0.0, 95.0, 100.0, 105.0, 300.0]
    line = choose_classes(s, [50.0, 50.0, 150.0, 50.0, 50.0], PE, least_stretch=50.0)
    weak, strong, after = line.stretches
    assert strong.pipe.pressure_class == "PN 16"
    assert weak.pipe.pressure_class == after.pipe.pressure_class == "PN 10"
    assert strong.end - strong.start == pytest.approx(50.0, abs=0.01)
    assert strong.start <= 97.5
    assert strong.end >= 102.5


def test_a_change_that_saves_too_little_is_not_made() -> None:
    s, need = [0.0, 100.0], [0.0, 110.0]  # 91 m of PN 10, 9 m of PN 12.5
    assert len(choose_classes(s, need, PE, least_stretch=0.0).stretches) == 2
    assert len(choose_classes(s, need, PE, least_stretch=0.0, change_length=50.0).stretches) == 1
    assert len(choose_classes(s, need, PE, least_stretch=60.0).stretches) == 1


def test_a_line_shorter_than_a_coil_is_one_stretch() -> None:
    assert classes(choose_classes([0.0, 20.0], [0.0, 180.0], PE)) == [(0.0, 20.0, "PN 20")]


def test_warm_pipe_must_be_stronger() -> None:
    cool = choose_classes([0.0, 100.0], [90.0, 90.0], PE)
    sun = choose_classes([0.0, 100.0], [90.0, 90.0], PE, temperature=50.0)
    assert classes(cool) == [(0.0, 100.0, "PN 10")]
    assert classes(sun) == [(0.0, 100.0, "PN 16")]  # 160 x 0.67 = 107; 125 x 0.67 = 84


def test_pressure_no_pipe_bears_is_told_with_its_place() -> None:
    line = choose_classes([0.0, 100.0, 300.0, 400.0], [200.0, 300.0, 300.0, 200.0], PE)
    (span,) = line.too_weak
    assert span == pytest.approx((50.0, 350.0), abs=0.1)
    assert max(p.pipe.rating for p in line.stretches) == 250.0
    assert max(p.needed for p in line.stretches) == 300.0


def test_a_pipe_weaker_and_heavier_than_another_is_never_chosen() -> None:
    # ID-controlled PE of three grades: 160 psi is SIDR 7, 9 or 11.5, the last the lightest.
    mixed = find_pipes("1 in", standard="D2239")
    line = choose_classes([0.0, 100.0], [110.0, 110.0], mixed)
    (part,) = line.stretches
    assert (part.pipe.grade, part.pipe.series) == ("PE4710", "SIDR 11.5")


def test_need_is_the_higher_of_closed_and_working() -> None:
    # A gravity line stands highest closed, a ram's delivery highest running. By hand, PE: 60 and
    # 62 m standing; with 45 m of daily surge (60 + 45) / 1.5 = 70.
    gravity = needed_along([440.0], [500.0], [480.0], 45.0, 0.0, "PE")
    delivery = needed_along([440.0], [500.0], [502.0], 0.0, 0.0, "PE")
    assert gravity.tolist() == [70.0]
    assert delivery.tolist() == [62.0]


def test_the_chosen_line_has_a_loss() -> None:
    line = choose_classes([0.0, 1000.0], [0.0, 200.0], PE)
    laid = laid_stretches(line)
    assert sum(part.length for part in laid) == pytest.approx(1000.0)
    assert line_loss(2e-4, laid) > line_loss(2e-4, laid[:1])


def test_a_ragged_profile_is_quick_enough() -> None:
    rng = np.random.default_rng(5)
    s = np.arange(3000.0)
    need = 125.0 + 60.0 * np.sin(s / 40.0) + rng.normal(0.0, 3.0, s.size)
    line = choose_classes(s, need, PE)
    assert bears(s, need, line)
    assert len(line.stretches) < 100


def test_refuses_by_name() -> None:
    steel = find_pipes("1 in", standard="A53")
    with pytest.raises(InputError, match="pipes of one material, got no pipe"):
        choose_classes([0.0, 1.0], [0.0, 1.0], [])
    with pytest.raises(InputError, match="pipes of one material, got PE and steel"):
        choose_classes([0.0, 1.0], [0.0, 1.0], [*PE, *steel])
    with pytest.raises(OutsideRange, match="chainage must be at least two rising"):
        choose_classes([1.0, 0.0], [0.0, 1.0], PE)
    with pytest.raises(OutsideRange, match="with one rating needed for each"):
        choose_classes([0.0, 1.0], [0.0], PE)
    with pytest.raises(OutsideRange, match=r"needed must be .* got nan at index 1"):
        choose_classes([0.0, 1.0], [0.0, np.nan], PE)
    with pytest.raises(OutsideRange, match="least_stretch must be 0 or more"):
        choose_classes([0.0, 1.0], [0.0, 1.0], PE, least_stretch=-1.0)
    with pytest.raises(OutsideRange, match="change_length must be 0 or more"):
        choose_classes([0.0, 1.0], [0.0, 1.0], PE, change_length=np.nan)
