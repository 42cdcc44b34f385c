"""A line in parts: they join, they fit the paper, and they meet where a mark stands."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis.strategies import floats, sampled_from

from planner.output.sheets.content import SheetContent
from planner.output.sheets.paper import PaperName
from planner.output.sheets.reach import reaches
from planner.output.sheets.spread import spread
from planner.output.sheets.write import sheet_contents
from planner.profile.value import Profile
from tests.output.sheets.winding import winding_plan


def _straight(length: float, slope: float) -> Profile:
    run = np.linspace(0.0, length, 401)
    xy = np.column_stack([run, np.zeros(run.size)])
    pipe = slope * run
    return Profile(xy, run, run * np.hypot(1.0, slope), pipe + 0.5, pipe, np.zeros(401, bool))


@settings(deadline=None)
@given(floats(20, 6000), floats(-0.8, 0.8), sampled_from([500, 1000, 2500]))
def test_parts_join_and_fit(length: float, slope: float, scale: int) -> None:
    profile = _straight(length, slope)
    parts = reaches(profile, scale, 230.0, 10.0)
    assert (parts[0].start, parts[-1].end) == (0.0, length)
    for one, following in pairwise(parts):
        assert one.end == following.start
        chainage = float(np.interp(one.end, profile.run, profile.chainage))
        assert chainage / 10.0 == pytest.approx(round(chainage / 10.0), abs=1e-6)
    assert max(part.length for part in parts) * 1000.0 / scale <= 230.0 + 1e-6


def _parts(paper: PaperName) -> tuple[SheetContent, ...]:
    (content,) = sheet_contents(winding_plan())
    return spread(content, paper)


def test_a_larger_paper_takes_fewer_sheets_at_a_legible_scale() -> None:
    small, large = _parts("A4"), _parts("A3")
    assert len(small) > len(large) > 1
    for part in (*small, *large):
        assert part.scales is not None
        assert 500 <= part.scales.horizontal <= 2500
        assert part.scales.exaggeration >= 1.0
