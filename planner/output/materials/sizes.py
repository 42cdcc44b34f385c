"""What a pipe and what fits it are called: words, codes, and the way it is joined."""

import re
from dataclasses import dataclass

from planner.output.materials.value import Article, Unit
from planner.record.value import Line
from planner.record.works import PipeRun
from planner.site.value import Units
from planner.units.show import show
from planner.wording.quantity import FOOT

BARBED = "ASTM D2239"  # PE of controlled inside diameter takes inserts with clamps
LONGEST = 120  # characters of a code
FEET = 5.0  # coils and sticks are sold by round feet; the catalogue has them in metres


@dataclass(frozen=True, slots=True)
class Fit:
    """A pipe's size as fittings are ordered for it, and how it is joined.

    Attributes
    ----------
    words : str
        "1 in ASTM D2239", or bore and material where no size was named.
    coupling : str
        The fitting that joins two pieces.
    clamps : int
        Clamps on each end that is pushed on: two a barb is common.
    glued, threaded : bool
        Whether its joints take solvent cement, or thread sealing.
    """

    words: str
    coupling: str
    clamps: int = 0
    glued: bool = False
    threaded: bool = False

    @property
    def code(self) -> str:
        """Of this size, within the codes of its fittings."""
        return slug(self.words)


def slug(text: str) -> str:
    """Text as part of a code.

    Examples
    --------
    >>> slug("1 1/4 in, ASTM D2239")
    '1-1-4-in-astm-d2239'
    """
    return re.sub(r"[^a-z0-9]+", "-", text.casefold()).strip("-")[:LONGEST] or "other"


def fit_of(line: Line, run: PipeRun | None, units: Units) -> Fit:
    """The size of a run; of a line whose pipe is not chosen, by its bore."""
    if run is None:
        return Fit(_bore(line.settings.pipe.bore, units), "coupling to fit the pipe bought")
    pipe = run.pipe
    size = f"{pipe.nominal} {pipe.standard}"
    words = size if run.named else f"{_bore(run.bore, units)} {pipe.material}"
    if pipe.material == "steel":
        return Fit(words, "socket, threaded", threaded=True)
    if pipe.material == "PVC":
        return Fit(words, "coupling, solvent joint", glued=True)
    if pipe.standard == BARBED:
        return Fit(words, "insert coupling, barbed", clamps=2)
    return Fit(words, "compression coupling")


def pipe_article(line: Line, run: PipeRun | None, units: Units) -> Article:
    """The pipe itself, as it is ordered."""
    if run is None:
        said = line.settings.pipe
        size, bears = _bore(said.bore, units), show(said.rating, "head", units, decimals=0)
        words = f"Pipe, {size}, class not chosen (to bear {bears} of water)"
        return Article(slug(f"pipe {size} {bears}"), "pipe", "buy", words, "m", labels=(size,))
    piece = piece_words(run.piece, units)
    mass = run.pipe.mass * run.piece
    unit: Unit = run.form
    if run.named:
        words, name = f"Pipe, {run.label}, {run.form} of {piece}", run.label
        labels: tuple[str, ...] = (run.label,)
    else:
        size, bears = _bore(run.bore, units), show(run.rating, "head", units, decimals=0)
        name, labels = f"{size} {bears} {run.pipe.material}", (run.label, size)
        words = (
            f"Pipe, {size}, to bear {bears} of water; class not chosen, "
            f"nearest made: {_made(run)}, {run.form} of {piece}"
        )
    code = slug(f"pipe {name} {piece}")
    return Article(code, "pipe", "buy", words, unit, pack=run.piece, mass=mass, labels=labels)


def piece_words(length: float, units: Units) -> str:
    """The length of a coil or stick as a shop names it.

    Examples
    --------
    >>> piece_words(152.0, "us"), piece_words(100.0, "us"), piece_words(100.0, "metric")
    ('500 ft', '328.1 ft', '100 m')
    """
    feet = length / FOOT
    rounded = round(feet / FEET) * FEET
    if units == "us" and abs(rounded - feet) < 0.005 * feet:
        return f"{rounded:.0f} ft"
    return show(length, "length", units).replace(".0 ", " ")


def _made(run: PipeRun) -> str:
    pipe = run.pipe
    parts = (pipe.nominal, pipe.standard, pipe.grade, pipe.series, pipe.pressure_class)
    return " ".join(filter(None, parts))


def _bore(bore: float, units: Units) -> str:
    return f"{show(bore, 'bore', units)} bore".replace(".0 ", " ")
