"""Of levels measured on the ground, and of lines walked or laid."""

from planner.wording.value import Wording

LEVELS: dict[str, Wording] = {
    "levels-used": Wording(
        "Levels measured at {count:count} places were used[; the elevation data was off by"
        " {off_m:height} there, typically], and the ground was bent to them within {reach_m:about}"
        " of each.",
        "Level further places where a finding still hangs on the elevation data.",
    ),
    "levels-shifted": Wording(
        "The levels measured stand {shift_m:height} {way} the elevation data, as those of another"
        " datum do; this was taken out of all of them alike.",
        "Nothing, if the bench mark's level was assumed; else look for the slip in it.",
    ),
    "levels-not-closing": Wording(
        "Levels ({run}) close to {off_m:fine}, where {allowed_m:fine} is usual.",
        "Read them again, the sight that looks odd first.",
    ),
    "levels-not-closing/fall": Wording(
        "Levels ({run}) close to {off_m:fine}, more than a twentieth of the fall of {fall_m:height}"
        " that hangs on them.",
        "Level the fall again before anything is cut or bought.",
    ),
    "levels-noted": Wording("{note}.", "Nothing, if that is as you meant it."),
    "elevation-data-off": Wording(
        "The elevation data was off by {off_m:height} at the places levelled, typically; it was"
        " taken to be good to {said_m:height}.",
        "Trust no level that was not measured; level the other points and high points too, and set"
        " `standard_error` in the site file.",
    ),
    "line-walked": Wording(
        "The {line} line lies where it was walked or staked; no other way was looked for, and"
        " heights in its file were left aside.",
        "Take it out of `measured.walked` in the site file to have a way looked for.",
    ),
    "line-walked/built": Wording(
        "The {line} line is shown as it was laid.",
        "Check on the ground that what was noted along it is all there is.",
    ),
}
