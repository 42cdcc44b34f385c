"""Of frost, floods and what was assumed."""

from planner.wording.value import Wording

PLACE: dict[str, Wording] = {
    "cover-under-frost": Wording(
        "The {line} line lies only {depth_m:height} deep at {chainage_m:station}; in use all year"
        " it needs {wanted_m:height}, as the ground freezes to {frost_m:height}.",
        "Bury it {wanted_m:height} deep, or use it in summer only and drain it before the first"
        " frost.",
    ),
    "cover-under-frost/surface": Wording(
        "The {line} line lies on the surface and is in use all year, though the ground freezes to"
        " {frost_m:height}.",
        "Bury it {wanted_m:height} deep, or use it in summer only and drain it before the first"
        " frost.",
    ),
    "ram-below-flood": Wording(
        'The pump at "{point}" would stand {under_m:height} under water at the flood mark, and'
        " stop there.",
        "Set it at least {under_m:height} higher, with some to spare, or out of the flood's way.",
    ),
    "flood-mark-missing": Wording(
        'No flood mark is given for the ram at "{point}".',
        "Ask who remembers the highest water, measure it against the ground at the ram, and enter"
        " it as `flood_mark`.",
    ),
    "waste-drowned": Wording(
        "At the flood mark the end of the {line} line is {under_m:height} under water, so waste"
        " water backs up to the ram.",
        "End the waste line higher or farther downstream, or expect the ram to stop in floods.",
    ),
    "waste-drowned/stream": Wording(
        "The end of the {line} line is {under_m:height} lower than the stream beside it, so waste"
        " water cannot run off.",
        "End the waste line farther downstream, or set the ram higher.",
    ),
    "waste-unplanned": Wording(
        'No way was found for the water that the ram "{point}" does not lift: no stream lies near'
        " and low enough below it.",
        "Set the ram higher above the stream, or plan on the spot how its pit drains; a drowned ram"
        " stops.",
    ),
    "bore-assumed": Wording(
        "No pipe was given for {lines}; a usual bore was assumed, as the sheets show.",
        "Choose the pipes and enter their trade size or inside diameter before counting on the"
        " water.",
    ),
}
