"""The queue of labels against a heap of the standard library."""

import heapq

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.routing.label_kernel import (
    SIZE,
    fill,
    free_label,
    from_heap,
    make_labels,
    make_queue,
    new_label,
    open_next,
    piece_of,
    put,
    to_heap,
)
from planner.routing.piece_kernel import Piece

NOTHING = Piece(0, 0.0, 0.0, 0)


def take(queue, labels):
    """As the search does: the open bucket's heap, or else the next bucket's."""
    while queue.mark[SIZE] == 0:
        label = open_next(queue)
        if label == 0:
            return 0
        while label != 0:
            following = labels.next[label]
            to_heap(queue, label, labels.cost[label])
            label = following
    return from_heap(queue)


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.one_of(st.none(), st.floats(0.0, 50.0)), min_size=1, max_size=80),
    st.sampled_from([1e-6, 0.3, 7.0, 1e4]),
)
def test_labels_come_in_the_order_of_cost_whatever_the_width(work, width):
    """None takes a label; a number puts one that costs so much more than the last one taken."""
    labels, queue = make_labels(200), make_queue(200, width)
    twin: list[float] = []
    now = 0.0
    for more in [*work, *[None] * len(work)]:
        if more is not None:
            label = new_label(labels)
            fill(labels, label, now + more, 0, NOTHING, 0)
            put(queue, labels, label, now + more)
            heapq.heappush(twin, now + more)
        else:
            label = take(queue, labels)
            if label == 0:
                assert not twin
            else:
                now = labels.cost[label]
                assert now == heapq.heappop(twin)


def test_a_label_out_of_order_by_rounding_still_comes_first():
    labels, queue = make_labels(10), make_queue(10, 0.5)
    for cost in (3.0, 4.0):
        label = new_label(labels)
        fill(labels, label, cost, 0, NOTHING, 0)
        put(queue, labels, label, cost)
    assert labels.cost[take(queue, labels)] == 3.0
    label = new_label(labels)
    fill(labels, label, 2.0, 0, NOTHING, 0)
    put(queue, labels, label, 2.0)
    assert labels.cost[take(queue, labels)] == 2.0
    assert labels.cost[take(queue, labels)] == 4.0


def test_labels_given_back_are_used_again_and_there_is_an_end_to_them():
    labels = make_labels(4)
    made = [new_label(labels) for _ in range(3)]
    assert made == [1, 2, 3]
    assert new_label(labels) == 0
    free_label(labels, 2)
    free_label(labels, 1)
    assert [new_label(labels) for _ in range(3)] == [1, 2, 0]


def test_a_label_holds_its_piece():
    labels = make_labels(4)
    piece = Piece(1, 2.5, 0.25, 7)
    fill(labels, 1, 10.0, 6, piece, 0)
    assert piece_of(labels, 1) == piece
    assert labels.state[1] == 13
    fill(labels, 2, 10.0, 6, Piece(0, 2.5, 0.0, 0), 1)
    assert piece_of(labels, 2).climb == pytest.approx(0.0)
    assert np.asarray(labels.parent)[2] == 1
