"""What every table of the site file is: closed, strict, and helpful with a key misspelt."""

import difflib
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from planner.units.parse import quoted

LONGEST_LABEL = 40  # characters


def _printable(given: Any) -> Any:
    if not isinstance(given, str):
        return given
    if not (given.strip() and given.isprintable()):
        msg = f"{quoted(given)} is no name; write letters and digits on one line"
        raise ValueError(msg)
    if len(given) > LONGEST_LABEL:
        msg = f"{quoted(given)} is too long; write at most {LONGEST_LABEL} characters"
        raise ValueError(msg)
    return given


# A word that the program looks up, such as a pipe's size or standard.
Label = Annotated[str, BeforeValidator(_printable), Field(max_length=LONGEST_LABEL)]


class Table(BaseModel):
    """A table of the site file; it knows its keys and says which was meant."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, strict=True, allow_inf_nan=False, title=None
    )

    @model_validator(mode="before")
    @classmethod
    def _keys(cls, given: Any) -> Any:
        if not isinstance(given, dict):
            if isinstance(given, cls):
                return given
            msg = f"{quoted(given)} is no table; write its keys under a heading in brackets"
            raise ValueError(msg)
        for key in given:
            if key not in cls.model_fields:
                raise ValueError(cls._unknown(str(key)))
        for key, field in cls.model_fields.items():
            if field.is_required() and key not in given:
                example = (field.examples or ["..."])[0]
                msg = f'the key "{key}" is missing; add it, such as {key} = {example}'
                raise ValueError(msg)
        return given

    @classmethod
    def _unknown(cls, key: str) -> str:
        near = difflib.get_close_matches(key.lower(), cls.model_fields, n=1)
        if near:
            return f'there is no key {quoted(key)} here; "{near[0]}" is probably meant'
        return f"there is no key {quoted(key)} here; the keys are {', '.join(cls.model_fields)}"
