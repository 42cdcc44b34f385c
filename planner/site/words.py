"""What a thing is, told by its name: the trade's words for points and areas."""

import re
import unicodedata

from planner.errors import SketchError
from planner.site.value import AreaRole, PointRole
from planner.units.parse import quoted

LONGEST_NAME = 80  # characters
# Marks that turn the direction of writing: a name could show as another one.
BIDI = set("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")

POINT_PHRASES: dict[PointRole, str] = {
    "source": "source,spring,spring box,spring catchment,spring eye,creek,intake,headworks",
    "chamber": "chamber,settling chamber,settling basin,settling tank,sedimentation tank,"
    "silt trap,silt box,silt tank,header tank,drive tank,feed tank,standpipe",
    "pump": "pump,ram,hydram,hydraulic ram",
    "tank": "tank,storage tank,water tank,cistern,reservoir",
    "outlet": "outlet,tap,trough,hydrant,tapstand,standpost,hose bibb,waterer,stock tank,"
    "stock trough",
    "way": "way,way point,waypoint,via",
}
AREA_PHRASES: dict[AreaRole, str] = {
    "avoid": "avoid,no dig,keep out",
    "costly": "costly,rock,rocky",
    "stay": "stay,stay inside,parcel,own land",
    "owner": "owner,land of",
}
# Of lines alone. A "track" is what a GPS calls the way it was carried.
CROSSING_WORDS = re.compile(
    r"\b(?:crossing|road|lane|railway|stream|creek|brook|river|ditch|canal)s?\b"
)


def _longest_first(phrases: dict[PointRole, str] | dict[AreaRole, str]) -> list[tuple[str, str]]:
    pairs = [(phrase, role) for role, words in phrases.items() for phrase in words.split(",")]
    return sorted(pairs, key=lambda pair: -len(pair[0]))


POINT_WORDS = _longest_first(POINT_PHRASES)
AREA_WORDS = _longest_first(AREA_PHRASES)


def clean_name(name: str, place: str) -> str:
    """A name as it may stand on a drawing: one line, no control characters; markup stays text.

    Raises
    ------
    SketchError
        It is longer than 80 characters.
    """
    clean = clean_text(name)
    if len(clean) > LONGEST_NAME:
        msg = (
            f"{place}: the name {quoted(clean)} has {len(clean)} characters; "
            f"give one of at most {LONGEST_NAME}"
        )
        raise SketchError(msg)
    return clean


def clean_text(text: str) -> str:
    r"""A text on one line, without control characters; markup stays text.

    Examples
    --------
    >>> clean_text("two\nlines \u202eof <b>")
    'two lines of <b>'
    """
    kept = (
        " " if unicodedata.category(c) in ("Cc", "Zl", "Zp") else c
        for c in text
        if unicodedata.category(c) != "Cs" and c not in BIDI and ord(c) & 0xFFFE != 0xFFFE
    )
    return unicodedata.normalize("NFC", " ".join("".join(kept).split()))


def slug(name: str) -> str:
    """A name as a part of a line's name and of file names: ASCII letters, digits and dashes.

    Examples
    --------
    >>> slug("Stock trough, É 2"), slug("水")
    ('stock-trough-e-2', '')
    """
    ascii_only = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", ascii_only).strip("-")[:40].strip("-")


def point_roles(name: str) -> set[str]:
    """The point roles that a name speaks of; one is an answer, several are a doubt.

    Examples
    --------
    >>> point_roles("Header tank 2"), point_roles("camp")
    ({'chamber'}, set())
    """
    return _roles(name, POINT_WORDS)


def area_roles(name: str) -> set[str]:
    """The area roles that a name speaks of."""
    return _roles(name, AREA_WORDS)


def is_crossing(name: str) -> bool:
    """Whether a line's name tells that it is a road, a stream or the like.

    Examples
    --------
    >>> is_crossing("Mill Brook"), is_crossing("Track 7")
    (True, False)
    """
    return CROSSING_WORDS.search(name.casefold()) is not None


def _roles(name: str, words: list[tuple[str, str]]) -> set[str]:
    rest = " ".join(re.findall(r"[^\W\d_]+", name.casefold()))
    found = set()
    for phrase, role in words:
        rest, count = re.subn(rf"\b{phrase}s?\b", "|", rest)
        if count:
            found.add(role)
    return found
