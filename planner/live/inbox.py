"""Questions that wait for a worker, and which of them a newer one makes needless."""

from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from threading import Condition
from typing import Any

from planner.live.outcome import Superseded


@dataclass(frozen=True, slots=True)
class Question:
    """A method of what stands in the worker, and its arguments."""

    number: int
    method: str
    args: tuple[Any, ...]


class Inbox:
    """Questions in the order they came, put in by one thread and taken out by another.

    Parameters
    ----------
    gives_way : dict
        By method: the methods of a newer question that make an older one of it needless.
    stop : function, optional
        Called once when the running question becomes needless.
    """

    def __init__(
        self, gives_way: Mapping[str, frozenset[str]], stop: Callable[[], None] = lambda: None
    ) -> None:
        self._gives_way, self._stop = gives_way, stop
        self._waiting: deque[Question] = deque()
        self._running: Question | None = None
        self._needless = False  # the running one
        self._changed = Condition()

    def put(self, question: Question) -> list[int]:
        """Take in a question; returns the numbers of waiting ones that it makes needless."""
        with self._changed:
            needless = [old for old in self._waiting if self._is_needless(old, question)]
            self._waiting = deque(old for old in self._waiting if old not in needless)
            if self._running is not None and self._is_needless(self._running, question):
                self._make_needless()
            self._waiting.append(question)
            self._changed.notify()
            return [old.number for old in needless]

    def drop(self, number: int) -> bool:
        """Take a question back; True if it was still waiting, else it stops when it can."""
        with self._changed:
            left = deque(old for old in self._waiting if old.number != number)
            waited = len(left) < len(self._waiting)
            self._waiting = left
            if self._running is not None and self._running.number == number:
                self._make_needless()
            return waited

    def take(self) -> Question:
        """The next question, which now runs; waits until there is one."""
        with self._changed:
            while not self._waiting:
                self._changed.wait()
            self._running, self._needless = self._waiting.popleft(), False
            return self._running

    def done(self) -> None:
        """The running question is at its end, and nothing stops it any more."""
        with self._changed:
            self._running, self._needless = None, False

    def check(self) -> int:
        """The number of the running question, 0 without one.

        Raises
        ------
        Superseded
            It has become needless.
        """
        with self._changed:
            if self._needless:
                raise Superseded
            return 0 if self._running is None else self._running.number

    def _make_needless(self) -> None:
        if not self._needless:
            self._needless = True
            self._stop()

    def _is_needless(self, old: Question, new: Question) -> bool:
        return new.method in self._gives_way.get(old.method, frozenset())
