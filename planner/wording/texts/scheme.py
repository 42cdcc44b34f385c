"""Of how the water gets there, and of what is not part of the plan."""

from planner.wording.value import Wording

SCHEME: dict[str, Wording] = {
    "gravity-works": Wording(
        "The source lies[ {fall_m:height}] above the tank, so the water runs there by itself; no"
        " ram or pump is needed.",
        "Nothing to do; keep the tank below the source.",
    ),
    "ram-needed": Wording(
        "The tank lies[ {above_m:height}] above the source, so water cannot run there by itself;"
        " a ram lifts it with the power of falling water.",
        "A higher source, or a lower tank that still serves the outlets, would save the ram.",
    ),
    "ram-needed/little-fall": Wording(
        "The tank lies only {fall_m:height} below the source, too little for water to run so far"
        " by itself; a ram lifts it with the power of falling water.",
        "A higher source, or a lower tank that still serves the outlets, would save the ram.",
    ),
    "powered": Wording(
        "A powered pump lifts the water.",
        "Have a licensed electrician connect and protect it, and plan for days without power.",
    ),
    "ram-above-source": Wording(
        'The ram stands {above_m:height} above the water that should drive it at "{feed}"; it'
        " cannot run.",
        'Move the ram downhill, well below "{feed}", or use a higher source.',
    ),
    "tank-above-source": Wording(
        'The water should go to "{tank}", which lies {above_m:height} above the source "{source}",'
        " and the sketch has no pump, so none gets there.",
        "Set a `pump` point downhill of the source for a ram, lower the tank, or use a higher"
        " source.",
    ),
    "tank-above-source/little-fall": Wording(
        'The water should go to "{tank}", which lies only {fall_m:height} below the source'
        ' "{source}": too little for it to run so far by itself, and the sketch has no pump.',
        "Set a `pump` point downhill of the source for a ram, lower the tank, or use a higher"
        " source.",
    ),
    "not-planned": Wording(
        'The {role} "{point}" is not part of this plan: one source, one pump and one tank are'
        " planned at a time.",
        "Plan it as a site of its own, or take the other one out of the sketch.",
    ),
    "not-planned/chamber": Wording(
        'The chamber "{point}" is not part of this plan.',
        "Take it out of the sketch, or check that it lies between the source and the ram.",
    ),
    "not-planned/outlet": Wording(
        'No line is planned to the outlet "{point}".',
        "See what stops its line, or take the outlet out of the sketch.",
    ),
    "not-planned/way": Wording(
        'The way point "{point}" is not used: the plan has no routed line of the role it names.',
        "Name the line it belongs to, such as delivery, or take it out of the sketch.",
    ),
    "pump-not-used": Wording(
        'The pump point "{point}" is not used, as the water runs by gravity.',
        "Take it out of the sketch, or leave it as a note for later.",
    ),
    "chamber-placed": Wording(
        'The program chose the place of the settling chamber "{point}".',
        "Look at the place; if the ground there does not suit, add a `chamber` point to the"
        " sketch.",
    ),
}
