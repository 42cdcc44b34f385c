"""What every model of `plan.json` is made of."""

from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

Number = Annotated[float, Field(allow_inf_nan=False)]
LonLat = tuple[Number, Number]


def _writable(text: Any) -> Any:
    """Names come from strangers' files; half of a surrogate pair can't be written."""
    return text.encode("utf-8", "replace").decode() if isinstance(text, str) else text


Text = Annotated[str, BeforeValidator(_writable)]


class Model(BaseModel):
    """Base: immutable; a key that no field names is an error when we write it."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class BandModel(Model):
    """A figure that is not exactly known; null where it can't be told."""

    low: Number | None
    expected: Number | None
    high: Number | None
