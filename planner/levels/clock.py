"""Times of readings, from a clock or with a date, to seconds."""

import datetime
import re

from planner.levels.entry import Entry
from planner.units.parse import quoted

DAY = 86_400.0
EPOCH = datetime.datetime(2000, 1, 1)  # of local times; only spans between them count

_CLOCK = re.compile(
    r"(?P<hour>[0-9]{1,2})[:.h](?P<minute>[0-9]{2})(?:[:.](?P<second>[0-9]{2}))?"
    r"\s*(?P<half>[ap])?\.?m?\.?",
    re.IGNORECASE,
)


def seconds(entry: Entry) -> float:
    """When a reading was taken [s], from a beginning that all rows of a file share.

    Raises
    ------
    InputError
        The time is missing or can't be read.

    Notes
    -----
    A time is "14:35", "2:35 pm" or "2025-05-04 14:35"; with a column `date` (2025-05-04) times
    may go past midnight.
    """
    text = entry.cells.get("time")
    if text is None:
        raise entry.wrong("time", "it is empty; write when the barometer was read, such as 14:35")
    clock = _CLOCK.fullmatch(text)
    if clock is not None:
        return _of_day(entry, text, clock) + _day(entry)
    try:
        moment = datetime.datetime.fromisoformat(text)
    except ValueError as error:
        what = f"{quoted(text)} is no time; write one such as 14:35 or 2025-05-04 14:35"
        raise entry.wrong("time", what) from error
    offset = moment.utcoffset() or datetime.timedelta()
    return (moment.replace(tzinfo=None) - EPOCH - offset).total_seconds()


def _of_day(entry: Entry, text: str, clock: re.Match[str]) -> float:
    hour, minute, second = int(clock["hour"]), int(clock["minute"]), int(clock["second"] or 0)
    half = (clock["half"] or "").casefold()
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    elif half:
        hour = 24
    if hour > 23 or minute > 59 or second > 59:
        what = f"{quoted(text)} is no time of the day; write one such as 14:35"
        raise entry.wrong("time", what)
    return 3600.0 * hour + 60.0 * minute + second


def _day(entry: Entry) -> float:
    text = entry.cells.get("date")
    if text is None:
        return 0.0
    try:
        return DAY * (datetime.date.fromisoformat(text) - EPOCH.date()).days
    except ValueError as error:
        what = f"{quoted(text)} is no date; write year, month and day, such as 2025-05-04"
        raise entry.wrong("date", what) from error
