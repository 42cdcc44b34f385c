"""Words take turns: none stands on another, nor outside its part of the sheet."""

from itertools import combinations

import numpy as np
from hypothesis import given, settings
from hypothesis.strategies import floats, lists, sampled_from, tuples
from matplotlib.figure import Figure

from planner.output.sheets.ink import drawing
from planner.output.sheets.paper import Box
from planner.output.sheets.taken import Spot, Taken, extent, put

PART = Box(0.0, 0.0, 100.0, 60.0)
places = tuples(floats(0, 100), floats(0, 60), sampled_from([0.0, 90.0, 37.0]))


@settings(deadline=None, max_examples=40)
@given(lists(places, min_size=1, max_size=25))
def test_words_that_were_written_share_no_paper(spots: list[tuple[float, float, float]]) -> None:
    taken = Taken(PART)
    with drawing():
        axes = Figure().add_axes((0.0, 0.0, 1.0, 1.0))
        written = [put(axes, taken, "412.50", [Spot(*spot)]) for spot in spots]
    kept = [extent("412.50", spot, 7.0) for spot in written if spot is not None]
    assert len(kept) == len(axes.texts)
    assert all(PART.holds(box) for box in kept)
    assert not any(one.overlaps(other) for one, other in combinations(kept, 2))


def test_a_word_goes_beside_a_pipe_where_it_may_and_onto_it_where_it_must() -> None:
    taken = Taken(PART)
    taken.stroke(np.array([[0.0, 30.0], [100.0, 30.0]]))
    with drawing():
        axes = Figure().add_axes((0.0, 0.0, 1.0, 1.0))
        assert put(axes, taken, "Tank", [Spot(50.0, 30.0), Spot(50.0, 40.0)]) == Spot(50.0, 40.0)
        assert put(axes, taken, "Ram", [Spot(20.0, 30.0)]) == Spot(20.0, 30.0)
        taken.harden()
        assert put(axes, taken, "Weir", [Spot(80.0, 30.0)]) is None
