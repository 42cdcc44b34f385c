"""The scales of a section: the largest round ones that fit the paper."""

from dataclasses import dataclass

from planner.output.sheets.measure import Measure

STEEPEST = 10.0  # times the heights may be exaggerated; the trade's usual limit
NARROW = 100.0  # mm; a section is not made narrower than this to keep its heights true


@dataclass(frozen=True, slots=True)
class Scales:
    """A section drawn 1:`horizontal` along and 1:`vertical` up."""

    horizontal: int
    vertical: int

    @property
    def exaggeration(self) -> float:
        """How many times steeper the section looks than the land."""
        return self.horizontal / self.vertical


def choose_scales(
    run: float,
    rise: float,
    width: float,
    height: float,
    measure: Measure,
    along: int | None = None,
) -> Scales:
    """The largest round scales at which a line fits.

    Heights are exaggerated at most `STEEPEST` times. On steep land, where the heights would come
    out flattened, the section is drawn shorter instead, but not under `NARROW` mm.

    Parameters
    ----------
    run, rise : float
        Horizontal extent and range of levels [m], 0 or more.
    width, height : float
        Room on paper [mm], > 0.
    along : int, optional
        The n of the scale along, where it is settled; heights may then come out flattened.
    """
    across = along or fitting(run, width, measure)
    up = max(fitting(rise, height, measure), _first(measure, across / STEEPEST))
    up = next((n for n in measure.scales if n >= up and _plain(across / n)), up)
    if up > across and along is None:
        narrowest = max((n for n in measure.scales if on_paper(run, n) >= NARROW), default=across)
        across = max(across, min(up, narrowest))
    return Scales(across, up)


def fitting(length: float, room: float, measure: Measure) -> int:
    """The n of the largest round scale 1:n at which `length` [m] fits into `room` [mm]."""
    return next((n for n in measure.scales if on_paper(length, n) <= room), measure.scales[-1])


def on_paper(length: float, scale: float) -> float:
    """`length` [m] drawn at 1:`scale` [mm]."""
    return length * 1000.0 / scale


def _plain(exaggeration: float) -> bool:
    """Whole or half: 2, 2.5, 4, but not 6.67."""
    return exaggeration >= 1.0 and (2.0 * exaggeration).is_integer()


def _first(measure: Measure, least: float) -> int:
    return next((n for n in measure.scales if n >= least), measure.scales[-1])
