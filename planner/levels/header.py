"""What each header means: columns by their names and units, and kinds of files by their columns.

A file of readings is a table with one line of column names. Case, blanks, points and underlines
in the names do not matter; a unit may stand behind one ("back_ft", "back (m)"), and behind any
figure ("1.234 m", 4' 3"); lengths without are in the unit of the site. Columns in brackets may be
left out, and other ones, which are left aside, may be there. `SYNONYMS` holds the words taken.

A level book, by rise and fall or by height of instrument; one row a station, and a row with both
a fore and a back sight is a change point::

    station, back, [intermediate,] fore [, rise, fall] [, height_of_instrument] [, level]
        [, distance | back_distance, fore_distance] [, lon, lat] [, remark]

`distance` is that from the row before; the other two are lengths of the sights. Rise, fall, level
and height of instrument are checked where they are filled in, and otherwise reckoned.

A hose or water level; what rises from one station to another, or the two readings of its scale::

    from, to, rise [, fall] [, distance] [, lon, lat] [, remark]
    from, to, from_reading, to_reading [, distance] [, lon, lat] [, remark]

`up` and `down` are other words for rise and fall; lon and lat are those of the station led to.

A traverse by tape and clinometer, from eye height to a mark at eye height::

    from, to, slope_distance | horizontal_distance, angle | grade [, bearing] [, lon, lat]
        [, remark]

Angles are in degrees above the level, or minus so many below it, grades in percent, bearings in
degrees from true north.

A barometer, brought back to its base::

    station, time, altitude | pressure [, temperature] [, date] [, lon, lat] [, remark]

Known points::

    station, level [, error] [, lon, lat] [, remark]

The points of one file share a datum, which need not be that of another file. A bench mark that a
level book begins at or ends on belongs here: levels in a book are what its user reckoned.
"""

import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

from planner.errors import InputError
from planner.levels.table import Table
from planner.units.parse import LENGTHS, quoted

Kind = Literal["level book", "hose level", "traverse", "barometer", "known points"]

SYNONYMS: dict[str, str] = {
    "station": "station,stn,sta,point,pt,stake,peg,mark,name,pointname,stationname,staffstation,"
    "stationno,pointno,stakeno,pegno",
    "back": "back,backsight,backsights,backsighting,bs,backreading",
    "intermediate": "intermediate,intermediatesight,intermediatesights,inter,intersight,intsight,"
    "is,ifs,int,intermediateforesight,sideshot,ss",
    "fore": "fore,foresight,foresights,foresighting,fs,forereading",
    "rise": "rise,rises,up",
    "fall": "fall,falls,drop,down",
    "level": "level,reducedlevel,rl,elevation,elev,knownlevel,knownelevation,benchmarklevel",
    "height_of_instrument": "heightofinstrument,instrumentheight,hi,hpc,hoc,collimation,"
    "heightofcollimation,heightofplaneofcollimation,planeofcollimation,collimationheight,"
    "collimationlevel",
    "distance": "distance,dist,length,tapedistance,hoselength",
    "back_distance": "backdistance,backsightdistance,bsdistance,distanceback",
    "fore_distance": "foredistance,foresightdistance,fsdistance,distancefore",
    "lon": "lon,longitude,lng,long",
    "lat": "lat,latitude",
    "remark": "remark,remarks,note,notes,comment,comments,description,desc",
    "from": "from,start,fromstation,frompoint,fromstake,frompeg",
    "to": "to,end,tostation,topoint,tostake,topeg",
    "from_reading": "fromreading,readingfrom,readingatfrom,fromscale,scalefrom,startreading",
    "to_reading": "toreading,readingto,readingatto,toscale,scaleto,endreading",
    "slope_distance": "slopedistance,slopedist,slopelength,sd,tape,taped,tapelength,alongslope",
    "horizontal_distance": "horizontaldistance,horizontaldist,horizontal,hd,hdist,plandistance,"
    "levelleddistance,run",
    "angle": "angle,verticalangle,slopeangle,inclination,clinometer,clino,abney,va",
    "grade": "grade,gradient,slopepercent,anglepercent",
    "bearing": "bearing,azimuth,truebearing,az",
    "time": "time,clock,timeofday,datetime,timestamp",
    "date": "date,day",
    "altitude": "altitude,alt,altimeter,altimeterreading,barometeraltitude",
    "pressure": "pressure,airpressure,barometer,barometricpressure,baro",
    "temperature": "temperature,temp,airtemperature",
    "error": "error,standarderror,stderr,uncertainty,accuracy,plusminus,±",
}
MEANING = {word: column for column, words in SYNONYMS.items() for word in words.split(",")}

ANGLES = {"deg": "degree", "degree": "degree", "degrees": "degree", "°": "degree"}
SHARES = {"%": "percent", "percent": "percent", "pct": "percent"}
PRESSURES = {
    "hpa": "hectopascal",
    "mbar": "hectopascal",
    "mb": "hectopascal",
    "millibar": "hectopascal",
    "kpa": "kilopascal",
    "pa": "pascal",
    "inhg": "inch_Hg",
    "mmhg": "mmHg",
}
TEMPERATURES = {
    "c": "degC",
    "°c": "degC",
    "degc": "degC",
    "f": "degF",
    "°f": "degF",
    "degf": "degF",
}
UNITS = {**LENGTHS, **ANGLES, **SHARES, **PRESSURES, **TEMPERATURES}
_SPELT = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
_WITH_UNIT = re.compile(
    rf"(?P<name>.+?)(?:[\s_,:/-]+(?:in[\s_]+)?|\s*[(\[]\s*(?:in\s+)?|(?=[%°]))"
    rf"(?P<unit>{_SPELT})\s*[)\]]?"
)

PLACED = {"lon", "lat", "remark"}
SHOT = {"from", "to"} | PLACED
# Kind -> the columns it uses, and the sets of them of which one must be there.
KINDS: dict[Kind, tuple[set[str], tuple[set[str], ...]]] = {
    "level book": (
        {"station", "back", "intermediate", "fore", "rise", "fall", "level"}
        | {"height_of_instrument", "distance", "back_distance", "fore_distance"}
        | PLACED,
        ({"station", "back", "fore"},),
    ),
    "traverse": (
        SHOT | {"slope_distance", "horizontal_distance", "angle", "grade", "bearing"},
        tuple(
            {"from", "to", far, up}
            for far in ("slope_distance", "horizontal_distance")
            for up in ("angle", "grade")
        ),
    ),
    "hose level": (
        SHOT | {"rise", "fall", "from_reading", "to_reading", "distance"},
        (
            {"from", "to", "rise"},
            {"from", "to", "fall"},
            {"from", "to", "from_reading", "to_reading"},
        ),
    ),
    "barometer": (
        {"station", "time", "date", "altitude", "pressure", "temperature"} | PLACED,
        ({"station", "time", "altitude"}, {"station", "time", "pressure"}),
    ),
    "known points": ({"station", "level", "error"} | PLACED, ({"station", "level"},)),
}
# Columns of instruments' readings: beside them a level is what someone reckoned, no known one.
READINGS = {"back", "intermediate", "fore", "from", "to", "time", "altitude", "pressure"}
KINDS_TOLD = (
    "a level book (station, back, intermediate, fore), a hose level (from, to, rise, or from, to, "
    "from_reading, to_reading), a traverse (from, to, slope_distance, angle), a barometer "
    "(station, time, altitude or pressure) or known points (station, level)"
)


@dataclass(frozen=True, slots=True)
class Column:
    """What a column means: its name in this module's docstring, and pint's unit if it names one."""

    name: str
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Header:
    """The kind of a file, what its columns hold (None: left aside), and those left aside."""

    kind: Kind
    columns: tuple[Column | None, ...]
    aside: tuple[str, ...]


def column_of(said: str) -> Column | None:
    """What a column's name means; None if nothing here.

    Examples
    --------
    >>> column_of("Back sight (ft)")
    Column(name='back', unit='foot')
    >>> column_of("R.L.").name, column_of("photo")
    ('level', None)
    """
    plain = unicodedata.normalize("NFKC", said).casefold().strip()
    found = _WITH_UNIT.fullmatch(plain)
    if found is None or _squashed(found["name"]) not in MEANING | {"slope": ""}:
        name = MEANING.get(_squashed(plain))
        return None if name is None or "%" in plain else Column(name)
    unit, name = UNITS[found["unit"]], _squashed(found["name"])
    if name in ("slope", "angle") or MEANING.get(name) in ("angle", "grade"):
        meant = {"degree": "angle", "percent": "grade"}.get(unit)
        return None if meant is None else Column(meant, unit)
    return Column(MEANING[name], unit)


def read_header(table: Table) -> Header:
    """What the columns of a table are, and which kind of file they make.

    Raises
    ------
    InputError
        A column is there twice, or the columns make no kind of file.
    """
    columns = tuple(column_of(said) for said in table.header)
    names = [column.name for column in columns if column is not None]
    for name in names:
        if names.count(name) > 1:
            twice = [
                said
                for said, column in zip(table.header, columns, strict=True)
                if column is not None and column.name == name
            ]
            msg = f"{table.head}: {_listed(twice)} both mean {name}; keep one of them"
            raise InputError(msg)
    kind = _kind(set(names), table)
    used = tuple(c if c is not None and c.name in KINDS[kind][0] else None for c in columns)
    filled = [any(cells[i] for _, cells in table.lines) for i in range(len(columns))]
    aside = tuple(
        said or f"column {number}"
        for number, (said, column) in enumerate(zip(table.header, used, strict=True), start=1)
        if column is None and (said or filled[number - 1])
    )
    return Header(kind, used, aside)


def _kind(names: set[str], table: Table) -> Kind:
    found: list[Kind] = [
        kind for kind, (_, must) in KINDS.items() if any(needed <= names for needed in must)
    ]
    if "known points" in found and names & READINGS:
        found.remove("known points")
    if "traverse" in found and "hose level" in found:  # the rise was reckoned from the angle
        found.remove("hose level")
    if len(found) == 1:
        return found[0]
    said = f"{table.head} has the columns {_listed(table.header)}"
    if found:
        msg = f"{said}, which make a {' and a '.join(found)}; give each kind a file of its own"
    else:
        msg = f"{said}; {_hint(names, table)}{KINDS_TOLD}"
    raise InputError(msg)


def _hint(names: set[str], table: Table) -> str:
    """What is known of a table of no kind, to begin the list of what it could be."""
    squashed = {_squashed(said.casefold()) for said in table.header}
    if {"from", "to"} <= names and "distance" in names and names & {"angle", "grade"}:
        return "say whether it is the slope_distance or the horizontal_distance; what is read is "
    if "slope" in squashed:
        return "say whether slope is an angle (degrees) or a grade (%); what is read is "
    if squashed & {"ele", "altitude", "alt", "hdop", "gpsheight"} or {"level", "time"} <= names:
        return (
            "heights of a phone or handheld GPS are never levels, and a barometer's readings need "
            "their time; what is read is "
        )
    if {"chainagem", "groundm"} <= squashed:
        return "a stake list tells where stakes stand and holds no readings; what is read is "
    return "name them as those of "


def _listed(said: tuple[str, ...] | list[str]) -> str:
    shown = ", ".join(quoted(one)[1:-1] for one in said[:12] if one)
    return f'"{shown}"' + (" and more" if len(said) > 12 else "")


def _squashed(text: str) -> str:
    return "".join(c for c in text if c.isalnum() or c == "±")
