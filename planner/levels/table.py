"""A file of readings to rows of text: each line of the file with its number, nothing dropped."""

import csv
import os
import re
import stat
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from planner.errors import InputError
from planner.levels.value import Row

LARGEST_FILE = 5_000_000  # bytes
MOST_ROWS = 3_000
MOST_COLUMNS = 60
LONGEST_LINE = 20_000  # characters
LONGEST_NAME = 60  # characters of a file's name in a message
SEPARATORS = ",;\t"
_NUMBERED = re.compile(r"\s*#[0-9][^,;\t]*[,;\t]")  # "#1, 1.425": a station, most likely
HIDDEN = {"Cc", "Zl", "Zp"}  # control characters, and what breaks a line unseen


@dataclass(frozen=True, slots=True)
class Table:
    """A separated table as text.

    Attributes
    ----------
    name : str
        Of the file, without its folder.
    header : tuple of str
        As written.
    head : Row
        Where the header stands.
    lines : tuple of (Row, tuple of str)
        Rows with something in them, each as long as the header; blanks around cells are gone.
    decimal_comma : bool
        Whether a comma inside a number is its decimal point: it is where it parts no columns.
    """

    name: str
    header: tuple[str, ...]
    head: Row
    lines: tuple[tuple[Row, tuple[str, ...]], ...]
    decimal_comma: bool


def read_table(path: Path, name: str = "", *, most: int = MOST_ROWS) -> Table:
    """The table in a file of comma, semicolon or tab separated text in UTF-8.

    Blank lines and lines that begin with `#` are no rows.

    Parameters
    ----------
    path : Path
    name : str, optional
        Of the file in messages, where its own is not enough.
    most : int, optional
        Rows.

    Raises
    ------
    InputError
        The file can't be read, is too large or no text, or a row has more cells than the header.
    """
    name = shown_name(name or path.name)
    text = _text(path, name)
    told = [
        (Row(name, number), line)
        for number, line in enumerate(text.split("\n"), start=1)
        if line.strip(" \t;,") and not _is_remark(line, Row(name, number))
    ]
    if not told:
        msg = f"{name} holds no readings; write a line of column names and a row for each reading"
        raise InputError(msg)
    (head, first), *rest = told
    if len(rest) > most:
        msg = f"{name} has {len(rest):,} rows; keep those of one site, at most {most:,}"
        raise InputError(msg)
    separator = max(SEPARATORS, key=first.count)
    header = _cells(first, separator, head)
    if len(header) > MOST_COLUMNS:
        msg = f"{head} names {len(header)} columns; keep those of the readings"
        raise InputError(msg)
    lines = tuple((row, _row(line, separator, row, len(header))) for row, line in rest)
    return Table(name, header, head, lines, decimal_comma=separator != ",")


def shown_name(name: str) -> str:
    """A file's name as it stands in a message and in a row: one short line."""
    plain = "".join(c if c.isprintable() else " " for c in name[-LONGEST_NAME:])
    return " ".join(plain.split()) or "the file of readings"


def _text(path: Path, name: str) -> str:
    try:
        status = path.stat()
        content = path.read_bytes() if _readable(status) else b""
    except FileNotFoundError as error:
        msg = f"the file of readings {name} is not there; give the path of a file that is"
        raise InputError(msg) from error
    except (OSError, ValueError) as error:
        msg = f"{name} can't be read; check its path and who may read it"
        raise InputError(msg) from error
    if not stat.S_ISREG(status.st_mode):
        msg = f"{name} is a folder or a device; give the path of a file of readings"
        raise InputError(msg)
    if status.st_size > LARGEST_FILE:
        msg = f"{name} has {status.st_size / 1e6:,.1f} MB; a file of readings has at most 5 MB"
        raise InputError(msg)
    return _decoded(content, name)


def _readable(status: os.stat_result) -> bool:
    return stat.S_ISREG(status.st_mode) and status.st_size <= LARGEST_FILE


def _decoded(content: bytes, name: str) -> str:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        msg = f"{name} is not text in UTF-8; save the table again as CSV in UTF-8"
        raise InputError(msg) from error
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for number, line in enumerate(text.split("\n"), start=1):
        if any(unicodedata.category(c) in HIDDEN for c in line if c != "\t"):
            msg = (
                f"{Row(name, number)} holds control characters, so it is no plain table; "
                "save the readings again as CSV in UTF-8"
            )
            raise InputError(msg)
    return text


def _is_remark(line: str, row: Row) -> bool:
    if _NUMBERED.match(line):
        msg = f"{row} begins with # and a number; name that station without #, which marks remarks"
        raise InputError(msg)
    return line.lstrip().startswith("#")


def _cells(line: str, separator: str, row: Row) -> tuple[str, ...]:
    if len(line) > LONGEST_LINE:
        msg = f"{row} has {len(line):,} characters; a row has at most {LONGEST_LINE:,}"
        raise InputError(msg)
    try:
        (cells,) = csv.reader([line], delimiter=separator, strict=True, skipinitialspace=True)
    except csv.Error as error:
        msg = f"{row} opens a quote that does not end in it; end it on the same line"
        raise InputError(msg) from error
    return tuple(cell.strip() for cell in cells)


def _row(line: str, separator: str, row: Row, width: int) -> tuple[str, ...]:
    cells = _cells(line, separator, row)
    if any(cells[width:]):
        why = " (a decimal comma parts columns here; write a point)" if separator == "," else ""
        msg = f"{row} has {len(cells)} cells, but the header names {width} columns{why}"
        raise InputError(msg)
    return (cells + ("",) * width)[:width]
