"""Which lines a scheme has, from where to where, and what they are called."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.chain.scheme import Scheme
from planner.record.value import Placed
from planner.site.value import LineRole
from planner.site.words import slug

STREAM_END = "stream"
GROUND_END = "open ground"


@dataclass(frozen=True, slots=True)
class Run:
    """One line to find: its role and the points at its ends; `mouth` names an end in the open."""

    role: LineRole
    start: Placed
    end: Placed | None
    mouth: str = ""

    @property
    def end_name(self) -> str:
        """What the plan calls the end."""
        return self.mouth if self.end is None else self.end.name


def runs_of(scheme: Scheme) -> Mapping[str, Run]:
    """Every line of a scheme under its name, unique and safe as a file name, as water flows."""
    named: dict[str, Run] = {}
    for run in (*_runs(scheme), *_outfalls(scheme)):
        end = slug(run.end_name) if run.role == "distribution" else ""
        name = f"{run.role}-{end}" if end else str(run.role)
        unique, count = name, 2
        while unique in named:
            unique, count = f"{name}-{count}", count + 1
        named[unique] = run
    return named


def _runs(scheme: Scheme) -> Iterable[Run]:
    head = scheme.chamber or scheme.source
    if scheme.chamber is not None:
        yield Run("supply", scheme.source, scheme.chamber)
    if scheme.kind == "gravity":
        yield Run("main" if scheme.goal.role == "tank" else "distribution", head, scheme.goal)
    elif scheme.pump is not None:
        if scheme.kind == "ram":
            yield Run("drive", head, scheme.pump)
        elif scheme.pump.xy != head.xy:
            yield Run("supply", head, scheme.pump)
        yield Run("delivery", scheme.pump, scheme.goal)
    start = scheme.goal if scheme.goal.role == "tank" else head
    for outlet in scheme.outlets:
        yield Run("distribution", start, outlet)


def _outfalls(scheme: Scheme) -> Iterable[Run]:
    """Waste from the ram to the stream and overflow from the tank."""
    if scheme.kind == "ram" and scheme.pump is not None:
        yield Run("waste", scheme.pump, None, STREAM_END)
    if scheme.goal.role == "tank":
        yield Run("overflow", scheme.goal, None, GROUND_END)
