"""What is remembered from plan to plan: forgotten in order, never half-made."""

from functools import partial

import numpy as np
import pytest

from planner.chain.held import MOST, Held
from planner.terrain.value import Terrain


class Broken(Exception):
    """Raised by what is being made."""


def test_what_was_made_under_a_key_is_not_made_again() -> None:
    held, made = Held(), []

    def make() -> list[int]:
        made.append(1)
        return [len(made)]

    first = held.recall("way", ("a", 1.0), make)
    assert held.recall("way", ("a", 1.0), make) is first
    assert held.recall("way", ("a", 2.0), make) is not first
    assert held.recall("chamber", ("a", 1.0), make) == [3]
    held.forget("way", ("a", 1.0))
    assert held.recall("way", ("a", 1.0), make) == [4]


def test_nothing_is_kept_of_what_could_not_be_made() -> None:
    held = Held()

    def fail() -> int:
        raise Broken

    with pytest.raises(Broken):
        held.recall("streams", 1, fail)
    assert held.recall("streams", 1, lambda: 7) == 7


def test_a_result_of_none_is_remembered_too() -> None:
    held, made = Held(), []
    for _ in range(3):
        assert held.recall("chamber", "nowhere", lambda: made.append(1)) is None
    assert len(made) == 1


def test_the_least_lately_used_is_forgotten_first() -> None:
    held = Held()
    for key in range(MOST["lands"]):
        held.recall("lands", key, partial(int, key))
    held.recall("lands", 0, lambda: -1)  # used again
    held.recall("lands", "new", lambda: 100)
    assert held.recall("lands", 0, lambda: -1) == 0
    assert held.recall("lands", 1, lambda: -1) == -1


def test_like_terrains_have_numbers_of_their_own_that_are_never_used_again() -> None:
    held = Held()
    flat = [Terrain.from_array(np.zeros((3, 4)), 1.0) for _ in range(40)]
    numbers = [held.number(one) for one in flat]
    assert len(set(numbers)) == len(flat)
    assert held.number(flat[-1]) == numbers[-1]
    assert held.number(flat[0]) not in numbers  # long forgotten, and counted anew
