"""The words of roles, areas and choices on the page, in the trade's language."""

from planner.site.value import AreaRole, PointRole

POINTS: dict[PointRole, str] = {
    "source": "Source",
    "chamber": "Chamber",
    "pump": "Ram",
    "tank": "Tank",
    "outlet": "Outlet",
    "way": "Peg",
}

AREAS: dict[AreaRole, str] = {
    "avoid": "Keep out",
    "costly": "Hard going",
    "stay": "Stay inside",
    "owner": "Owner's land",
}

AREA_MEANS: dict[AreaRole, str] = {
    "avoid": "no pipe is laid here",
    "costly": "each metre of pipe here counts as several",
    "stay": "no pipe leaves it",
    "owner": "whose land it is; told on the papers",
}

GROUNDS = (
    ("", "As elsewhere"),
    ("soft", "Soft"),
    ("ordinary", "Ordinary"),
    ("stony", "Stony"),
    ("rock", "Rock"),
)
FLOW_SEASONS = (("", "Not told"), ("dry", "Dry season"), ("wet", "Wet season"))
SEASONS = (("all-year", "All the year"), ("summer", "Summer only"))
LAID = (("", "As usual"), ("buried", "In a trench"), ("surface", "On the ground"))
UNITS = (("metric", "Metres and litres"), ("us", "Feet and US gallons"))
MAKES = (("commercial", "Bought"), ("home-made", "Home-made"))

STEPS: dict[str, str] = {
    "source": "Where the water is taken. Tell its flow, late in the dry season.",
    "chamber": "Settles the water and feeds the drive pipe. Left out, the program sets one.",
    "pump": "Low, by the stream, above the floods. By gravity alone none is needed.",
    "tank": "Where the water is stored. Tell how much is needed a day.",
    "outlet": "Taps, troughs, gardens: as many as there are.",
}

PROMPTS: dict[str, str] = {
    "source": "Click where the water is taken: spring, creek or intake.",
    "chamber": "Click where the chamber stands: it settles the water and feeds the drive pipe.",
    "pump": "Click where the ram stands: low, by the stream, above the floods.",
    "tank": "Click where the tank stands.",
    "outlet": "Click where the water is used: tap, trough or garden.",
    "way": "Click on a pipe, then drag the peg to where the pipe must pass.",
    "area": "Click the corners one by one; double-click or Enter ends, Escape drops it.",
    "measure": "Click two places: distance, fall and grade between them.",
}

DATA_KINDS = (
    ("", "Not told"),
    ("lidar", "Lidar"),
    ("photogrammetry", "Aerial photographs"),
    ("contours", "Drawn from contours"),
    ("satellite", "Satellite"),
    ("levelled", "Levelled on the ground"),
)
