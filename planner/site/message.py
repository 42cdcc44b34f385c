"""One sentence from what pydantic found wrong: where it stands, what it is, what would be right."""

from typing import Any

from pydantic import ValidationError

from planner.units.parse import quoted

WANTED = {
    "bool_type": "true or false, without quotes",
    "int_type": "a whole number, without quotes",
    "int_from_float": "a whole number",
    "float_type": "a number, without quotes",
    "finite_number": "a finite number",
    "string_type": "text in quotes",
    "list_type": "a list in square brackets",
    "tuple_type": "a pair in square brackets",
    "dict_type": "a table such as {name = 1}",
    "date_type": "a date such as 2026-08-20, without quotes",
    "date_from_datetime_inexact": "a date such as 2026-08-20, without the time",
}


def sentence(error: ValidationError) -> str:
    """The first of the errors as one line, without the file's name.

    Examples
    --------
    >>> from planner.site.file import SourceTable
    >>> try:
    ...     SourceTable.model_validate({"season": "autumn"})
    ... except ValidationError as error:
    ...     sentence(error)
    'season: "autumn" is not one of the words known here; write "dry" or "wet"'
    """
    first = error.errors(include_url=False)[0]
    where = place(first["loc"])
    return f"{where}: {_wrong(first)}" if where else _wrong(first)


def place(loc: tuple[int | str, ...]) -> str:
    """A key's place as a person counts: `sketch.points no. 2, at`."""
    if loc and loc[-1] == "[key]":  # the key itself is wrong: the message shows it
        loc = loc[:-2]
    text = ""
    for part in loc:
        if isinstance(part, int):
            text += f" no. {part + 1}"
        elif text and text[-1].isdigit():
            text += f", {part}"
        else:
            text += f".{part}" if text else part
    return text


def _wrong(error: Any) -> str:
    kind, given = error["type"], error["input"]
    if kind == "value_error":
        return str(error["ctx"]["error"])
    if kind == "literal_error":
        words = error["ctx"]["expected"].replace("'", '"')
        return f"{quoted(given)} is not one of the words known here; write {words}"
    if kind in WANTED:
        return f"{quoted(given)} is not right here; write {WANTED[kind]}"
    if kind in ("too_short", "too_long", "missing"):
        return f"{quoted(given)} has too few or too many parts; {_limits(error)}"
    if kind == "string_too_long":
        return f"{quoted(given)} is too long; write at most {error['ctx']['max_length']} characters"
    wanted = error["msg"].removeprefix("Input should be ")
    return f"{quoted(given)} can't be right; it must be {wanted}"


def _limits(error: Any) -> str:
    context = error.get("ctx", {})
    least, most = context.get("min_length"), context.get("max_length")
    if least is None and most is None:
        return "write a pair in square brackets"
    return f"write {'at least' if most is None else 'at most'} {least if most is None else most}"
