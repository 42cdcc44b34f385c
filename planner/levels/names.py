"""Names of stations as they were written in the field, to one name for each."""

import re
import unicodedata
from collections.abc import Collection

from planner.errors import InputError
from planner.levels.value import Row
from planner.site.words import clean_name
from planner.units.parse import quoted

_TOKENS = re.compile(r"[^\W\d_]+|\d+")


class StationNames:
    """The stations met so far, beside the stakes that went to the field.

    A name is one met before, or a stake, if it differs in case and blanks alone; else it is a
    stake if it differs from that one alone in blanks, dashes and leading noughts ("De 7", "De07").

    Parameters
    ----------
    stakes : collection of str
    """

    def __init__(self, stakes: Collection[str] = ()) -> None:
        self._met = {_same(name): name for name in stakes}
        self._stakes: dict[tuple[str, ...], list[str]] = {}
        for name in stakes:
            self._stakes.setdefault(_near(name), []).append(name)
        self.notes: list[str] = []

    def find(self, text: str, row: Row) -> str:
        """The one name of a station.

        Raises
        ------
        InputError
            It is empty, too long, or near to several stakes.
        """
        name = clean_name(text, str(row))
        if not name:
            msg = f"{row} names no station; write its name"
            raise InputError(msg)
        if _same(name) not in self._met:
            self._met[_same(name)] = self._stake(name, row) or name
        return self._met[_same(name)]

    def _stake(self, name: str, row: Row) -> str | None:
        near = self._stakes.get(_near(name), []) if _near(name) else []
        if len(near) > 1:
            told = " or ".join(quoted(one) for one in near[:3])
            msg = f"{row}: {quoted(name)} can be the stake {told}; write it as the stake list does"
            raise InputError(msg)
        if not near:
            return None
        self.notes.append(f"{row}: {quoted(name)} was taken for the stake {quoted(near[0])}")
        return near[0]


def shown(name: str) -> str:
    """A station's name as it stands in a message: printable, and short."""
    return quoted(name)[1:-1]


def _same(name: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def _near(name: str) -> tuple[str, ...]:
    """What is left of a name without blanks, dashes and leading noughts."""
    return tuple(part.lstrip("0") or "0" for part in _TOKENS.findall(_same(name)))
