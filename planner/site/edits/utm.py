"""A place in the grid of UTM, Universal Transverse Mercator, zones 1 to 60."""

import re

from planner.errors import SketchError
from planner.site.edits.value import LonLat
from planner.terrain.frame import between
from planner.units.parse import quoted

# Latitude bands of 8 degrees from 80° S; the last has 12. I and O are left out.
BANDS = "CDEFGHJKLMNPQRSTUVWX"
EASTINGS = (100_000.0, 900_000.0)  # m, of a zone and what laps over its borders
LAP = 0.5  # degrees, by which a place may miss its band: people keep the letter of their map

_GRID = re.compile(
    r"(?:utm\s*|zone\s*)*(?P<zone>\d{1,2})\s*(?P<letter>[a-z]|north|south)[\s,;:]+"
    r"(?P<east>\d{5,7}(?:\.\d{1,6})?)\s*m?\s*e?[\s,;]+"
    r"(?P<north>\d{1,8}(?:\.\d{1,6})?)\s*m?\s*n?",
    re.IGNORECASE,
)


def utm_place(text: str) -> LonLat | None:
    """Longitude, latitude of a place in a UTM zone; None where the text is none of the kind.

    The letter after the zone is that of the latitude band, or N for the northern half; the
    southern half is told by a band or by the word south.

    Raises
    ------
    SketchError
        It is of the kind, but no place of the zone, or could be meant in two ways.

    Examples
    --------
    >>> lon, lat = utm_place("30T 484153 4984312")
    >>> round(lon, 4), round(lat, 4)
    (-3.2011, 45.0121)
    """
    found = _GRID.fullmatch(text)
    if found is None:
        return None
    zone, letter = int(found["zone"]), found["letter"].upper()
    east, north = float(found["east"]), float(found["north"])
    if not 1 <= zone <= 60 or (letter not in BANDS and letter not in ("NORTH", "SOUTH")):
        msg = f"{quoted(text)}: {zone}{letter} is no UTM zone; write one such as 30T, or 30 north"
        raise SketchError(msg)
    if not (EASTINGS[0] <= east <= EASTINGS[1] and 0.0 <= north <= 10_000_000.0):
        msg = (
            f"{quoted(text)}: the easting must be 100000 to 900000 and the northing at most "
            "10000000, in metres, easting first"
        )
        raise SketchError(msg)
    return _in_band(text, zone, letter, (east, north))


def _in_band(text: str, zone: int, letter: str, grid: tuple[float, float]) -> LonLat:
    """The place on the side of the equator that the letter tells."""
    if letter in ("NORTH", "N", "SOUTH"):  # N: a band and the half that it lies in
        return _lonlat(zone, grid, south=letter == "SOUTH")
    if letter == "S":
        return _band_or_half(text, zone, grid)
    place = _lonlat(zone, grid, south=letter < "N")
    if not _is_in_band(place, letter):
        half = "S" if place[1] < 0.0 else "N"
        msg = (
            f"{quoted(text)}: its northing lies at {abs(place[1]):.1f}° {half}, which is not in "
            f"band {letter}; check zone and northing"
        )
        raise SketchError(msg)
    return place


def _band_or_half(text: str, zone: int, grid: tuple[float, float]) -> LonLat:
    """S is a band of the northern half, and many write it for the southern half."""
    north = _lonlat(zone, grid, south=False)
    if not _is_in_band(north, "S"):
        return _lonlat(zone, grid, south=True)
    msg = (
        f"{quoted(text)} can be read in two ways, S for south or for the band north of the "
        f'equator; write "{zone} south" or "{zone} north"'
    )
    raise SketchError(msg)


def _is_in_band(place: LonLat, letter: str) -> bool:
    low = -80.0 + 8.0 * BANDS.index(letter)
    high = low + (12.0 if letter == "X" else 8.0)
    return low - LAP <= place[1] <= high + LAP


def _lonlat(zone: int, grid: tuple[float, float], *, south: bool) -> LonLat:
    crs = f"EPSG:{327 if south else 326}{zone:02d}"
    lon, lat = between(crs, "EPSG:4326").transform(*grid)
    return float(lon), float(lat)
