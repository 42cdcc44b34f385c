"""How lines are laid and what pipe they have where the site file does not say.

Sources by number as in the project's notes on hydraulics: [S81] bury 6 in below the frost line;
[S83] summer lines about 12 in deep or on the surface; [S42] least grades toward and away from
a vent; pipe makers and hand-laid practice 0.5 - 1 %; [S43] waste lines 1 %. Bores are true inside
diameters: 26.64, 35.05 and 52.50 mm are 1, 1 1/4 and 2 in of ID-controlled polyethylene (ASTM
D2239). Ratings follow the trade's usual class steps of 60 and 100 m.
"""

from typing import Literal

from planner.site.value import Laying, LineRole, LineSettings, Pipe, Season

Manner = Literal["buried", "surface"]

FROST_MARGIN = 0.15  # m below the frost line, 6 in [S81]
COVER = 0.5  # m, fields: 0.3 - 0.5 m
SUMMER_COVER = 0.3  # m, 12 in [S83]
DEEPEST = 1.2  # m, dug by hand without shoring: protection is required from 1.5 m (5 ft) [S84]
LEAST_SLACK = 0.5  # m of depth left to choose from where deep cover is wanted
PROPPED = 0.3  # m, a summer line on stones or blocks
DRIVE_PROPPED = 1.0  # m, a rigid pipe on anchored supports
DRIVE_DUG = 0.5  # m, and dug in where the ground stands in its straight way
VENT_COST = 30.0  # m of pipe, an editable guess of the trade
# m of pipe per m2 of section. The notes name person-days by ground class as the measure and give no
# figure; a guess of the trade: a metre laid at least cover takes half a m2 of section, dug in about
# half of the time and money that the metre costs in all, pipe included.
DIG_COST = 1.0
BEND_COST = 1.0  # m of pipe: a peg, and an elbow or the care of a sweep; an editable guess
LEAST_LEG = 3.0  # m, between bends: half a stick of rigid pipe, about the sweep of a coiled one
STREAM_COST = 10.0  # m of pipe: a sleeve under the bed, 3 m at some three times the pipe's price
CROSSING_COST = 20.0  # m of pipe, a road or track: a sleeve, and its surface made good

LEAST_GRADES: dict[LineRole, float] = {
    "supply": 0.005,
    "drive": 0.01,  # it must carry its air back up to the chamber
    "delivery": 0.005,
    "main": 0.003,  # 1 in 300 away from a vent [S42]
    "distribution": 0.003,
    "waste": 0.01,  # [S43]
    "overflow": 0.01,
}

PE_ROUGHNESS = 1e-5  # m, polyethylene with its joints, for design: 0.01 - 0.05 mm
STEEL_ROUGHNESS = 1.5e-4  # m, galvanised

PIPES: dict[LineRole, Pipe] = {
    "supply": Pipe(0.0525, 60.0, PE_ROUGHNESS, bore_assumed=True),
    "drive": Pipe(0.0525, 250.0, STEEL_ROUGHNESS, bore_assumed=True),  # 2 in steel, schedule 40
    "delivery": Pipe(0.02664, 100.0, PE_ROUGHNESS, bore_assumed=True),
    "main": Pipe(0.03505, 100.0, PE_ROUGHNESS, bore_assumed=True),
    "distribution": Pipe(0.02664, 100.0, PE_ROUGHNESS, bore_assumed=True),
    "waste": Pipe(0.100, 60.0, PE_ROUGHNESS, bore_assumed=True),
    "overflow": Pipe(0.075, 60.0, PE_ROUGHNESS, bore_assumed=True),  # a size above the inlet
}


def default_manner(role: LineRole, season: Season) -> Manner:
    """Summer lines lie on the surface, others in the ground; a drive pipe on its supports."""
    return "surface" if role == "drive" or season == "summer" else "buried"


def default_cover(season: Season, frost_depth: float | None) -> float:
    """Least cover of a buried line [m]: below the frost where the water runs all year."""
    if season == "summer":
        return SUMMER_COVER
    return max(COVER, (frost_depth or 0.0) + FROST_MARGIN)


def default_deepest(least_cover: float) -> float:
    """Deepest trench [m] of a line with this least cover."""
    return max(DEEPEST, least_cover + LEAST_SLACK)


def default_propped(role: LineRole) -> float:
    """How far a surface line may stand above the ground [m]."""
    return DRIVE_PROPPED if role == "drive" else PROPPED


def default_line(
    role: LineRole,
    season: Season = "all-year",
    frost_depth: float | None = None,
    manner: Manner | None = None,
) -> LineSettings:
    """Settings of one role's lines where the site file says nothing of them.

    Parameters
    ----------
    role : LineRole
    season : {"all-year", "summer"}
        When the water runs.
    frost_depth : float, optional
        How deep the ground freezes [m].
    manner : {"buried", "surface"}, optional
        As the user chose; otherwise by role and season.
    """
    chosen = manner or default_manner(role, season)
    if chosen == "surface":
        cover, deepest = -default_propped(role), DRIVE_DUG if role == "drive" else 0.0
    else:
        cover = default_cover(season, frost_depth)
        deepest = default_deepest(cover)
    laying = Laying(
        chosen,
        cover,
        deepest,
        LEAST_GRADES[role],
        VENT_COST,
        # A pipe on the surface is not dug in: what lies lower is propped less.
        dig_cost=0.0 if chosen == "surface" else DIG_COST,
        bend_cost=BEND_COST,
        least_leg=LEAST_LEG,
    )
    return LineSettings(laying=laying, pipe=PIPES[role])
