"""Least squares on readings: what textbooks compute by hand, and planted blunders."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.levels.adjust import adjust, alone, judge, misfit
from planner.levels.network import Network, network
from planner.levels.value import Difference, Known, Readings, Row


def net_of(*legs: tuple[str, str, float, float]) -> Network:
    return network(
        Readings(
            tuple(
                Difference(start, end, rise, error, "level", Row("book.csv", line))
                for line, (start, end, rise, error) in enumerate(legs, start=2)
            )
        )
    )


def rise(net: Network, level: np.ndarray, start: str, end: str) -> float:
    return float(level[net.names.index(end)] - level[net.names.index(start)])


def test_two_readings_make_their_weighted_mean() -> None:
    """Weights are inverse squares of the errors: (4 x 1.00 + 1 x 1.05) / 5."""
    net = net_of(("A", "B", 1.00, 0.01), ("A", "B", 1.05, 0.02))
    free = adjust(net, alone(net))
    assert rise(net, free.level, "A", "B") == pytest.approx(1.01)
    variance = net.variance_of(free.covariance)
    assert variance == pytest.approx(1.0 / (1.0 / 0.01**2 + 1.0 / 0.02**2))


def test_a_loop_misclosure_is_spread_by_length() -> None:
    """Where variances grow with the length of sights, each leg of a loop takes the share of the
    misclosure that its length is of the whole (Ghilani, Adjustment computations, 6th ed., ch. 12;
    Mahun, Elevations, chapter E, "proportional distribution"). Lengths 100, 200, 300 and 400 m,
    misclosure 20 mm.
    """
    lengths = (100.0, 200.0, 300.0, 400.0)
    read = (2.504, -1.211, 3.017, -4.290)
    error = [0.0015 * math.sqrt(length / 60.0) for length in lengths]
    net = net_of(*zip("ABCD", "BCDA", read, error, strict=True))
    free = adjust(net, alone(net))
    fixed = net.above(free.level)
    assert sum(read) == pytest.approx(0.020)
    assert fixed.sum() == pytest.approx(0.0, abs=1e-12)
    assert np.array(read) - fixed == pytest.approx([0.002, 0.004, 0.006, 0.008])


def test_a_mark_reached_from_two_sides_is_their_mean_by_weight() -> None:
    """Levels of 10.000 and 12.000 known exactly but for a millimetre, one point between them."""
    knowns = tuple(
        Known(name, level, 0.001, Row("known.csv", line))
        for line, (name, level) in enumerate({"A": 10.0, "B": 12.0}.items(), start=2)
    )
    legs = (
        Difference("A", "P", 0.830, 0.010, "hose", Row("hose.csv", 2)),
        Difference("P", "B", 1.200, 0.020, "hose", Row("hose.csv", 3)),
    )
    net = network(Readings(legs, knowns))
    free = adjust(net, alone(net))
    mean = (10.830 / 0.000101 + 10.800 / 0.000401) / (1 / 0.000101 + 1 / 0.000401)
    datum = free.level[net.names.index("\0known.csv")]
    assert free.level[net.names.index("P")] - datum == pytest.approx(mean, abs=1e-5)


def test_what_no_other_reading_holds_is_not_judged() -> None:
    net = net_of(("A", "B", 1.0, 0.003), ("B", "C", 2.0, 0.003), ("X", "Y", 9.0, 0.003))
    test = judge(net, adjust(net, alone(net)))
    assert np.all(np.isnan(test.size))
    assert np.all(test.w == 0.0)
    square, spare = misfit(net, adjust(net, alone(net)))
    assert square == pytest.approx(0.0, abs=1e-12)
    assert spare == 0


@given(st.integers(0, 200), st.integers(0, 11), st.sampled_from([-0.3, 0.2, 1.0]))
def test_a_planted_blunder_is_found_and_measured(seed: int, where: int, blunder: float) -> None:
    rng = np.random.default_rng(seed)
    level = rng.normal(0.0, 5.0, 6)
    pairs = [(i, (i + step) % 6) for step in (1, 2) for i in range(6)]
    read = [level[j] - level[i] + rng.normal(0.0, 0.004) for i, j in pairs]
    read[where] += blunder
    net = net_of(*((f"S{i}", f"S{j}", r, 0.004) for (i, j), r in zip(pairs, read, strict=True)))
    test = judge(net, adjust(net, alone(net)))
    assert int(np.argmax(np.abs(test.w))) == where
    assert test.size[where] == pytest.approx(blunder, abs=0.03)


def test_w_is_a_standard_normal_deviate_when_nothing_is_wrong() -> None:
    rng = np.random.default_rng(8)
    found, square = [], []
    for _ in range(300):
        legs = [("A", "B"), ("B", "C"), ("C", "D"), ("D", "A"), ("A", "C"), ("A", "C")]
        errors = [0.003, 0.01, 0.004, 0.02, 0.1, 0.005]
        net = net_of(
            *((a, b, rng.normal(0.0, e), e) for (a, b), e in zip(legs, errors, strict=True))
        )
        free = adjust(net, alone(net))
        found.append(judge(net, free).w)
        square.append(misfit(net, free)[0])
    assert np.std(found, axis=0) == pytest.approx(1.0, abs=0.12)
    assert np.mean(square) == pytest.approx(3.0, abs=0.4)  # six readings, three unknown rises


@given(st.integers(0, 200))
def test_the_order_of_readings_does_not_matter(seed: int) -> None:
    rng = np.random.default_rng(seed)
    legs = [
        (f"S{i}", f"S{j}", float(rng.normal(0.0, 2.0)), float(rng.uniform(0.002, 2.0)))
        for i in range(5)
        for j in range(i + 1, 5)
    ]
    mixed = [legs[i] for i in rng.permutation(len(legs))]
    one, other = net_of(*legs), net_of(*mixed)
    levels = [adjust(net, alone(net)).level for net in (one, other)]
    for name in one.names:
        assert rise(one, levels[0], "S0", name) == pytest.approx(
            rise(other, levels[1], "S0", name), abs=1e-8
        )
