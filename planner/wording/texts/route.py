"""Of where a line runs."""

from planner.wording.value import Wording

_BLOCKED = 'No route was found for the {blocked} line from "{start}" to "{end}": '
_REACHED = "[ The nearest it gets is {gap_m:length} from its end.]"

ROUTE: dict[str, Wording] = {
    "line-blocked/closed": Wording(
        _BLOCKED + 'closed ground cuts them off[, at the area "{area}"].' + _REACHED,
        "Leave a gap in the closed area, or move one of the two points to the other side.",
    ),
    "line-blocked/closed-end": Wording(
        _BLOCKED + '"{point}" stands in or against closed ground[, the area "{area}"].',
        "Move the point out of the closed area, or open the area around it.",
    ),
    "line-blocked/void": Wording(
        _BLOCKED + "the elevation data has a hole between them." + _REACHED,
        "Add an elevation file that covers the hole, or move a point so that the line passes it.",
    ),
    "line-blocked/void-end": Wording(
        _BLOCKED + '"{point}" lies on a hole in the elevation data.',
        "Add an elevation file that covers the hole, or move the point to ground that is known.",
    ),
    "line-blocked/fall": Wording(
        _BLOCKED + "their levels leave too little fall[, short by {shortfall_m:height}].",
        "Raise the upper point or lower the lower one[ by at least {shortfall_m:height}], or allow"
        " a flatter grade.",
    ),
    "line-blocked/grade": Wording(
        _BLOCKED
        + "the ground between cannot be crossed at the grade asked for within the trench depth."
        "[ At its nearest miss it is {shortfall_m:height} short of level.][ That is {gap_m:length}"
        ' from "{end}".][ "{near}" is {near_m:length} away.][ The land it reaches ends at the edge'
        " of the elevation data, {edge_m:length} from there.]",
        "Allow a deeper trench[, by {shortfall_m:height} there,] or a flatter grade, or move a"
        " point to ground that falls steadily.[ Or add the elevation data that goes on"
        " {edge_m:length} from there: it may open a way.]",
    ),
    "line-blocked/same": Wording(
        _BLOCKED + "they are the same place, and the line has no length.",
        "Move one of the two points.",
    ),
    "line-blocked/edge": Wording(
        _BLOCKED + "the way leads off the edge of the elevation data." + _REACHED,
        "Read more ground round the sketch with a larger `margin`, or add the neighbouring"
        " elevation file.",
    ),
    "line-blocked/edge-end": Wording(
        _BLOCKED + '"{point}" lies outside the elevation data.',
        "Read more ground round the sketch with a larger `margin`, or add the neighbouring"
        " elevation file.",
    ),
    "leaves-stay": Wording(
        "The {line} line runs {metres_m:length} outside the land it should stay on[, first at"
        " {chainage_m:station}].",
        "Move its ends or way points inside, or get the neighbour's written leave first.",
    ),
    "stream-crossing": Wording(
        "The {line} line crosses a watercourse at {chainage_m:station}.",
        "Cross where the banks are firm, in a sleeve under the bed or hung clear of the flood, and"
        " ask whether the crossing needs a permit.",
    ),
    "too-steep": Wording(
        "The {line} line runs {metres_m:length} on ground steeper than can be walked and trenched"
        " safely, up to {slope:percent} at {chainage_m:station}.",
        "Lead it round with a way point, or lay it on the surface there, anchored every few"
        " metres.",
    ),
    "crossing-drawn": Wording(
        'The {line} line crosses "{crossing}" at {chainage_m:station}.',
        "Ask whom it belongs to, have buried services located, and lay the pipe in a sleeve, or"
        " deep enough for what drives over it.",
    ),
    "steeper-than-asked": Wording(
        "The {line} line falls by up to {grade:percent} at {chainage_m:station}, steeper than the"
        " {limit:percent} asked for, over {metres_m:length}: no gentler way was found there.",
        "Break the fall with a drop chamber, lead the line across the slope with way points, or"
        " allow the steeper grade.",
    ),
    "trench-too-shallow": Wording(
        'In "{area}" the ground can be dug to {depth_m:height} only, and the {line} line needs'
        " {cover_m:height} of cover: {metres_m:length}, first at {chainage_m:station}.",
        "Lead the line round it, or lay it on the rock under a bank of earth that makes up the"
        " cover.",
    ),
    "crosses-owner": Wording(
        'On the land of "{owner}" lie {metres_m:length} of pipe ({lines}).',
        "Agree the way, the trench and later repairs in writing before work starts.",
    ),
    "nobodys-land": Wording(
        "The {line} line runs {metres_m:length} on land of no owner listed.",
        "Find out whose land it is and ask before work starts.",
    ),
}
