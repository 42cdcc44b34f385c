"""What is said of the field: levels measured, what was built, papers wanted, rates of work."""

import datetime
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

Paper = Literal["A4", "A3", "Letter", "Tabloid"]
GroundClass = Literal["soft", "ordinary", "stony", "rock"]
LengthUnit = Literal["m", "ft"]


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured on the ground, beside the sketch and the source.

    Attributes
    ----------
    levels : tuple of Path
        CSV files of readings: level books, hose or water levels, traverses, barometers, known
        points. What a file holds is told by its header.
    unit : {"m", "ft"} or None
        Of readings that carry none; None: metres or feet, as the site's units are.
    stakes : Path or None
        The stake list that went to the field (`stakes.csv` of a plan's folder): it tells where the
        pegs stand that readings name.
    reach : float or None
        How far from a measured point the ground is bent to it [m]; None: as far as errors of such
        elevation data hang together.
    walked : dict
        Line name to the file of the line as it was walked or staked: GPX, GeoJSON, KML,
        GeoPackage, or a stake list. Its heights are never used.
    timings : tuple of (float, float)
        The source's flow, bucket and watch: what the bucket holds [m³] and the time it took to
        fill [s]; it stands in for the flow that was known before.
    date, flow_season : date, {"dry", "wet"} or None
        When those timings were taken.
    """

    levels: tuple[Path, ...] = ()
    unit: LengthUnit | None = None
    stakes: Path | None = None
    reach: float | None = None
    walked: dict[str, Path] = field(default_factory=dict)
    timings: tuple[tuple[float, float], ...] = ()
    date: datetime.date | None = None
    flow_season: Literal["dry", "wet"] | None = None


@dataclass(frozen=True, slots=True)
class Built:
    """A line as it was laid.

    Attributes
    ----------
    line : str
        The line's name, as in the plan.
    along : Path or None
        File of the line where it was laid, as of `Measured.walked`; None: as planned.
    marks : Path or None
        CSV of what was noted along it: `chainage` (or `lon`, `lat`), `depth`, `what`, `photo`,
        `remark`.
    date : date or None
        When it was finished.
    depth : float or None
        Depth all along [m], where no marks tell; None: as planned.
    photos : tuple of str
        Names of pictures of the whole line; they are named, never opened.
    note : str
    """

    line: str
    along: Path | None = None
    marks: Path | None = None
    date: datetime.date | None = None
    depth: float | None = None
    photos: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Papers:
    """How the printed papers are made.

    Attributes
    ----------
    paper : Paper or None
        Of the sheets; None: A4, or Letter where US units are shown.
    revision, drawn_by, owner, datum : str
        Stand in the title block; empty: a blank to fill in by hand.
    stake_interval : float or None
        Distance between stakes [m]; None: 10 m, or 25 ft.
    told : tuple of str
        Whom the law or a neighbour's right asks to be told, as the user knows.
    """

    paper: Paper | None = None
    revision: str = ""
    drawn_by: str = ""
    owner: str = ""
    datum: str = ""
    stake_interval: float | None = None
    told: tuple[str, ...] = ()


DIG_RATES: dict[GroundClass, float] = {"soft": 3.0, "ordinary": 2.0, "stony": 1.2, "rock": 0.4}
"""Trench one person digs in a day by hand [m³]: guesses of the trade, to be put right."""


@dataclass(frozen=True, slots=True)
class Rates:
    """Rates for materials and labour; every default is a guess of the trade, to be put right.

    Attributes
    ----------
    allowance, rough_allowance : float
        Pipe bought beyond its measured length, as a share: coils bend and are cut; more over
        stony ground and rock.
    trench_width : float
        [m].
    bedding : float
        Sand or sifted earth under and round the pipe in stony ground and rock [m].
    ground : GroundClass
        Where no area says otherwise.
    dig : dict
        Trench one person digs in a day [m³], by ground.
    lay : float
        Pipe one person lays, joins and backfills in a day [m].
    load : float
        What one person carries in one trip [kg].
    prices : Path or None
        The user's price list (CSV).
    currency : str
        Stands behind prices.
    """

    allowance: float = 0.05
    rough_allowance: float = 0.10
    trench_width: float = 0.3
    bedding: float = 0.1
    ground: GroundClass = "ordinary"
    dig: dict[GroundClass, float] = field(default_factory=lambda: dict(DIG_RATES))
    lay: float = 60.0
    load: float = 25.0
    prices: Path | None = None
    currency: str = ""
