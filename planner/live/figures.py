"""The headline figures of the water, each with the input it hangs on."""

import math

from planner.live.value import FigureView
from planner.output.map.panel import water_figures
from planner.output.water.source import BASES
from planner.record.value import Placed, Plan, SchemeKind
from planner.site.value import PointRole
from planner.units.show import show

DELIVERED: dict[SchemeKind, str] = {
    "gravity": "the source's flow, the fall, the pipe's bore",
    "ram": "the source's flow, the fall, the lift; published yields of rams",
    "powered": "the pump's curve, the lift, hours a day",
}
INTAKES: tuple[PointRole, ...] = ("chamber", "source")
MACHINES: tuple[PointRole, ...] = ("pump",)
GOALS: tuple[PointRole, ...] = ("tank", "outlet")


def figure_views(plan: Plan) -> list[FigureView]:
    """The water figures that are known, the one most asked for first.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    list of FigureView
        `source` names the inputs that change the figure when they change.
    """
    return [
        FigureView(label=label, figure=figure, source=_source(plan, label))
        for label, figure in water_figures(plan)
    ]


def _source(plan: Plan, label: str) -> str:
    """What the figure under a label of `water_figures` hangs on."""
    if label.startswith("Delivered"):
        return _delivered(plan)
    if label.startswith("Tank for"):
        return "need and delivery, hour by hour"
    hangs = {
        "Needed": _need(plan),
        "Fall": _levels(plan, INTAKES, GOALS if plan.scheme == "gravity" else MACHINES),
        "Lift": _levels(plan, MACHINES, GOALS),
        "Lift lost to friction": "bore and length of the delivery",
        "Beats a minute": "the fall, the drive pipe, the load on the waste valve",
        "Vents": "the high points of the lines",
        "Source at its lowest": _reading(plan),
        "May be taken": f"{_share_left(plan)} stays in the stream",
        "Back to the stream": "taken, less delivered",
        "Drive length to fall": "length of the drive pipe, the fall",
        "Drive length to bore": "length and bore of the drive pipe",
        "Pipe in all": "the lines, measured along the slope",
    }
    return hangs[label]


def _delivered(plan: Plan) -> str:
    if plan.scheme == "ram" and plan.site.ram.measured:
        return "the source's flow, the fall, the lift; what this ram was measured to deliver"
    return DELIVERED[plan.scheme]


def _need(plan: Plan) -> str:
    return "as told" if plan.site.need is not None else "heads told, published daily needs"


def _share_left(plan: Plan) -> str:
    return show(plan.site.source.share_left, "share", plan.site.units)


def _reading(plan: Plan) -> str:
    source, works = plan.site.gauged, plan.water.intake
    told = [f"{len(source.timings)} fills timed" if source.timings else "as told"]
    if works is not None:
        told.append(BASES[works.lowest.basis])
    if source.measured is not None:
        told.append(source.measured.isoformat())
    return ", ".join(told)


def _levels(plan: Plan, *ends: tuple[PointRole, ...]) -> str:
    """The levels a difference is made of, and how sure each is."""
    usual = plan.terrain.provenance.standard_error
    told = []
    for point in (_first(plan, roles) for roles in ends):
        if point is None:
            return "the levels of its ends"
        error = usual if point.level_error is None else point.level_error
        sure = f" ± {show(error, 'level', plan.site.units)}" if math.isfinite(error) else ""
        told.append(f"{point.name}{sure}{'' if point.level_error is None else ', measured'}")
    return f"the levels of {' and '.join(told)}"


def _first(plan: Plan, roles: tuple[PointRole, ...]) -> Placed | None:
    """The first point of the first of these roles that there is."""
    return next((one for role in roles for one in plan.points if one.role == role), None)
