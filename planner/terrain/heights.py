"""Units of height: what a file says, and whether the ground looks like it."""

from typing import Any

import numpy as np
from pyproj import CRS

from planner.terrain.value import HeightUnit, Provenance, Terrain

# International foot exact by definition (1959); US survey foot 1200/3937 m (Mendenhall order,
# kept for older US state plane data).
METRES_PER: dict[HeightUnit, float] = {"m": 1.0, "ft": 0.3048, "us_ft": 1200.0 / 3937.0}

UNIT_WORDS: dict[HeightUnit, str] = {"m": "metres", "ft": "feet", "us_ft": "US survey feet"}

_NAMES: dict[str, HeightUnit] = {
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("ft", "foot", "feet", "international foot", "international feet"), "ft"),
    **dict.fromkeys(
        ("us survey foot", "us survey feet", "us_survey_foot", "us-ft", "us_ft", "ftus", "foot_us"),
        "us_ft",
    ),
}

STEEP = 1.2  # rise over run, 50°: bare soil does not stand at it
# Of seven real bare-earth models (1 to 30 m cells, hills to alpine) at most 0.4 % of the cells
# are steeper than STEEP; read in feet as metres, 30 to 60 % of the hilly ones' cells are.
STEEP_SHARE = 0.10
HIGHEST_GROUND = 8849.0  # m, Everest (2020 survey)


def unit_in_file(band_unit: str | None, crs: CRS | None) -> HeightUnit | None:
    """The unit of height a file declares: by its band's unit tag, else its vertical CRS."""
    named = _NAMES.get((band_unit or "").strip().lower())
    if named is not None or crs is None:
        return named
    for axis in crs.axis_info:
        if axis.direction in {"up", "down"}:
            return _unit_of_factor(axis.unit_conversion_factor)
    return None


def plan_in_feet(crs: CRS) -> bool:
    """True if x and y of a projected CRS are in feet."""
    return crs.is_projected and _unit_of_factor(_plan_factor(crs)) in {"ft", "us_ft"}


def unit_doubt(terrain: Terrain, *, plan_feet: bool, conflict: str | None) -> str | None:
    """Why the unit of height looks wrong, in one sentence, or None.

    Heights in feet taken for metres make the ground 3.28 times as steep and as high as it is.
    """
    provenance = terrain.provenance
    reasons = [conflict] if conflict else []
    if plan_feet and provenance.height_unit_assumed:
        reasons.append("the file's plan is in feet, so its heights may be in feet too")
    if provenance.height_unit == "m":
        reasons += _implausible(terrain, provenance)
    return "; ".join(reasons) or None


def _implausible(terrain: Terrain, provenance: Provenance) -> list[str]:
    reasons = []
    top = float(np.nanmax(terrain.z))
    if top > HIGHEST_GROUND:
        reasons.append(f"heights up to {top:.0f} m are higher than any ground; they may be in feet")
    share = _steep_share(terrain)
    if share > STEEP_SHARE and not provenance.surface_model:
        reasons.append(
            f"{share:.0%} of the ground would be steeper than 50°; the heights may be in feet"
        )
    return reasons


def _steep_share(terrain: Terrain) -> float:
    """Share of the cells with data whose ground is steeper than `STEEP`."""
    if min(terrain.shape) < 2:
        return 0.0
    down, across = np.gradient(terrain.z, terrain.cell[1], terrain.cell[0])
    slope = np.hypot(down, across)
    known = np.isfinite(slope)
    return float(np.mean(slope[known] > STEEP)) if known.any() else 0.0


def _plan_factor(crs: CRS) -> float:
    return float(crs.axis_info[0].unit_conversion_factor)


def _unit_of_factor(factor: Any) -> HeightUnit | None:
    # The two feet differ by 2 parts in a million, so compare tightly.
    return next((u for u, m in METRES_PER.items() if abs(float(factor) / m - 1.0) < 5e-7), None)
