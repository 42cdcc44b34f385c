"""`Desk`: what stands in a worker: the ground, the newest plan, and all that is asked of them."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

import numpy as np

from planner.chain.follow import Following
from planner.chain.place import lonlat_box
from planner.errors import InputError, TerrainError
from planner.live.compare import compare_view
from planner.live.first_look_view import first_look_view
from planner.live.follow_view import follow_view
from planner.live.ground_view import ground_png, ground_view
from planner.live.grounds import ground_name
from planner.live.levels_view import levels_view
from planner.live.plan_view import plan_view
from planner.live.plans import Plans
from planner.live.section_view import sections
from planner.live.sketch_view import sketch_view
from planner.live.value import CompareView, FirstLookView, GroupView, LevelsView, PlanView
from planner.live.water_view import water_view
from planner.record.value import Plan
from planner.remedies.table import remedies
from planner.routing.warm import warm_up
from planner.site.draft import Draft
from planner.site.edits.coordinates import typed_place
from planner.site.edits.incomplete import Incomplete
from planner.site.edits.value import Edit
from planner.site.value import Units
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain

if TYPE_CHECKING:
    from planner.remedies.value import Remedy

XY = tuple[float, float]


class Desk:
    """Answers what the page asks, one question at a time, in plain values.

    One stands in each of two workers: the planner, of which `answer`, `refine` and what hangs on
    the plan are asked, and the follower, which is told each plan by `know` and asked to `follow`.
    Questions about "the plan" mean the newest one made here.

    Parameters
    ----------
    say : function
        Told what is being done; what it raises breaks the question off.
    """

    GIVES_WAY: ClassVar = {
        "answer": frozenset({"answer"}),
        "refine": frozenset({"answer", "refine"}),
        "know": frozenset({"know"}),
        "ready": frozenset({"ready"}),
        "follow": frozenset({"follow"}),
    }

    def __init__(self, say: Callable[[str], None]) -> None:
        say("preparing the routines (compiled once: a minute or two on the first run)")
        warm_up()
        self._plans = Plans(say)
        self._ground: tuple[Terrain, Units] | None = None
        self._plan: Plan | None = None
        self._remedies: tuple[tuple[Remedy, ...], ...] = ()
        self._following: tuple[Plan, Following] | None = None

    def ground(self, draft: Draft) -> dict[str, Any]:
        """The ground of a draft: "view", a `GroundView`, "png", its picture, and "name".

        Raises
        ------
        InputError
            The site or its elevation data can't be used.
        """
        so_far, terrain = self._plans.ground(draft)
        return {
            "view": ground_view(terrain, so_far.units),
            "png": ground_png(terrain),
            "name": ground_name(terrain),
        }

    def answer(self, draft: Draft, revision: int) -> PlanView:
        """The plan of a draft, its choices not weighed; the sketch while points are missing."""
        so_far, terrain = self._plans.ground(draft)
        self._ground, self._plan = (terrain, so_far.units), None
        if so_far.missing:
            return self._sketched(so_far, terrain, revision)
        try:
            return self._viewed(self._plans.make(draft), revision)
        except TerrainError:
            view = self._sketched(so_far, terrain, revision)
            if not view["missing"]:  # no point lies astray: it is something else
                raise
            return view

    def refine(self, draft: Draft, revision: int) -> PlanView:
        """The whole plan: what each line chose where is weighed."""
        return self._viewed(self._plans.make(draft, alternatives=0), revision)

    def sections(self, lines: Sequence[str]) -> dict[str, dict[str, str]]:
        """Sections of lines of the plan as SVG, by name and format; unknown lines are left out."""
        plan = self._known()
        return {line.name: sections(plan, line) for line in plan.lines if line.name in lines}

    def told(self, draft: Draft) -> bytes:
        """The plan of a draft as `know` of another desk takes it."""
        return self._plans.told(draft)

    def know(self, draft: Draft, told: bytes) -> None:
        """Take over the plan that another desk made of a draft, so as to follow its points."""
        self._plans.take(draft, told)
        self._follow(draft)

    def ready(self, draft: Draft, name: str) -> None:
        """Prepare for a point of the draft that may be dragged next."""
        self._follow(draft)[1].ready(name)

    def follow(self, draft: Draft, name: str, xy: XY, line: str) -> dict[str, Any]:
        """The lines of a draft with one of its points at x, y [m].

        Parameters
        ----------
        line : str
            The line whose section is shown.

        Returns
        -------
        dict
            "view", a `FollowView`, and "sections", by format, empty where that line stays.
        """
        plan, following = self._follow(draft)
        followed = following.move(name, xy)
        drawn = next((one for one in followed.lines if one.name == line), None)
        return {
            "view": follow_view(plan, followed),
            "sections": {} if drawn is None else sections(plan, drawn),
        }

    def levels(self, first: XY, second: XY) -> LevelsView:
        """Distance, fall and grade between two places x, y [m]."""
        terrain, units = self._stood()
        return levels_view(terrain, units, first, second)

    def water(self) -> list[GroupView]:
        """The whole water table of the plan."""
        return water_view(self._known())

    def edit_of(self, number: int, index: int, words: str | None = None) -> Edit:
        """What the `index`-th remedy of a finding, by its number from 1, changes in the site.

        `words` are those of the button that was pressed: a newer plan may number otherwise.

        Raises
        ------
        InputError
            The plan has no such remedy any more.
        """
        self._known()
        if not (0 < number <= len(self._remedies) and 0 <= index < len(self._remedies[number - 1])):
            msg = f"finding {number} has no such remedy any more; look at the list as it is now"
            raise InputError(msg)
        remedy = self._remedies[number - 1][index]
        if words is not None and remedy.words != words:
            msg = f"finding {number} is another one by now; look at the list as it is now"
            raise InputError(msg)
        return remedy.edit

    def compare(self, first: Draft, second: Draft) -> CompareView:
        """Two drafts' plans side by side."""
        return compare_view(self._plans.known(first), self._plans.known(second))

    def first_look(self, numbers: dict[str, str]) -> FirstLookView:
        """What five numbers say, before there is a map."""
        return first_look_view(numbers)

    def place(self, text: str) -> dict[str, list[float]]:
        """Where coordinates as typed lie: "xy" [m] and "lonlat" [degrees].

        Raises
        ------
        InputError
            They can't be read.
        """
        terrain = self._stood()[0]
        lonlat = typed_place(text, within=lonlat_box(terrain))
        xy = to_local(terrain, lonlat)[0]
        return {"xy": np.round(xy, 2).tolist(), "lonlat": list(lonlat)}

    def _sketched(self, so_far: Incomplete, terrain: Terrain, revision: int) -> PlanView:
        view = sketch_view(so_far, terrain, revision, self._plans.streams(terrain))
        return {**view, "ground": ground_name(terrain)}

    def _viewed(self, plan: Plan, revision: int) -> PlanView:
        self._plan, self._ground = plan, (plan.terrain, plan.site.units)
        self._remedies = tuple(remedies(plan, finding) for finding in plan.findings)
        view = plan_view(plan, revision, self._remedies)
        return {**view, "ground": ground_name(plan.terrain)}

    def _follow(self, draft: Draft) -> tuple[Plan, Following]:
        plan = self._plans.known(draft)
        if self._following is None or self._following[0] is not plan:
            self._following = plan, Following(plan, self._plans.held)
        return self._following

    def _known(self) -> Plan:
        if self._plan is None:
            msg = "there is no plan yet; place what is missing first"
            raise InputError(msg)
        return self._plan

    def _stood(self) -> tuple[Terrain, Units]:
        if self._ground is None:
            msg = "the elevation data is not read yet; try again in a moment"
            raise InputError(msg)
        return self._ground
