"""`Answers`: asks the workers what the newest draft comes to, and tells each answer as it comes."""

import asyncio
import tomllib
from collections.abc import Coroutine
from contextlib import suppress
from typing import Any, Protocol

from planner.errors import HeadfallError
from planner.live.process import Lost, Superseded, Worker
from planner.live.value import FollowView, GroundView, PlanView
from planner.site.draft import Draft


class Told(Protocol):
    """Who is told; nothing here may raise."""

    def ground_is(self, view: GroundView, picture: bytes) -> None:
        """The ground was read."""

    def plan_is(self, view: PlanView, sections: dict[str, dict[str, str]]) -> None:
        """A draft was planned; the sections of its lines by format."""

    def busy_with(self, words: str) -> None:
        """What is being done, "" for nothing."""

    def failed(self, message: str) -> None:
        """A draft can't be planned."""


class Answers:
    """Two workers: one plans, one follows a drag meanwhile.

    Parameters
    ----------
    told : Told
    """

    def __init__(self, told: Told) -> None:
        self.planner = Worker(say=told.busy_with)
        self.follower = Worker()
        self._told = told
        self._newest = -1
        self._wanted: tuple[Draft, int] | None = None
        self._ground: str | None = None
        self._name = ""  # of the ground shown
        self._reading = asyncio.Lock()
        self._tasks: set[asyncio.Task[None]] = set()

    def want(self, draft: Draft, revision: int) -> None:
        """Plan this draft; what is still asked of older ones is dropped."""
        self._newest, self._wanted = revision, (draft, revision)
        self._begin(self._answer(draft, revision))

    async def follow(
        self, draft: Draft, name: str, xy: tuple[float, float], line: str
    ) -> tuple[FollowView, dict[str, str]]:
        """The lines with a point of the newest draft somewhere else, and the section of one."""
        found = await self.follower.ask("follow", draft, name, xy, line)
        return found["view"], found["sections"]

    def ready(self, draft: Draft, name: str) -> None:
        """Have the follower prepare for a point that may soon be dragged."""
        self._begin(self._unless_needless(self.follower.ask("ready", draft, name)))

    async def ask(self, method: str, *args: Any) -> Any:
        """Something of the planner, in its turn.

        Raises
        ------
        HeadfallError
            What it can't answer; after `Lost` the newest draft is planned anew.
        """
        try:
            return await self.planner.ask(method, *args)
        except Lost:
            if self._wanted is not None:
                self.want(*self._wanted)
            raise

    def begin(self) -> None:
        """Start the planner: its routines are prepared while the start screen is read."""
        self._begin(self._unless_needless(self._prepare()))

    def cancel(self) -> None:
        """Stop what takes long; the next draft is planned by a new process."""
        self._newest = -1
        self._ground = None
        self.planner.cancel()
        self._told.busy_with("")

    async def close(self) -> None:
        """End both workers, and wait until they are gone."""
        for task in self._tasks:
            task.cancel()
        self.planner.close()
        self.follower.close()
        await self.planner.wait_closed()
        await self.follower.wait_closed()

    def _begin(self, work: Coroutine[Any, Any, None]) -> None:
        task = asyncio.create_task(work)
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _prepare(self) -> None:
        await self.planner.start()
        if self._wanted is None:
            self._told.busy_with("")

    async def _answer(self, draft: Draft, revision: int) -> None:
        try:
            await self._read_ground(draft)
            for method in ("answer", "refine"):
                if revision != self._newest:
                    return
                view = await self.planner.ask(method, draft, revision, say=self._told.busy_with)
                if view.get("ground", self._name) != self._name:
                    await self._show_ground(draft)
                names = [line["name"] for line in view["lines"]]
                sections = await self.planner.ask("sections", names) if names else {}
                if revision != self._newest:
                    return
                self._told.plan_is(view, sections)
                if view["state"] != "plan":
                    break
                if method == "answer":
                    told = await self.planner.ask("told", draft)
                    know = self.follower.ask("know", draft, told)
                    self._begin(self._unless_needless(know))
            self._told.busy_with("")
        except Superseded:
            return
        except HeadfallError as error:
            if revision == self._newest:
                self._told.busy_with("")
                self._told.failed(str(error))

    async def _read_ground(self, draft: Draft) -> None:
        """Read the ground where the draft asks for another than was read last."""
        async with self._reading:
            wanted = ground_asked(draft)
            if wanted == self._ground:
                return
            await self._show_ground(draft)
            self._ground = wanted

    async def _show_ground(self, draft: Draft) -> None:
        self._told.busy_with("reading the elevation data")
        found = await self.planner.ask("ground", draft, say=self._told.busy_with)
        self._name = found["name"]
        self._told.ground_is(found["view"], found["png"])

    async def _unless_needless(self, ahead: Coroutine[Any, Any, Any]) -> None:
        """Do something ahead of time; what fails is told when it is asked for."""
        with suppress(Superseded, HeadfallError):
            await ahead


def ground_asked(draft: Draft) -> str:
    """All that the ground and how it is drawn hang on, of a site file's text."""
    try:
        said = tomllib.loads(draft.site)
    except tomllib.TOMLDecodeError:
        return ""  # whoever reads the site tells what is wrong
    return repr((said.get("elevation"), said.get("units"), said.get("measured")))
