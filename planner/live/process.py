"""`Worker`: a process of its own that answers questions, from the side of the server."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import count
from typing import Any

from planner.live.answer import failure, gone, too_slow
from planner.live.child import Child
from planner.live.frames import Frame
from planner.live.outcome import Fault, Lost, Superseded

__all__ = ["Fault", "Lost", "Superseded", "Worker"]

DESK = "planner.live.desk:Desk"
MEMORY = 12 << 30  # bytes of address space

Say = Callable[[str], None]
Outcome = asyncio.Future[Any]


@dataclass(frozen=True, slots=True, eq=False)
class _Run:
    """One process, from its start until it is gone."""

    child: asyncio.Task[Child]
    ready: Outcome
    asked: dict[int, tuple[Outcome, Say | None]] = field(default_factory=dict)


class Worker:
    """A process in which something stands that is asked by method and arguments.

    Questions are answered in their turn; of those that a newer one makes needless (`GIVES_WAY` of
    what stands there) `Superseded` is raised, and so it is after `cancel`. The process is started
    by the first question or by `start`. If it ends by itself, what was asked of it is `Lost`, and
    the next question starts another.

    Parameters
    ----------
    desk : str
        What stands in the process, as "package.module:Name".
    memory : int
        Bytes of address space it may have.
    say : function, optional
        Told what is done between questions: the start, a process that was lost.
    """

    def __init__(
        self, desk: str = DESK, *, memory: int = MEMORY, say: Say = lambda _: None
    ) -> None:
        self._desk, self._memory, self._say = desk, memory, say
        self._run: _Run | None = None
        self._numbers = count(1)
        self._readers: set[asyncio.Task[None]] = set()

    async def start(self) -> None:
        """Start the process, unless it runs, and wait until it is ready to answer.

        Raises
        ------
        HeadfallError
            It ended before.
        """
        await asyncio.shield(self._begun().ready)

    async def ask(
        self,
        method: str,
        *args: Any,
        timeout: float | None = None,
        say: Say | None = None,
    ) -> Any:
        """Ask for a method with arguments, all of which can be pickled.

        Parameters
        ----------
        timeout : float, optional
            Seconds until the process is ended, waiting in turn included.
        say : function, optional
            Told what is being done for this question.

        Raises
        ------
        Superseded
            A newer question made this one needless.
        HeadfallError
            What the method raised; `Fault` and `Lost` where it was not the user's doing.
        """
        run, number = self._begun(), next(self._numbers)
        answer: Outcome = _outcome()
        run.asked[number] = answer, say
        try:
            async with asyncio.timeout(timeout):
                child = await asyncio.shield(run.child)
                await child.send(("ask", number, (method, args)))
                return await answer
        except TimeoutError as error:
            self._end(run, Superseded())
            raise too_slow(timeout or 0.0) from error
        except asyncio.CancelledError:
            await _take_back(run, number)
            raise
        finally:
            del run.asked[number]

    def cancel(self) -> None:
        """End the process whatever it does, and start another; what was asked is superseded."""
        self.close()
        self._begun()

    def close(self) -> None:
        """End the process; what was asked is superseded."""
        if self._run is not None:
            self._end(self._run, Superseded())

    async def wait_closed(self) -> None:
        """Wait until the processes that were ended are gone."""
        while self._readers:
            await asyncio.wait(self._readers)

    def _begun(self) -> _Run:
        """The process that runs, or a new one."""
        if self._run is None:
            child = asyncio.create_task(self._start())
            self._run = _Run(child, _outcome())
            reader = asyncio.create_task(self._read(self._run))
            self._readers.add(reader)
            reader.add_done_callback(self._readers.discard)
        return self._run

    async def _start(self) -> Child:
        try:
            return await Child.start(self._desk, memory=self._memory)
        except OSError as error:
            msg = f"no further process can be started on this machine ({error.strerror})"
            raise Lost(msg) from error

    async def _read(self, run: _Run) -> None:
        """Hand on what a process tells until it is let go or ends, then bury it."""
        try:
            child = await run.child
        except Lost as error:
            self._end(run, error)
            return
        try:
            while run is self._run and (frame := await child.receive()) is not None:
                self._hear(run, frame)
            if run is self._run:
                self._lost(run)
        finally:
            await child.end()

    def _hear(self, run: _Run, frame: Frame) -> None:
        kind, number, said = frame
        answer, say = run.asked.get(number, (None, None))
        if kind == "said":
            if say is not None:
                say(said)
            elif number == 0:
                self._say(said)
        elif kind == "ready":
            run.ready.set_result(None)
        elif number == 0:  # what should stand there can't be made
            self._end(run, failure(kind, said, self._memory))
        elif answer is not None and not answer.done():
            if kind == "answer":
                answer.set_result(said)
            else:
                answer.set_exception(failure(kind, said, self._memory))

    def _lost(self, run: _Run) -> None:
        """A process ended by itself: another stands ready for what comes, unless none ever was."""
        was_ready = run.ready.done()
        self._end(run, gone(self._memory))
        if was_ready:
            self._say("the work was lost; it begins anew")
            self._begun()

    def _end(self, run: _Run, why: Exception) -> None:
        """Let a process go: it is killed, and those who wait for it are told why."""
        if run is self._run:
            self._run = None
        if run.child.done() and run.child.exception() is None:
            run.child.result().kill()
        for outcome in (run.ready, *(answer for answer, _ in run.asked.values())):
            if not outcome.done():
                outcome.set_exception(why)


def _outcome() -> Outcome:
    """A future of which nobody need take the exception."""
    future: Outcome = asyncio.get_running_loop().create_future()
    future.add_done_callback(lambda done: done.cancelled() or done.exception())
    return future


async def _take_back(run: _Run, number: int) -> None:
    if run.child.done():
        await run.child.result().send(("drop", number, None))
