"""What the program can do itself about each finding, by the code of its check."""

from collections.abc import Callable, Iterator

from planner.record.value import Finding, Plan
from planner.remedies import dig, fit, pipe, told, way
from planner.remedies.value import Remedy

Maker = Callable[[Plan, Finding], Iterator[Remedy]]

REMEDIES: dict[str, tuple[Maker, ...]] = {
    "air-trap": (fit.vent, dig.deepen, way.detour),
    "air-lock": (fit.vents,),
    "fit-idle": (fit.taken_out,),
    "reverse-grade": (dig.deepen, way.detour),
    "sag-wont-drain": (fit.washout,),
    "crest-above-grade-line": (pipe.for_crest,),
    "crest-low-pressure": (pipe.for_crest, way.detour),
    "outlet-head-low": (pipe.for_outlet, told.tank_height),
    "velocity-high": (pipe.slower,),
    "pressure-over-rating": (pipe.stronger,),
    "break-pressure": (pipe.stronger,),
    "pipe-classes": (pipe.too_weak,),
    "delivery-size": (pipe.delivery,),
    "drive-length-to-bore": (pipe.drive_bore,),
    "ram-size": (pipe.drive_flow,),
    "ram-peak": (pipe.struck,),
    "bore-assumed": (pipe.as_assumed,),
    "chamber-placed": (told.chamber,),
    "not-planned": (told.point_out,),
    "pump-not-used": (told.point_out,),
    "trench-too-shallow": (told.area_out,),
    "steeper-than-asked": (told.steeper,),
    "drive-not-straight": (told.bend,),
    "tank-smallest": (told.tank_volume,),
    "tank-too-small": (told.tank_volume,),
    "share-left-low": (told.share_left,),
    "ram-stalls": (told.valve,),
    "ram-draws-more": (told.valve,),
    "line-walked": (told.look_again,),
    "drive-off-ground": (dig.rigid,),
    "cover-under-frost": (dig.below_frost,),
}


def remedies(plan: Plan, finding: Finding) -> tuple[Remedy, ...]:
    """What can be done about a finding, the plainest first; empty where only a hand can help.

    Parameters
    ----------
    plan : Plan
        Checked; ways round a high point are known where its lines were weighed.
    finding : Finding
        One of the plan's.

    Returns
    -------
    tuple of Remedy
        Each takes the finding away or makes it milder, as far as the plan tells; another finding
        may come in its place.
    """
    return tuple(
        remedy for make in REMEDIES.get(finding.code, ()) for remedy in make(plan, finding)
    )
