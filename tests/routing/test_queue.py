"""The queue of buckets: keys come out in order, whatever their range, every entry once."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numba import njit

from planner.routing.queue_kernel import LEFT, OPEN, advance, make_queue, pop, push, with_room


@njit
def drained(first, later):
    """Push the first keys, then with each key that comes out push it plus one of the later."""
    queue = with_room(make_queue(), first.size)
    for i in range(first.size):
        push(queue, first[i], i)
    total, count, pushed = first.size + later.size, 0, 0
    keys, nodes = np.empty(total, np.int64), np.empty(total, np.int64)
    while advance(queue):
        node = pop(queue)
        while node >= 0:
            keys[count], nodes[count] = queue.state[OPEN], node
            count += 1
            if pushed < later.size:
                queue = with_room(queue, 1)
                push(queue, queue.state[OPEN] + later[pushed], first.size + pushed)
                pushed += 1
            node = pop(queue)
    return keys[:count], nodes[:count], queue.state[LEFT], queue.node.size


keys = st.one_of(st.integers(0, 200), st.integers(0, 10**6), st.integers(0, 2**50))


@settings(max_examples=200, deadline=None)
@given(st.lists(keys, min_size=1), st.lists(keys))
def test_keys_come_out_in_order_and_every_entry_once(first, later):
    later = [key + 1 for key in later]
    out, nodes, left, size = drained(np.array(first), np.array(later, dtype=np.int64))
    assert np.all(np.diff(out) >= 0)
    assert sorted(nodes) == list(range(len(first) + len(later)))
    assert left == size - 1
    for node, key in zip(nodes, out, strict=True):
        if node < len(first):
            assert key == first[node]


def test_it_grows():
    first = np.random.default_rng(1).integers(0, 1000, 20_000)
    out, _, left, size = drained(first, np.ones(0, np.int64))
    assert np.array_equal(out, np.sort(first))
    assert left == size - 1 >= first.size
