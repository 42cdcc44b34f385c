"""Of the source, its intake and the tank."""

from planner.wording.value import Wording

_WET = "The figures rest on a wet-season reading, not for design"

SOURCE: dict[str, Wording] = {
    "share-left-low": Wording(
        "Only {share_left:percent} of the source's flow is left in the stream; at least"
        " {limit:percent} of the lowest flow is usual.",
        "Leave more in the stream, and ask what the water right asks for.",
    ),
    "flow-unknown": Wording(
        "The source's flow is not known, so no yield can be given.",
        "Time how long it takes to fill a bucket, three times, late in the dry season, and enter"
        " the flow.",
    ),
    "flow-not-dry-season/wet": Wording(
        _WET + ": in a dry season the source may give a third of that.",
        "Measure again at the end of the dry season, before buying pipe, or enter what share of it"
        " is left then as `season_factor`.",
    ),
    "flow-not-dry-season/reduced": Wording(
        _WET + ", reduced[ to {low:percent} to {high:percent} of it] for the dry season.",
        "Measure at the end of the dry season, before buying pipe.",
    ),
    "flow-not-dry-season/unsaid": Wording(
        "It is not said whether the source's flow was measured in the dry or the wet season, so it"
        " is taken for a wet-season reading, not for design.",
        'Set `season` of the source to "dry" or "wet"; if in doubt, measure again at the end of'
        " the dry season.",
    ),
    "flow-not-dry-season/undated": Wording(
        "The source's flow has no date.",
        "Enter when it was measured, and measure again at the end of the dry season.",
    ),
    "intake": Wording(
        "The intake needs a screen of {screen_m2:face} with holes of {open_m2:face} together, and a"
        " settling chamber {length_m:height} long, {width_m:height} wide and {depth_m:height} deep"
        " of water inside.",
        "Build them at least so large, and keep {cover_m:height} of water over the pipe's mouth so"
        " that it gulps no air.",
    ),
    "tank-too-small": Wording(
        "A tank of {volume_m3:volume} runs empty on {short:count} of {days:count} dry days, though"
        " enough is delivered.",
        "Use a tank of {smallest_m3:volume} or more.",
    ),
    "tank-smallest": Wording(
        "The smallest tank that serves the need over {days:count} dry days holds"
        " {smallest_m3:volume}.",
        "Choose the next larger one that is sold, and enter its volume.",
    ),
    "tank-load": Wording(
        "Full, a tank of {volume_m3:volume} weighs {mass:mass}[; it takes {fill_s:duration} to"
        " fill, nothing drawn].",
        "Set it on level, firm, drained ground, with {footing_m2:area} of footing or more where the"
        " ground is unknown.",
    ),
    "tank-load/engineer": Wording(
        "Full, a tank of {volume_m3:volume} weighs {mass:mass}[, on a stand of"
        " {stand_m:height}][; it takes {fill_s:duration} to fill, nothing drawn].",
        "Have an engineer design what carries it, with wind and earthquake, footings of"
        " {footing_m2:area} or more on unknown ground, and local codes first.",
    ),
}
