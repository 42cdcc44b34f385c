"""`Moving`: all lines between an end that stays and one that is moved about, ready to be asked.

The field of the end that stays is searched once, over a corridor with room around the end that
moves, and every place asked afterwards takes no search. Digging has no price in it: a field with
one would take minutes. So what is answered is the line as it will run, to a few metres, not the
line of the plan.
"""

from dataclasses import dataclass, replace

from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.band_field import BandField, band_field
from planner.routing.coarse import Coarse
from planner.routing.corridor import Part, corridor_with_room
from planner.routing.ground import Ground
from planner.routing.straighten import BEND_COST, straighten
from planner.routing.walk import Miss, Place
from planner.terrain.sample import cell_of
from planner.terrain.value import FloatArray

ROOM = 48.0  # cells around the end that moves; each further one makes the field larger
WORK = 60_000  # samples looked at to straighten a line, some 5 ms


@dataclass(frozen=True, eq=False, slots=True)
class Moving:
    """The lines to an end that moves.

    Attributes
    ----------
    ground : Ground
    asked : Asked
        Rule, prices and start of a line with vents; without a price of digging.
    part : Part
        The ground that was searched.
    field : BandField
    """

    ground: Ground
    asked: Asked
    part: Part
    field: BandField

    def reaches(self, place: Place) -> bool:
        """Whether lines were looked for as far as this place [m]."""
        cell = cell_of(self.ground.terrain, *place)
        if cell is None:
            return False
        row, col = (at // self.part.side for at in cell)
        return bool(self.part.blocks[row, col])

    def line(
        self, place: Place, *, bend_cost: float = BEND_COST, least_leg: float = 0.0
    ) -> FloatArray | None:
        """The cheapest line to or from a place, straightened; None where there is none.

        Parameters
        ----------
        place : (float, float)
            x, y of the end that moves [m].
        bend_cost, least_leg : float
            As of `straighten` [m].

        Returns
        -------
        (n, 2) ndarray or None
            Vertices [m] from start to end.
        """
        found = self.field.line(place, self.asked.begins if self.field.back else "open")
        if isinstance(found, Miss):
            return None
        return straighten(
            self.ground,
            self.asked,
            found.xy,
            bend_cost=bend_cost,
            least_leg=least_leg,
            work=WORK,
        )


def moving_end(
    ground: Ground,
    coarse: Coarse,
    asked: Asked,
    stays: Place,
    moves: Place,
    *,
    stays_first: bool,
) -> Moving | None:
    """Search the lines to all places around an end that is about to move.

    Parameters
    ----------
    ground : Ground
    coarse : Coarse
        `make_coarse(ground, vent_cost=...)`.
    asked : Asked
        A least grade alone, with vents.
    stays, moves : (float, float)
        x, y of the two ends [m].
    stays_first : bool
        Whether it is the start that stays.

    Returns
    -------
    Moving or None
        None where the ends are cut off from one another, or the one that stays is closed ground.

    Raises
    ------
    MemoryError
        The search outgrew the memory set for it.
    """
    asked = replace(asked, prices=Prices(asked.prices.vent_cost))
    part = corridor_with_room(ground, coarse, stays, moves, room=ROOM)
    if part is None:
        return None
    begins = asked.begins if stays_first else None
    field = band_field(part.grid, stays, asked.rule, asked.prices, begins=begins)
    return None if field is None else Moving(ground, asked, part, field)
