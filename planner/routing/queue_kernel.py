"""Compiled: a queue of cells by whole-number keys, for searches whose keys never go back.

A bucket is a key. Cells of one bucket come out in no particular order, which is exact where no cell
can bring another into the open bucket: with keys floor(cost / width) and a width of no more than
the least cost of a move, or with keys by level and a width of no more than the least rise of one.
So there is no heap and no sorting, and a cell is entered again when its key falls, not moved.

Buckets lie on levels of 64: level 0 holds the keys that differ from the open one in the last digit
alone (of base 64), level 1 those that differ in the last but one, and so on. A bucket of a higher
level is dealt out to the lower ones when its turn comes. Any range of keys costs a few steps a
cell, and empty stretches are skipped. (Denardo and Fox, Operations Research 27, 1979: buckets of a
width up to the least arc, and levels of them.)
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

DIGIT = 6  # bits
BASE = 1 << DIGIT
LEVELS = 10  # 60 bits
ROOM = 4096  # entries to begin with
OPEN, FREE, LEFT = 0, 1, 2  # the open key, the first free entry, how many are free


class Queue(NamedTuple):
    """Buckets as linked lists of entries; entry 0 is none (it holds cell 0, and leads to itself).

    A search may look ahead: the cell to come after the next is `node[onward[first[open bucket]]]`.

    Attributes
    ----------
    first : (LEVELS * BASE,)
        First entry of each bucket.
    state : (3,)
        The open key, the first free entry and the number of free entries.
    node, key, onward : (room,)
        Of each entry: cell, key, next entry of its bucket.
    """

    first: NDArray[np.int64]
    state: NDArray[np.int64]
    node: NDArray[np.int64]
    key: NDArray[np.int64]
    onward: NDArray[np.int64]


@njit(cache=True)
def make_queue() -> Queue:
    """An empty queue that begins at key 0."""
    queue = Queue(
        np.zeros(LEVELS * BASE, np.int64),
        np.zeros(3, np.int64),
        np.zeros(ROOM, np.int64),
        np.zeros(ROOM, np.int64),
        np.zeros(ROOM, np.int64),
    )
    _free(queue, 1)
    return queue


@njit(cache=True)
def with_room(queue: Queue, entries: int) -> Queue:
    """The queue, with room for so many more entries."""
    while queue.state[LEFT] < entries:
        size = queue.node.size
        more = Queue(
            queue.first,
            queue.state,
            np.empty(2 * size, np.int64),
            np.empty(2 * size, np.int64),
            np.empty(2 * size, np.int64),
        )
        more.node[:size], more.key[:size] = queue.node, queue.key
        more.onward[:size] = queue.onward
        _free(more, size)
        queue = more
    return queue


@njit(cache=True)
def _free(queue: Queue, begin: int) -> None:
    """Chain all entries from `begin` on to the free ones."""
    for e in range(begin, queue.onward.size):
        queue.onward[e] = e + 1
    queue.onward[-1] = queue.state[FREE]
    queue.state[FREE] = begin
    queue.state[LEFT] += queue.onward.size - begin


@njit(cache=True)
def bucket_of(opened: int, key: int) -> int:
    """The bucket of a key while another, not above it, is open."""
    apart = opened ^ key
    level = 0
    while apart >= BASE:
        apart >>= DIGIT
        level += 1
    return level * BASE + ((key >> (DIGIT * level)) & (BASE - 1))


@njit(cache=True)
def push(queue: Queue, key: int, node: int) -> None:
    """Enter a cell; the key is not below the open one, and there is room (`with_room`)."""
    state = queue.state
    e = state[FREE]
    state[FREE] = queue.onward[e]
    state[LEFT] -= 1
    queue.node[e], queue.key[e] = node, key
    bucket = bucket_of(state[OPEN], key)
    queue.onward[e] = queue.first[bucket]
    queue.first[bucket] = e


@njit(cache=True)
def pop(queue: Queue) -> int:
    """Take a cell out of the open bucket; -1 when there is none left."""
    state = queue.state
    bucket = state[OPEN] & (BASE - 1)
    e = queue.first[bucket]
    if e == 0:
        return -1
    queue.first[bucket] = queue.onward[e]
    queue.onward[e] = state[FREE]
    state[FREE] = e
    state[LEFT] += 1
    return int(queue.node[e])


@njit(cache=True)
def advance(queue: Queue) -> bool:
    """Open the next bucket that holds an entry, the present one if it does; False: empty."""
    while True:
        opened = queue.state[OPEN]
        bucket = -1
        for level in range(LEVELS):
            shift = DIGIT * level
            digit = (opened >> shift) & (BASE - 1)
            for d in range(digit if level == 0 else digit + 1, BASE):
                if queue.first[level * BASE + d] != 0:
                    bucket = level * BASE + d
                    break
            if bucket >= 0:
                break
        if bucket < 0:
            return False
        shift = DIGIT * (bucket // BASE)
        above = (opened >> (shift + DIGIT)) << (shift + DIGIT)
        queue.state[OPEN] = above | ((bucket % BASE) << shift)
        if bucket < BASE:
            return True
        _deal(queue, bucket)


@njit(cache=True)
def _deal(queue: Queue, bucket: int) -> None:
    """Spread the entries of a bucket over the levels below it; its least key is opened."""
    first = queue.first[bucket]
    queue.first[bucket] = 0
    least, e = queue.key[first], first
    while e != 0:
        least = min(least, queue.key[e])
        e = queue.onward[e]
    queue.state[OPEN] = least
    e = first
    while e != 0:
        onward = queue.onward[e]
        lower = bucket_of(least, queue.key[e])
        queue.onward[e] = queue.first[lower]
        queue.first[lower] = e
        e = onward
