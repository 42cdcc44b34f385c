"""The errors a user can meet, one tree.

    HeadfallError
    ├── InputError (ValueError)        the input can't be used; the command ends with status 2
    │   ├── UnitError                  a quantity's text can't be read
    │   ├── SiteError                  the site file
    │   ├── SketchError                points, lines, areas
    │   ├── TerrainError               the elevation data
    │   └── OutsideRange               a number no formula here can take
    ├── NoRoute (ValueError)           no pipe can be laid under the rule; in a plan, a finding
    └── OutputError (OSError)          results can't be written

Each carries one sentence on what was wrong, which value, where and what would be right.
"""

from typing import Literal


class HeadfallError(Exception):
    """Root of all errors that are meant to be read by the person at the keyboard.

    Parameters
    ----------
    message : str
        One clear sentence: which value is wrong, where it stands, what would be right.
    """

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message

    def __str__(self) -> str:
        return self.message


class InputError(HeadfallError, ValueError):
    """The input can't be used; the message says which value, where, and what would be right."""


class UnitError(InputError):
    """A quantity's text has no unit, an unknown one, or one of another kind."""


class SiteError(InputError):
    """The site file is missing, can't be parsed, or holds a value that can't be."""


class SketchError(InputError):
    """The points, lines or areas of the sketch can't be used."""


class TerrainError(InputError):
    """The elevation data can't be read or does not reach where it is needed."""


class OutsideRange(InputError):
    """A number lies outside what a formula can take (NaN, negative, zero where it divides)."""


Obstacle = Literal["closed", "void", "fall", "grade", "edge"]


class NoRoute(HeadfallError, ValueError):
    """No pipe can be laid between two ends under the rule.

    Parameters
    ----------
    message : str
        One sentence for the user.
    obstacle : {"closed", "void", "fall", "grade", "edge"}
        What blocks: a closed area, missing elevation data, ends whose levels leave no fall,
        land that can't be crossed at the grade, or the edge of the data.
    where : (float, float) or None
        x, y [m] of the nearest miss, in the terrain's grid.
    shortfall : float or None
        By how much the nearest miss falls short, in m of level (for "fall" and "grade") or of
        distance; None where that can't be told.
    edge : (float, float) or None
        x, y [m] where the land reached ends at the edge of the elevation data, if more data there
        may open a way.
    """

    def __init__(
        self,
        message: str,
        *,
        obstacle: Obstacle,
        where: tuple[float, float] | None = None,
        shortfall: float | None = None,
        edge: tuple[float, float] | None = None,
    ) -> None:
        super().__init__(message)
        self.obstacle: Obstacle = obstacle
        self.where = where
        self.shortfall = shortfall
        self.edge = edge


class OutputError(HeadfallError, OSError):
    """A result can't be written; nothing half-written is left behind."""


class HeadfallWarning(UserWarning):
    """Root of the warnings this package gives."""


class OutsideRangeWarning(HeadfallWarning):
    """A figure was asked for beyond the published data; it is given as NaN, not extrapolated."""
