"""`Plans`: drafts to plans, with all that is remembered between them."""

import math
import pickle
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace

from planner.chain.held import Held
from planner.chain.lands import streams_of
from planner.chain.measured import measure
from planner.errors import InputError
from planner.live.grounds import Grounds
from planner.plan import make_plan
from planner.record.value import Plan
from planner.site.draft import Draft
from planner.site.edits.incomplete import Incomplete, incomplete_site
from planner.site.edits.open import draft_site
from planner.terrain.drainage import Stream
from planner.terrain.value import Terrain

_NO_GROUND = Terrain.from_array([[math.nan]], 1.0)
MOST = 4  # plans kept whole: the newest, the one compared with, and those just undone


class Plans:
    """Plans of drafts of one site, one after another.

    Parameters
    ----------
    say : function
        Told what is being done; what it raises breaks a plan off.
    """

    def __init__(self, say: Callable[[str], None]) -> None:
        self.held = Held()
        self._say = say
        self._grounds = Grounds(say)
        self._made: OrderedDict[Draft, Plan] = OrderedDict()

    def ground(self, draft: Draft) -> tuple[Incomplete, Terrain]:
        """What a draft says so far, and the ground it lies on.

        Raises
        ------
        InputError
            What is said can't be used, or the elevation data can't be read.
        """
        so_far = incomplete_site(draft)
        ground = self._grounds.of(so_far.elevation, so_far.points, complete=not so_far.missing)
        return so_far, ground

    def streams(self, ground: Terrain) -> tuple[Stream, ...]:
        """Streams found in a ground, which show where a ram could stand."""
        self._say("finding streams")
        return streams_of(ground, self.held)

    def make(self, draft: Draft, *, alternatives: int | None = None) -> Plan:
        """Plan a draft, whatever was made of it before: files beside it may have changed.

        Parameters
        ----------
        alternatives : int or None
            As of `make_plan`.

        Raises
        ------
        InputError
            No plan can be made of it.
        """
        so_far, ground = self.ground(draft)
        if so_far.missing:
            raise InputError(so_far.missing)
        plan = make_plan(
            draft_site(draft), ground, held=self.held, say=self._say, alternatives=alternatives
        )
        self._keep(draft, plan)
        return plan

    def known(self, draft: Draft) -> Plan:
        """The plan last made of a draft, or a new one."""
        if draft not in self._made:
            return self.make(draft)
        self._made.move_to_end(draft)
        return self._made[draft]

    def told(self, draft: Draft) -> bytes:
        """The plan of a draft for another process, without its ground."""
        plan = replace(self.known(draft), terrain=_NO_GROUND)
        return pickle.dumps((plan, self._grounds.reading))

    def take(self, draft: Draft, told: bytes) -> None:
        """A plan that another process made of a draft: its lines need not be found here again."""
        plan, reading = pickle.loads(told)  # noqa: S301  our own process wrote it
        ground, _ = measure(plan.site, self._grounds.read(reading), self.held)
        self.held.recall("streams", self.held.number(ground), lambda: plan.streams)
        self._keep(draft, replace(plan, terrain=ground))

    def _keep(self, draft: Draft, plan: Plan) -> None:
        self._made[draft] = plan
        self._made.move_to_end(draft)
        while len(self._made) > MOST:
            self._made.popitem(last=False)
