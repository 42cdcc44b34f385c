"""`Form`: rows on the page; drawn anew only where other rows are asked for."""

from collections.abc import Sequence

from planner.page.screen.field import Field
from planner.page.screen.row import Row
from planner.page.screen.tags import Tag


class Form(Tag):
    """Fields one below the other."""

    def __init__(self) -> None:
        super().__init__("div", classes="form")
        self._fields: dict[tuple[str, str], Field] = {}

    def show(self, rows: Sequence[Row]) -> None:
        """Show these rows; fields that are there already keep what is being typed in them."""
        keys = [(row.key, row.label) for row in rows]
        if keys != list(self._fields):
            self.clear()
            with self:
                self._fields = {key: Field(row) for key, row in zip(keys, rows, strict=True)}
            return
        for key, row in zip(keys, rows, strict=True):
            self._fields[key].stands(row)
