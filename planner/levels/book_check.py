"""The arithmetic of a level book, where its user did it himself."""

from collections.abc import Iterable, Iterator

from planner.levels.book_rows import BookRow, SetUp
from planner.levels.entry import Entry

ROUNDING = 1e-6  # m, of our own sums


def check_arithmetic(setups: Iterable[SetUp]) -> None:
    """That rise, fall, level and height of instrument follow from the sights, where filled in.

    Levels are followed from one filled cell to the next, so that the row that is named is the one
    where the slip was made, and not those that carry it on.

    Raises
    ------
    InputError
        Naming the first cell that does not follow.
    """
    level, run = 0.0, 0
    datum: tuple[float, float] | None = None  # what the user's levels are above ours; its rounding
    for setup in setups:
        if setup.run != run:  # the next run may have another datum
            level, run, datum = 0.0, setup.run, None
        here = level + setup.back.value  # the instrument's
        for index, row in enumerate(setup.rows):
            _, sight = setup.sight(index)
            level = here - sight.value
            if index:
                _check_step(setup, index)
                datum = _follow(row.entry, "level", level, datum)
            else:
                _check_first(row)
                datum = _follow(row.entry, "level", level, datum)
                datum = _follow(row.entry, "height_of_instrument", here, datum)


def _follow(
    entry: Entry, column: str, ours: float, datum: tuple[float, float] | None
) -> tuple[float, float] | None:
    """The datum after a level that the user reckoned, if it follows from that before."""
    written = entry.length(column)
    if written is None:
        return datum
    offset, rounding = written.value - ours, 0.5 * written.step
    if datum is not None and abs(offset - datum[0]) > rounding + datum[1] + ROUNDING:
        right = datum[0] + ours
        what = (
            f"{written.shown} does not follow from the sights, which make it "
            f"{written.like(right)}; reckon this row again, and write a bench mark's own level "
            "into a file of known points"
        )
        raise entry.wrong(column, what)
    return offset, rounding


def _check_first(row: BookRow) -> None:
    """That a back sight alone has no rise or fall."""
    for column in ("rise", "fall"):
        written = row.entry.length(column)
        if "fore" not in row.sights and written is not None and written.value:
            what = "a back sight alone makes no rise or fall; write it at the sight it leads to"
            raise row.entry.wrong(column, what)


def _check_step(setup: SetUp, index: int) -> None:
    """Rise or fall from the row before."""
    entry = setup.rows[index].entry
    rise, fall = entry.length("rise"), entry.length("fall")
    if rise is None and fall is None:
        return
    if rise is not None and fall is not None and rise.value and fall.value:
        raise entry.wrong("fall", "rise and fall are both filled in; keep the one that is")
    ours = setup.sight(index - 1)[1].value - setup.sight(index)[1].value
    filled = [(c, w, s) for c, w, s in (("rise", rise, 1.0), ("fall", fall, -1.0)) if w is not None]
    column, written, sign = max(filled, key=lambda one: abs(one[1].value))
    if abs(sign * written.value - ours) > 0.5 * written.step + ROUNDING:
        right = f"a {'rise' if ours >= 0 else 'fall'} of {written.like(abs(ours))}"
        what = (
            f"{written.shown} does not follow from the sights, which make it {right}; look whether "
            "a sight is written wrongly, or back and fore sight are exchanged"
        )
        raise entry.wrong(column, what)


def check_sums(rows: Iterable[BookRow], sums: Iterable[Entry]) -> None:
    """That the sums at the foot of the book are those of its sights.

    Raises
    ------
    InputError
        Naming the sum that is not.
    """
    rows = tuple(rows)
    for entry in sums:
        for column in ("back", "fore"):
            written = entry.length(column)
            if written is None:
                continue
            ours = sum(_column(rows, column))
            if abs(written.value - ours) > 0.5 * written.step + ROUNDING:
                what = f"the sum {written.shown} is {written.like(ours)} by the rows above it"
                raise entry.wrong(column, f"{what}; look for the row that is wrong")


def _column(rows: Iterable[BookRow], column: str) -> Iterator[float]:
    return (row.sights[column].value for row in rows if column in row.sights)
