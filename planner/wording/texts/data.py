"""Of the elevation data and the sketch."""

from planner.wording.value import Wording

DATA: dict[str, Wording] = {
    "height-unit-assumed": Wording(
        "Neither the elevation file nor the site file says the unit of its heights; metres were"
        " assumed.",
        "Look it up where the data came from and set `height_unit` in the site file; if the"
        " heights are feet, every fall and lift here is more than three times too large.",
    ),
    "height-unit-doubt": Wording(
        "The unit of the elevation file's heights looks wrong[: {why}].",
        "Compare one level with a map or a known height, then set `height_unit` in the site file.",
    ),
    "surface-model": Wording(
        "The elevation data shows the tops of trees and roofs, not the bare ground.",
        "Ask for the bare-earth model of the same area; until then trust no level under trees or"
        " beside buildings, and level the line on the ground.",
    ),
    "data-too-coarse": Wording(
        "A fall of {fall_m:height} cannot be read from elevation data with cells of"
        " {cell_m:length}.",
        "Get finer elevation data, or level the fall on the ground with a hose or builder's level"
        " and enter the levels.",
    ),
    "data-coarsened": Wording(
        "The area is large, so {factor:count} by {factor:count} cells of the elevation data were"
        " averaged into one of {cell_m:length}.",
        "Give a smaller `margin`, or plan the site in two parts, to keep the full detail.",
    ),
    "files-unused": Wording(
        "Some elevation files do not touch the sketch and were not used: {files}.",
        "Take them out of the site file, or check that they are the right ones.",
    ),
    "sketch-ignored": Wording(
        'The sketch holds "{feature}", which neither role nor name explains; it was left out.',
        "Give it a role, such as source, pump, tank or outlet, or remove it.",
    ),
    "swapped-coordinates": Wording(
        "Latitude and longitude stood in the wrong order in the sketch and were exchanged.",
        "See on the map that every point lies where you mean it; in the file, longitude comes"
        " first.",
    ),
    "on-filled-data": Wording(
        "The {line} line crosses {metres_m:length} of ground without elevation data, where levels"
        " were filled in from around it[, first at {chainage_m:station}].",
        "Level this part on the ground before the pipe is cut.",
    ),
    "fall-not-proven/stop": Wording(
        "The fall of {fall_m:height} is not proven: the levels are only good to"
        " ± {uncertainty_m:height}.",
        "Level from the source to the lower end with a hose or builder's level and enter the"
        " levels; until then this plan is a sketch, not a final drawing.",
    ),
    "fall-not-proven/warn": Wording(
        "The fall of {fall_m:height} is known to ± {uncertainty_m:height}; the water delivered is"
        " no surer than that.",
        "Level the fall on the ground before cutting pipe.",
    ),
    "fall-not-proven/half": Wording(
        "Of the fall of {fall_m:height} one end was levelled; the other comes from elevation data[,"
        " so that it is good to ± {uncertainty_m:height}].",
        "Level the other end too before cutting pipe.",
    ),
    "fall-not-proven/note": Wording(
        "The fall of {fall_m:height} comes from elevation data[, good to"
        " ± {uncertainty_m:height}].",
        "Level it on the ground before cutting pipe.",
    ),
}
