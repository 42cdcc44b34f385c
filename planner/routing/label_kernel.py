"""Compiled: labels, and the queue that hands them out in the order of their cost.

A search with more than cost to mind keeps labels: ways to one state that no other way beats in all
respects. They are taken in the order of cost so far plus a lower bound of the cost to come. The
queue sorts them roughly into buckets of that sum (R. B. Dial, Algorithm 360, CACM 12, 1969); only
the labels of the bucket that is open stand in a binary heap, so the heap stays small and near. A
label that falls into the open bucket, or by rounding before it, joins the heap, and the last bucket
takes all that lie beyond it: the order is exact whatever the width of the buckets.

Arrays are as large as they may ever grow, but `numpy.empty` and `numpy.zeros` map their pages when
they are first written: what is never used costs nothing. Label 0 is "none".
"""

from typing import NamedTuple

import numpy as np

from planner.routing.edge_kernel import FloatArray, IntArray
from planner.routing.lean import lean
from planner.routing.piece_kernel import Int32Array, Piece

BUCKETS = 1 << 21
OPEN, SIZE, LAST = 0, 1, 2  # in `Queue.mark`
MADE, FREE = 0, 1  # in `Labels.mark`
# One label fills half a cache line.
LABEL = np.dtype(
    [
        ("cost", np.float64),
        ("level", np.float64),
        ("state", np.int32),
        ("parent", np.int32),
        ("next", np.int32),
        ("stack", np.int32),
    ]
)


class Labels(NamedTuple):
    """All labels of a search, views of one interleaved array.

    Attributes
    ----------
    cost, level : (n,)
        Cost so far; the level that decides what is still possible.
    state : (n,) int32
        Twice the cell, plus the mode.
    parent : (n,) int32
        The label this one came from; negative where it turned in the same cell.
    next : (n,) int32
        The next label of the same list: of a bucket, of those settled in one state, or free.
    stack : (n,) int32
        Digging that is not settled yet (`planner.routing.piece_kernel`).
    climb : (n,)
        Least grade times the length of the piece so far [m]; only where there is a stack.
    mark : (2,) int64
        Labels made, and the first of those free again.
    """

    cost: FloatArray
    level: FloatArray
    state: Int32Array
    parent: Int32Array
    next: Int32Array
    stack: Int32Array
    climb: FloatArray
    mark: IntArray


class Queue(NamedTuple):
    """Labels that wait.

    Attributes
    ----------
    bucket : (BUCKETS,) int32
        First label of each bucket.
    key, label : (n,), (n,) int32
        Heap of the open bucket, least key first.
    mark : (3,) int64
        The open bucket, the size of the heap, the last bucket in use.
    base, width : (1,), float
        Key at which bucket 0 begins; width of a bucket.
    """

    bucket: Int32Array
    key: FloatArray
    label: Int32Array
    mark: IntArray
    base: FloatArray
    width: float


def make_labels(most: int) -> Labels:
    """Room for so many labels."""
    label = np.empty(most, LABEL)
    return Labels(
        label["cost"],
        label["level"],
        label["state"],
        label["parent"],
        label["next"],
        label["stack"],
        np.empty(most),
        np.array([1, 0]),
    )


def without_spare(labels: Labels) -> Labels:
    """The same labels in no more memory than they take, to be kept."""
    made = int(labels.mark[MADE])
    kept = make_labels(made)
    for name in ("cost", "level", "state", "parent", "next", "stack", "climb"):
        getattr(kept, name)[:] = getattr(labels, name)[:made]
    kept.mark[:] = labels.mark
    return kept


def make_queue(most: int, width: float) -> Queue:
    """A queue that may hold so many labels."""
    bucket = np.zeros(BUCKETS, np.int32)
    heap = np.empty(most), np.empty(most, np.int32)
    return Queue(bucket, *heap, np.zeros(3, np.int64), np.zeros(1), width)


@lean
def new_label(labels: Labels) -> int:
    """Index of a label to fill; 0 when there is no room left."""
    label = labels.mark[FREE]
    if label > 0:
        labels.mark[FREE] = labels.next[label]
        return int(label)
    label = labels.mark[MADE]
    if label >= labels.cost.size:
        return 0
    labels.mark[MADE] = label + 1
    return int(label)


@lean
def free_label(labels: Labels, label: int) -> None:
    """Give back a label that no other refers to."""
    labels.next[label] = labels.mark[FREE]
    labels.mark[FREE] = label


@lean
def fill(labels: Labels, label: int, cost: float, node: int, piece: Piece, parent: int) -> None:
    """Write a label."""
    labels.cost[label], labels.level[label] = cost, piece.level
    labels.state[label], labels.parent[label] = 2 * node + piece.mode, parent
    labels.stack[label] = piece.stack
    if piece.stack > 0:
        labels.climb[label] = piece.climb


@lean
def piece_of(labels: Labels, label: int) -> Piece:
    """The piece of a label."""
    stack = int(labels.stack[label] + 0)  # no longer of 32 bits
    return Piece(
        int(labels.state[label] & 1),
        labels.level[label],
        labels.climb[label] if stack > 0 else 0.0,
        stack,
    )


@lean
def put(queue: Queue, labels: Labels, label: int, key: float) -> None:
    """Let a label wait for its turn."""
    at = min(int((key - queue.base[0]) / queue.width), BUCKETS - 1)
    if at <= queue.mark[OPEN]:
        to_heap(queue, label, key)
        return
    labels.next[label] = queue.bucket[at]
    queue.bucket[at] = label
    queue.mark[LAST] = max(queue.mark[LAST], at)


@lean
def open_next(queue: Queue) -> int:
    """Open the next bucket that holds labels, and return the first of its list; 0 at the end."""
    for at in range(queue.mark[OPEN] + 1, queue.mark[LAST] + 1):
        if queue.bucket[at] != 0:
            queue.mark[OPEN] = at
            first = queue.bucket[at]
            queue.bucket[at] = 0
            return int(first)
    return 0


@lean
def to_heap(queue: Queue, label: int, key: float) -> None:
    """Add a label to the heap."""
    keys, heap = queue.key, queue.label
    at = queue.mark[SIZE]
    queue.mark[SIZE] = at + 1
    while at > 0:
        above = (at - 1) >> 1
        if keys[above] <= key:
            break
        keys[at], heap[at] = keys[above], heap[above]
        at = above
    keys[at], heap[at] = key, label


@lean
def from_heap(queue: Queue) -> int:
    """Take the label of least key off the heap, which must hold one."""
    keys, heap = queue.key, queue.label
    first = heap[0]
    size = queue.mark[SIZE] - 1
    queue.mark[SIZE] = size
    key, label = keys[size], heap[size]
    at, below = 0, 1
    while below < size:
        if below + 1 < size and keys[below + 1] < keys[below]:
            below += 1
        if keys[below] >= key:
            break
        keys[at], heap[at] = keys[below], heap[below]
        at, below = below, 2 * below + 1
    keys[at], heap[at] = key, label
    return int(first)
