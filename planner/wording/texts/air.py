"""Of what holds air, water or silt in a line."""

from planner.wording.value import Wording

_TRAP = "The {line} line has a high point at {chainage_m:station} that will trap air"
_LEAVES = (
    _TRAP + "[: it stands {rise_m:height} above the pipe beside it][; the flow leaves the air"
    " there, which takes {left_low_m:height} to {left_high_m:height} of head][; it cannot be said"
    " whether the flow clears it, and air that stays takes up to {unsure_m:height} of head]"
)
_LOCK = (
    "Air shut in while filling locks the {line} line: to push it out takes {needed_m:height} of"
    " head over the first high point, at {chainage_m:station}, where there are only"
    " {available_m:height}."
)
_DIG = (
    "[, or dig {deeper_m:height} deeper there], or move the line"
    "[, which takes {detour_m:length} more pipe]"
)

AIR: dict[str, Wording] = {
    "air-trap": Wording(
        _TRAP + "[: it stands {rise_m:height} above the pipe beside it].",
        "Fit an air vent at {chainage_m:station}" + _DIG + ".",
    ),
    "air-trap/doubtful": Wording(
        _TRAP
        + ", if it is real: it rises {rise_m:height}, less than the elevation data can show for"
        " sure.",
        "Level this stretch first; if the high point is there, fit an air vent at"
        " {chainage_m:station}" + _DIG + ".",
    ),
    "air-trap/clears": Wording(
        "The {line} line has a high point at {chainage_m:station}[, {rise_m:height} above the pipe"
        " beside it]; the flow clears it of air when it runs full.",
        "Fit a hand cock at {chainage_m:station} as vent for filling, or open the outlet fully"
        " until the line runs clear of air.",
    ),
    "air-trap/standpipe": Wording(
        _LEAVES + ".",
        "Fit an open standpipe as vent at {chainage_m:station}, its top {top_m:height} above the"
        " pipe" + _DIG + ".",
    ),
    "air-trap/air-valve": Wording(
        _LEAVES + ".",
        "Fit an automatic air valve as vent at {chainage_m:station}" + _DIG + ".",
    ),
    "air-trap/hand-cock": Wording(
        _LEAVES + ".",
        "Fit a hand cock as vent at {chainage_m:station} and let the air out from time to time, as"
        " an automatic air valve will not seal at so little pressure with the outlet open or"
        " outlet closed" + _DIG + ".",
    ),
    "air-trap/no-vent": Wording(
        _LEAVES + ".",
        "Fit no vent at {chainage_m:station}, as the pressure there is below that of the air, with"
        " the outlet open or outlet closed[; dig {deeper_m:height} deeper there], or move the"
        " line.",
    ),
    "air-trap/spared": Wording(
        _LEAVES + "; the line starts and runs all the same.",
        "No vent is needed at {chainage_m:station}; fill the line slowly from the top, outlet"
        " open.",
    ),
    "air-trap/unhelped": Wording(
        _LEAVES + ".",
        "No choice of vents makes this line run; use a larger bore[, or dig {deeper_m:height}"
        " deeper at {chainage_m:station}], or move the line.",
    ),
    "air-lock": Wording(
        _LOCK,
        "Fit {vents:vents}, the fewest with which it starts and runs; a vent elsewhere may not"
        " help. Fill it slowly from the top.",
    ),
    "air-lock/locked": Wording(
        _LOCK,
        "No choice of vents makes it start: move the line or dig so that it has fewer or lower"
        " high points, or raise the water that feeds it.",
    ),
    "air-lock/running": Wording(
        "The {line} line starts, but at the flow wanted the air in it and friction take more head"
        " than it has, whatever vents it gets.",
        "Use a larger bore, want less flow of it, or move the line so that it has fewer high"
        " points.",
    ),
    "fit-idle/off": Wording(
        "A {kind} is decided for the {on} line at a place where no such line runs.",
        "Take it out, or put it where the line runs.",
    ),
    "fit-idle/stray": Wording(
        "A {kind} is decided on the {line} line at {chainage_m:station}, where the pipe has no"
        " {turn} point.",
        "Take it out, unless it is meant for something else.",
    ),
    "fit-idle/draws-air": Wording(
        "A vent is decided on the {line} line at {chainage_m:station}, where it would draw in air:"
        " the pressure there is below that of the air, with the outlet open or outlet closed.",
        "Take it out.",
    ),
    "reverse-grade/high": Wording(
        "The {line} line must fall all the way, yet it has a high point at"
        " {chainage_m:station}[, {rise_m:height} above the pipe beside it].",
        "Move the line so that it falls all the way[, or dig {deeper_m:height} deeper at"
        " {chainage_m:station}].",
    ),
    "reverse-grade/low": Wording(
        "The {line} line must fall all the way, yet it sags at {chainage_m:station}"
        "[ by {sag_m:height}] and climbs again.",
        "Move the line or its lower end, or dig deeper after the sag, so that it falls all the"
        " way.",
    ),
    "flat-stretch": Wording(
        "The {line} line is flatter than {least_grade:percent} for {length_m:length}[, from"
        " {chainage_m:station} on]; air and silt can stay in it.",
        "Level this stretch and lay the pipe to a string at {least_grade:percent} or more, or move"
        " the line.",
    ),
    "sag-wont-drain": Wording(
        "The {line} line has a low point at {chainage_m:station}[, {sag_m:height} deep,] that"
        " collects silt and does not drain by itself.",
        "Fit a washout at {chainage_m:station} that runs to lower ground.",
    ),
    "sag-wont-drain/frost": Wording(
        "The {line} line has a low point at {chainage_m:station}[, {sag_m:height} deep,] that does"
        " not drain by itself; water left in it over winter will freeze.",
        "Fit a washout at {chainage_m:station} that runs to lower ground, and open it before the"
        " first frost.",
    ),
    "crest-above-grade-line": Wording(
        "At {chainage_m:station} the {line} line stands {above_m:height} above the hydraulic grade"
        " line: with the outlet open the pressure there is below that of the air, and the flow"
        " breaks off.",
        "Lead the line lower by at least {above_m:height}, or use a larger bore; fit no vent"
        " there, as it would let air in.",
    ),
    "crest-above-grade-line/source": Wording(
        "At {chainage_m:station} the {line} line stands {over_m:height} above the water that"
        " feeds it, so no water passes, outlet open or outlet closed.",
        "Lead the line lower by at least {above_m:height}; no vent can mend this.",
    ),
    "crest-above-grade-line/delivery": Wording(
        "At {chainage_m:station} the {line} line stands {above_m:height} above the hydraulic grade"
        " line: with the outlet open the ram must lift the water higher than the tank, and the"
        " pipe beyond draws in air.",
        "Lead the line lower by at least {above_m:height}, or set the tank higher than this crest.",
    ),
    "crest-above-grade-line/siphon": Wording(
        "At {chainage_m:station} the {line} line works as a siphon, {above_m:height} above the"
        " hydraulic grade line with the outlet open.",
        "Fit a priming point and no vent, make every joint airtight, and expect to prime it again"
        " after each stop.",
    ),
    "crest-above-grade-line/siphon-high": Wording(
        "At {chainage_m:station} the siphon of the {line} line stands {above_m:height} above the"
        " hydraulic grade line with the outlet open, higher than a siphon holds"
        " ({limit_m:height}).",
        "Lead the line lower there, or use a larger bore.",
    ),
    "crest-low-pressure": Wording(
        "The pressure at the high point of the {line} line at {chainage_m:station} is only"
        " {head_m:head} with the outlet open.",
        "Lead the line lower there or use a larger bore, so that at least {least_m:head} is left"
        " with the outlet open.",
    ),
}
