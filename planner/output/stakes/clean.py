"""Names and remarks as one line that every format can hold: what a file said may be anything."""

import unicodedata

MOST = 160  # characters; longer ones are cut


def one_line(text: str, most: int = MOST) -> str:
    r"""The text on one line, without what can't be written, at most so long.

    Control characters, halves of surrogate pairs and code points that are no characters go: XML
    1.0 can't hold them.

    Examples
    --------
    >>> one_line("upper\ttrough\n\x00")
    'upper trough'
    >>> one_line("Long Meadow", 6)
    'Long …'
    """
    held = "".join(c if _held(c) else " " for c in text)
    line = " ".join(held.split())
    return line if len(line) <= most else f"{line[: most - 1]}…"


def _held(character: str) -> bool:
    nowhere = ord(character) & 0xFFFE == 0xFFFE  # the last two of each plane
    return not nowhere and unicodedata.category(character) not in {"Cc", "Cs"}
