"""A place as it is typed or pasted: degrees in any of the usual spellings, or a UTM grid place."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import SketchError
from planner.site.edits.utm import utm_place
from planner.site.edits.value import LonLat
from planner.units.parse import quoted

LONGEST = 120  # characters
EXAMPLES = "45.0109, -3.2010 or 45°00'39\"N 3°12'04\"W or 30T 484153 4984312"

Bounds = tuple[float, float, float, float]  # west, south, east, north

_SPELT = {
    "−": "-",
    "–": "-",
    "º": "°",
    "˚": "°",
    "′": "'",
    "’": "'",
    "´": "'",
    "″": '"',
    "”": '"',
    "“": '"',
    "''": '"',
    "\u00a0": " ",
    "\u2009": " ",
    "\u202f": " ",
}
_TOKEN = re.compile(
    r"(?P<number>[+-]?\d{1,9}(?:\.\d{1,20})?)(?![\d.])"
    r"|(?P<label>latitude|longitude|lat|long|lng|lon)(?![a-z])\.?\s*[:=]?"
    r"|(?P<letter>north|south|east|west|[nsew])(?![a-z])"
    r"|(?P<mark>°|'|\"|(?:degrees|deg|minutes|min|seconds|sec)(?![a-z]))"
    r"|(?P<between>[,;/|])"
    r"|(?P<blank>\s+)",
    re.IGNORECASE,
)
_MARKS = {"°": 0, "d": 0, "'": 1, "m": 1, '"': 2, "s": 2}
_AXES = {"n": "lat", "s": "lat", "e": "lon", "w": "lon"}
_LIMITS = {"lat": 90.0, "lon": 180.0}


@dataclass(frozen=True, slots=True)
class _Half:
    """One of the two coordinates: its degrees, and which it is where something tells."""

    degrees: float
    axis: str | None


def typed_place(text: str, *, within: Bounds | None = None) -> LonLat:
    """Longitude, latitude of a place that was typed or pasted.

    Decimal degrees, degrees and minutes, or degrees, minutes and seconds; N, S, E, W or the words
    lat and lon tell which is which, else latitude is taken to come first, as it is written nearly
    everywhere. Or a UTM zone with easting and northing [m].

    Parameters
    ----------
    text : str
    within : (west, south, east, north), optional
        The ground worked on [degrees]: where nothing tells which comes first, and one order alone
        lies there, that order is meant.

    Raises
    ------
    SketchError
        It can't be read, can be read in two ways, or is no place on the Earth.

    Examples
    --------
    >>> typed_place("45.0109, -3.2010")
    (-3.201, 45.0109)
    >>> typed_place("N 45°30', W 3°12'")
    (-3.2, 45.5)
    """
    if len(text) > LONGEST:
        msg = f"{quoted(text)} is too long for one place; write it such as {EXAMPLES}"
        raise SketchError(msg)
    plain = _plain(text)
    grid = utm_place(plain)
    if grid is not None:
        return grid
    first, second = (_half(part, text) for part in _halves(_tokens(plain, text), text))
    return _ordered(first, second, text, within)


Token = tuple[str, str]  # kind, text


def _plain(text: str) -> str:
    """One spelling of marks, brackets off, and decimal points where commas stood for them."""
    for spelt, usual in _SPELT.items():
        text = text.replace(spelt, usual)
    text = re.sub(r"^\s*geo:([^;?]*).*$", r"\1", text)
    text = text.strip().strip("()[]{}<>").strip()
    if "." not in text and (";" in text or len(re.findall(r"\d,\d", text)) == 2):
        text = re.sub(r"(\d),(\d)", r"\1.\2", text)
    return text


def _tokens(plain: str, text: str) -> list[Token]:
    found, at = [], 0
    while at < len(plain):
        match = _TOKEN.match(plain, at)
        if match is None:
            raise SketchError(_unread(text, plain[at]))
        kind = str(match.lastgroup)
        if kind != "blank":
            found.append((kind, match[0].strip(" .:=").lower()))
        at = match.end()
    return found


def _halves(tokens: list[Token], text: str) -> tuple[list[Token], list[Token]]:
    """The tokens of each of the two coordinates."""
    while tokens and tokens[-1][0] == "between":
        tokens.pop()
    told = _where(tokens, "label") or _where(tokens, "letter")
    degrees = [n for n in _where(tokens, "mark") if _MARKS[tokens[n][1][0]] == 0]
    between, numbers = _where(tokens, "between"), _where(tokens, "number")
    if len(between) == 1:
        cut = between[0]
    elif told and not between:
        cut = told[0] + 1 if told[0] > 0 else told[1] if len(told) > 1 else 0
    elif not between and len(degrees) == 2:
        cut = degrees[1] - 1
    elif not between and len(numbers) in (2, 4, 6):
        cut = numbers[len(numbers) // 2]
    else:
        raise SketchError(_unread(text))
    halves = tokens[:cut], tokens[cut:]
    first, second = ([one for one in half if one[0] != "between"] for half in halves)
    return first, second


def _where(tokens: Sequence[Token], kind: str) -> list[int]:
    return [n for n, token in enumerate(tokens) if token[0] == kind]


def _half(tokens: Sequence[Token], text: str) -> _Half:
    axis, negative = _side(tokens, text)
    parts = _parts(tokens, text)
    signs = [part for part in parts if part[0] in "+-"]
    if signs and (len(signs) > 1 or parts[0][0] not in "+-"):
        raise SketchError(_unread(text))
    if negative and parts[0].startswith("-"):
        msg = f"{quoted(text)} has both a minus and S or W; leave out one of them"
        raise SketchError(msg)
    if any("." in part for part in parts[:-1]):
        msg = f"{quoted(text)} has a decimal point before its last part; write {EXAMPLES}"
        raise SketchError(msg)
    degrees, *rest = (abs(float(part)) for part in parts)
    if any(part >= 60.0 for part in rest):
        msg = f"{quoted(text)} has minutes or seconds of 60 or more; write {EXAMPLES}"
        raise SketchError(msg)
    size = degrees + sum(part / 60.0**n for n, part in enumerate(rest, start=1))
    return _Half(-size if negative or parts[0].startswith("-") else size, axis)


def _side(tokens: Sequence[Token], text: str) -> tuple[str | None, bool]:
    """Which of the two it is, None where nothing tells, and whether it is south or west."""
    letters = [word[0] for kind, word in tokens if kind == "letter"]
    labels = [word[:3].replace("lng", "lon") for kind, word in tokens if kind == "label"]
    middle = [kind for kind, _ in tokens if kind != "mark"][1:-1]
    told = {_AXES[letter] for letter in letters} | set(labels)
    if len(letters) > 1 or len(labels) > 1 or len(told) > 1 or "letter" in middle:
        raise SketchError(_unread(text))
    return next(iter(told), None), bool(letters) and letters[0] in "sw"


def _parts(tokens: Sequence[Token], text: str) -> list[str]:
    """Degrees, minutes, seconds as written; a mark must be the one of its place."""
    parts: list[str] = []
    marked = True
    for kind, word in tokens:
        if kind == "number":
            parts.append(word)
            marked = False
        elif kind == "mark":
            if marked or _MARKS[word[0]] != len(parts) - 1:
                raise SketchError(_unread(text, word))
            marked = True
    if not 1 <= len(parts) <= 3:
        raise SketchError(_unread(text))
    return parts


def _ordered(first: _Half, second: _Half, text: str, within: Bounds | None) -> LonLat:
    if first.axis is not None and first.axis == second.axis:
        msg = f"{quoted(text)} gives one coordinate twice; give a latitude and a longitude"
        raise SketchError(msg)
    if first.axis is None and second.axis is None:
        lon_first = _lon_first(first.degrees, second.degrees, within)
    else:
        lon_first = first.axis == "lon" or second.axis == "lat"
    lon, lat = (first, second) if lon_first else (second, first)
    for axis, half in (("lat", lat), ("lon", lon)):
        if abs(half.degrees) > _LIMITS[axis]:
            word = {"lat": "latitude", "lon": "longitude"}[axis]
            msg = (
                f"{quoted(text)} is no place on the Earth: a {word} of {half.degrees:.10g} degrees "
                f"is beyond {_LIMITS[axis]:.0f}; write it such as {EXAMPLES}"
            )
            raise SketchError(msg)
    return lon.degrees, lat.degrees


def _lon_first(first: float, second: float, within: Bounds | None) -> bool:
    """Whether longitude comes first where nothing in the text tells."""
    if within is not None:
        as_told, turned = _is_in(second, first, within), _is_in(first, second, within)
        if as_told != turned:
            return turned
    return abs(first) > _LIMITS["lat"] >= abs(second)


def _is_in(lon: float, lat: float, bounds: Bounds) -> bool:
    west, south, east, north = bounds
    return west <= lon <= east and south <= lat <= north


def _unread(text: str, what: str = "") -> str:
    odd = f" at {quoted(what)}" if what else ""
    return f"{quoted(text)} can't be read as a place{odd}; write it such as {EXAMPLES}"
