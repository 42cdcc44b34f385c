"""How a drawing office measures: scales, steps and figures in metres or in feet."""

from dataclasses import dataclass

from planner.site.value import Units
from planner.wording.quantity import FOOT


@dataclass(frozen=True, slots=True)
class Measure:
    """One system of lengths on paper.

    Attributes
    ----------
    symbol : str
        "m" or "ft".
    metres : float
        Metres in one unit.
    scales : tuple of int
        Round scales, the n of 1:n, from large to small.
    level, chainage_word : str
        The trade's words for height and for distance along the line.
    decimals : int
        Of a level.
    """

    symbol: str
    metres: float
    scales: tuple[int, ...]
    level_word: str
    chainage_word: str
    decimals: int

    def level(self, metres: float) -> str:
        """A level or a depth, without its unit; "–" where it is not known."""
        return _signed(metres / self.metres, self.decimals)

    def head(self, metres: float) -> str:
        """A pressure head, without its unit; "–" where it is not known."""
        return _signed(metres / self.metres, 1)

    def chainage(self, metres: float) -> str:
        """A distance along the line, without its unit; in feet as a station, 1+00."""
        if self.symbol == "m":
            return _signed(metres, 1)
        hundreds, rest = divmod(round(metres / self.metres, 1), 100.0)
        return f"{hundreds:.0f}+{rest:04.1f}"

    def mark(self, metres: float) -> str:
        """A chainage as it stands at a mark: a whole station without decimals, 1+25."""
        text = self.chainage(metres)
        return text.removesuffix(".0") if self.symbol == "ft" else text

    def along(self, metres: float) -> str:
        """A chainage in a sentence: with its unit, or as a station."""
        return f"{self.chainage(metres)} m" if self.symbol == "m" else self.mark(metres)

    def spoken(self, scale: int) -> str:
        """A scale as it is written on a sheet: 1:500, 1 in = 50 ft (1:600)."""
        if self.symbol == "m":
            return f"1:{scale}"
        return f"1 in = {scale / 12:g} ft (1:{scale})"


def _signed(value: float, decimals: int) -> str:
    if value != value:  # noqa: PLR0124 - NaN
        return "–"
    text = f"{value:.{decimals}f}"
    if float(text) == 0.0:
        text = text.removeprefix("-")
    return text.replace("-", "−")


def _decades(steps: tuple[float, ...], first: int, count: int) -> tuple[int, ...]:
    return tuple(int(step * first * 10**power) for power in range(count) for step in steps)


# Metric: 1, 2, 2.5, 5 in each decade. US: inches to 10, 20, 30, 40, 50, 60 feet, the faces of an
# engineer's scale, in each decade.
METRIC = Measure("m", 1.0, _decades((1, 2, 2.5, 5), 10, 6), "level", "Chainage", 2)
US = Measure("ft", FOOT, _decades((1, 2, 3, 4, 5, 6), 12, 6), "elevation", "Station", 1)


def measure(units: Units) -> Measure:
    """The measure of a site's units."""
    return METRIC if units == "metric" else US


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is at least `least` (> 0)."""
    power = 1e-6
    while True:
        for step in (1.0, 2.0, 5.0):
            if step * power >= least * (1 - 1e-9):
                return step * power
        power *= 10.0
