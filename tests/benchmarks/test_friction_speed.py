"""Friction of many pipes at once, against a general library: prints a ratio, asserts no time."""

import time
from collections.abc import Callable

import fluids.vectorized
import numpy as np
import pytest

from planner.hydraulics import friction_loss
from planner.hydraulics.friction import churchill

POINTS = 200_000


def best_of(runs: int, call: Callable[[], object]) -> float:
    """Shortest time of several runs [s]."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.mark.benchmark
def test_ratio_to_fluids_vectorized(capsys: pytest.CaptureFixture[str]) -> None:
    reynolds = np.geomspace(10.0, 1e6, POINTS)
    relative = np.full(POINTS, 1e-4)
    vectorized = fluids.vectorized.Churchill_1977  # type: ignore[attr-defined] # made as it loads
    theirs = vectorized(reynolds, relative)
    np.testing.assert_allclose(churchill(reynolds, relative), theirs, rtol=1e-12)
    ours = best_of(5, lambda: churchill(reynolds, relative))
    other = best_of(3, lambda: vectorized(reynolds, relative))
    flow = np.linspace(0.0, 2e-3, 1_000_000)
    million = best_of(3, lambda: friction_loss(flow, 0.026, 100.0))
    with capsys.disabled():
        print(  # noqa: T201 - the figure is the test's purpose
            f"\nChurchill, {POINTS} points: fluids.vectorized {other:.3f} s, ours {ours:.4f} s, "
            f"ratio {other / ours:.1f}; friction_loss, 1e6 points: {million:.3f} s"
        )
