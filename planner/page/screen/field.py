"""`Field`: one labelled line of a form, handed over when it is left or Enter is pressed."""

from nicegui import ui
from nicegui.events import GenericEventArguments

from planner.page.screen.row import Row


class Field(ui.element, component="field.js"):
    """A text, a date or a choice.

    Parameters
    ----------
    row : Row
        What it shows and where it goes; trouble is said below the field.
    """

    def __init__(self, row: Row) -> None:
        super().__init__()
        self._row = row
        self._show(row)
        self.on("given", self._given)

    def stands(self, row: Row) -> None:
        """Show another value, but not over what is being typed."""
        if row.value != self._row.value:
            self.props["trouble"] = ""
        self._row = row
        self._show(row)

    def _show(self, row: Row) -> None:
        said = {
            "label": row.label,
            "value": row.value,
            "hint": row.hint,
            "example": row.example,
            "kind": row.kind,
            "wide": row.wide,
            "options": [list(one) for one in row.options],
        }
        for key, value in said.items():
            if self.props.get(key) != value:
                self.props[key] = value

    async def _given(self, event: GenericEventArguments) -> None:
        typed = str(event.args).strip()
        self.props["value"] = typed
        self.props["trouble"] = await self._row.give(typed)
