"""Questions that wait, and those made needless."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.live.inbox import Inbox, Question
from planner.live.outcome import Superseded

GIVES_WAY = {"answer": frozenset({"answer"}), "refine": frozenset({"answer", "refine"})}
METHODS = ("answer", "refine", "levels")


def question(number: int, method: str) -> Question:
    return Question(number, method, ())


def test_questions_are_taken_in_the_order_they_came() -> None:
    inbox = Inbox(GIVES_WAY)
    assert inbox.put(question(1, "levels")) == []
    assert inbox.put(question(2, "levels")) == []
    assert [inbox.take().number, inbox.take().number] == [1, 2]


def test_a_newer_answer_makes_the_waiting_one_needless() -> None:
    inbox = Inbox(GIVES_WAY)
    inbox.put(question(1, "answer"))
    inbox.put(question(2, "levels"))
    assert inbox.put(question(3, "answer")) == [1]
    assert [inbox.take().number, inbox.take().number] == [2, 3]


def test_a_running_one_is_told_when_it_next_says_something() -> None:
    inbox = Inbox(GIVES_WAY)
    inbox.put(question(1, "refine"))
    inbox.take()
    assert inbox.check() == 1
    assert inbox.put(question(2, "levels")) == []
    assert inbox.check() == 1
    assert inbox.put(question(3, "answer")) == []  # it is not waiting any more
    with pytest.raises(Superseded):
        inbox.check()


def test_what_follows_a_stopped_one_is_not_stopped() -> None:
    inbox = Inbox(GIVES_WAY)
    inbox.put(question(1, "answer"))
    inbox.take()
    inbox.put(question(2, "answer"))
    inbox.done()
    assert inbox.check() == 0
    assert inbox.take().number == 2
    assert inbox.check() == 2


def test_the_running_one_is_stopped_once() -> None:
    stops: list[None] = []
    inbox = Inbox(GIVES_WAY, lambda: stops.append(None))
    inbox.put(question(1, "answer"))
    inbox.put(question(2, "answer"))
    assert stops == []  # the first was still waiting
    inbox.take()
    for number in (3, 4):
        inbox.put(question(number, "answer"))
    inbox.drop(2)
    assert len(stops) == 1


def test_a_question_taken_back_is_gone_or_stops() -> None:
    inbox = Inbox(GIVES_WAY)
    for number in (1, 2):
        inbox.put(question(number, "levels"))
    inbox.take()
    assert inbox.drop(2)
    assert not inbox.drop(1)
    with pytest.raises(Superseded):
        inbox.check()


def test_dropping_what_was_never_asked_changes_nothing() -> None:
    inbox = Inbox(GIVES_WAY)
    inbox.put(question(1, "levels"))
    assert not inbox.drop(7)
    assert inbox.take().number == 1


@given(st.lists(st.sampled_from(METHODS), max_size=20))
def test_every_question_is_either_needless_or_taken_and_one_answer_waits(
    methods: list[str],
) -> None:
    inbox = Inbox(GIVES_WAY)
    needless = [
        old for number, method in enumerate(methods) for old in inbox.put(question(number, method))
    ]
    taken = [inbox.take() for _ in range(len(methods) - len(needless))]
    assert sorted([*needless, *(one.number for one in taken)]) == list(range(len(methods)))
    assert [one.number for one in taken] == sorted(one.number for one in taken)
    assert sum(one.method == "answer" for one in taken) == min(methods.count("answer"), 1)
    assert sum(one.method == "levels" for one in taken) == methods.count("levels")
