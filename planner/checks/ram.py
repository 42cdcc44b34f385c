"""The ram: its beat, its blow, its size, its delivery pipe and its start."""

import math
from collections.abc import Iterator

from planner.checks import drive
from planner.checks.need import DAY, ROUNDING
from planner.checks.planned import expected, lines_of, name_of
from planner.checks.value import Limit, Values
from planner.hydraulics import limits
from planner.hydraulics.delivery_size import BEARABLE_LOSS, DeliverySizes
from planner.hydraulics.friction import velocity
from planner.hydraulics.ram_remedy import LEAST_BEATS, MOST_USUAL_BEATS, Remedy
from planner.hydraulics.ram_size import RamOption
from planner.hydraulics.ram_start import BACK_PRESSURE
from planner.hydraulics.surge_drive import OVERSHOOT
from planner.record.value import Finding, Level, Line, Plan
from planner.record.works import RamWorks

BEATS_LEAST = Limit(LEAST_BEATS, "40 to 90 beats a minute are usual in the trade")
BEATS_MOST = Limit(MOST_USUAL_BEATS, "40 to 90 beats a minute; USDA gives some 60 for a small ram")
BLOW = Limit(OVERSHOOT, "drive pipe and ram bear twice the delivery head", "setting")
DRIVE_SLOWEST = Limit.low(limits.DRIVE_VELOCITY)
DRIVE_FASTEST = Limit.high(limits.DRIVE_VELOCITY)
LOSS_BORNE = Limit(BEARABLE_LOSS, "a wider pipe for less than this share of the water", "setting")
SAME_BORE = Limit(1.02, "bores nearer than this are sold as one size", "setting")
PRESSURE_FIRST = Limit(BACK_PRESSURE, "about 10 psi must stand on the delivery valve [m]")

DRAWS_MORE = Limit(1.1, "models of the cycle foretell flows to some tenth", "setting")

_TROUBLES = {"too fast": "fast", "too slow": "slow", "delivers nothing": "nothing"}


def _works(plan: Plan) -> RamWorks | None:
    return plan.water.ram if plan.scheme == "ram" else None


def stalls(plan: Plan) -> Iterator[Finding]:
    """A waste valve so heavy that the water never shuts it."""
    works = _works(plan)
    if works is None or works.beat.trouble != "stalls open":
        return
    values: Values = {
        "closing": works.closing_velocity,
        "free": works.beat.cycle.free_velocity,
        **_ways(plan, works.beat),
    }
    yield Finding("stop", "ram-stalls", values, name_of(plan, "drive"))


def beats(plan: Plan) -> Iterator[Finding]:
    """A ram that beats too fast, too slowly, or to no effect.

    One whose valve the program tuned to the flow is only noted: its beat is set on the spot.
    """
    works = _works(plan)
    case = None if works is None else _TROUBLES.get(works.beat.trouble)
    if works is None or case is None:
        return
    values: Values = {
        "case": case,
        "beats": works.beat.cycle.beats,
        "least": BEATS_LEAST.value,
        "most": BEATS_MOST.value,
        **_ways(plan, works.beat),
    }
    level: Level = "stop" if case == "nothing" else "note" if works.tuned else "warn"
    yield Finding(level, "ram-beats", values, name_of(plan, "drive"))


def draws_more(plan: Plan) -> Iterator[Finding]:
    """A valve so heavy that the ram swallows more than comes, and empties its chamber."""
    works, there = _works(plan), plan.water.taken
    if works is None or there is None or works.beat.cycle.stalls:
        return
    draws = works.beat.cycle.drive_flow
    if draws > DRAWS_MORE.value * there:
        values: Values = {"draws": draws, "there": there}
        yield Finding("warn", "ram-draws-more", values, name_of(plan, "drive"))


def _ways(plan: Plan, told: Remedy) -> Values:
    """The remedy's length and load, each only where nothing else speaks against it."""
    values: Values = {}
    fall = expected(plan.water.fall)
    for line in lines_of(plan, "drive"):
        falls = told.length / fall if fall else math.nan
        bores = told.length / line.settings.pipe.bore
        if (
            drive.FALLS_LEAST.value <= falls <= drive.FALLS_MOST.value
            and drive.BORES_LEAST.value <= bores <= drive.BORES_MOST.value
        ):
            values["length_m"] = told.length
    there = plan.water.taken
    draws = math.nan if told.heavier is None else told.heavier.drive_flow
    # A heavier load draws more water at each beat than the source may have.
    if there is not None and draws <= ROUNDING.value * there:
        values |= {"load": told.load, "draws": draws}
    return values


def peak(plan: Plan) -> Iterator[Finding]:
    """A drive pipe too weak for the blow of each beat, or for a delivery valve that sticks."""
    lift = expected(plan.water.lift)
    if plan.scheme != "ram" or lift is None:
        return
    works = plan.water.ram
    beating = BLOW.value * lift if works is None else works.peak.beating
    stuck = math.nan if works is None else works.peak.blocked
    for line in lines_of(plan, "drive"):
        rated = line.settings.pipe.rating
        values: Values = {"rating_m": rated, "beating_m": beating, "blocked_m": stuck}
        if rated < beating:
            values["wanted_m"] = beating if works is None else works.peak.design
            yield Finding("warn", "ram-peak", {**values, "case": "beating"}, line.name)
        elif rated < stuck:
            yield Finding("note", "ram-peak", {**values, "case": "blocked"}, line.name)


def size(plan: Plan) -> Iterator[Finding]:
    """Which rams would use the flow, and a drive pipe that suits none of them."""
    works = _works(plan)
    if works is None:
        return
    for line in lines_of(plan, "drive"):
        if line.water is not None and line.water.flow > 0.0:
            yield _sized(works, line, line.water.flow)


def _sized(works: RamWorks, line: Line, flow: float) -> Finding:
    if not works.options:
        return Finding("warn", "ram-size", {"case": "none", "flow": flow}, line.name)
    first, bore = works.options[0], line.settings.pipe.bore
    values: Values = {"flow": flow, **_option(first)}
    speed = float(velocity(flow, bore))
    if not DRIVE_SLOWEST.value <= speed <= DRIVE_FASTEST.value:
        values |= {
            "case": "narrow" if speed > DRIVE_FASTEST.value else "wide",
            "given_m": bore,
            "speed": speed,
            "slowest": DRIVE_SLOWEST.value,
            "fastest": DRIVE_FASTEST.value,
        }
        return Finding("warn", "ram-size", values, line.name)
    staged = [one for one in works.options if one.arrangement == "stages"]
    values |= _second(staged[0]) if staged else {}
    values["case"] = "stages" if staged else first.arrangement
    return Finding("note", "ram-size", values, line.name)


def _option(option: RamOption) -> Values:
    values: Values = {"bore_m": option.size.bore}
    if option.count > 1:
        values["rams"] = float(option.count)
    for beside in option.neighbours:
        name = "smaller_m" if beside.bore < option.size.bore else "larger_m"
        values[name] = beside.bore
    return values


def _second(option: RamOption) -> Values:
    second = option.second
    if second is None:
        return {}
    values: Values = {"tank_m": second.tank_lift, "second_fall_m": second.fall}
    if second.size is not None:
        values["second_m"] = second.size.bore
    staged = float(option.delivered.expected)
    if math.isfinite(staged):
        values["staged_m3"] = staged * DAY
    return values


def delivery_size(plan: Plan) -> Iterator[Finding]:
    """The bore that will do for the delivery, and what its neighbours give or cost."""
    works = _works(plan)
    if works is None or works.sizes is None:
        return
    sizes = works.sizes
    chosen = sizes.pipes[sizes.chosen]
    for line in lines_of(plan, "delivery"):
        values: Values = {
            "case": _fit(line.settings.pipe.bore, sizes),
            "laid_m": line.settings.pipe.bore,
            "chosen_m": chosen.bore,
            "lost_m3": chosen.lost * DAY,
            **_beside(sizes, 1, ("wider_m", "gain_m3")),
            **_beside(sizes, -1, ("narrower_m", "cost_m3")),
        }
        yield Finding("note", "delivery-size", values, line.name)


def _fit(laid: float, sizes: DeliverySizes) -> str:
    chosen = sizes.pipes[sizes.chosen].bore
    if not sizes.bearable:
        return "none"
    if laid > SAME_BORE.value * chosen:
        return "wide"
    return "narrow" if laid * SAME_BORE.value < chosen else "fits"


def _beside(sizes: DeliverySizes, way: int, names: tuple[str, str]) -> Values:
    """The next bore wider (1) or narrower (-1) of another size, and the water between [m³/d]."""
    here, step = sizes.pipes[sizes.chosen].bore, way
    while 0 <= sizes.chosen + step < len(sizes.pipes):
        bore = sizes.pipes[sizes.chosen + step].bore
        if max(bore / here, here / bore) > SAME_BORE.value:
            water = abs(sizes.gain(step)) * DAY
            return {names[0]: bore, names[1]: water} if math.isfinite(water) else {}
        step += way
    return {}


def start(plan: Plan) -> Iterator[Finding]:
    """What it takes to set the ram going."""
    works = _works(plan)
    if works is None:
        return
    begun = works.start
    few, many = begun.strokes
    values: Values = {
        "drive_m3": begun.drive_volume,
        "delivery_m3": begun.delivery_volume,
        "back_m": begun.back_pressure,
        "by_itself_m": begun.by_itself,
        "few": float(few),
        "many": float(many),
        "filling_s": begun.filling_time,
    }
    yield Finding("note", "ram-start", values, name_of(plan, "delivery"))
