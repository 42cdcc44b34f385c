"""`Hands`: keys, files dropped anywhere on the page, pasted text, and whether the line holds."""

from nicegui import ui


class Hands(ui.element, component="hands.js"):
    """Tells "undo", "redo", "leave" (Escape), "pasted", "arriving" and "arrived" as events.

    Files are sent to `upload`; what that answers comes with "arrived", the file's name in it.
    """

    def __init__(self) -> None:
        super().__init__()
        self.props["words"] = "Drop it: elevation data, or points and areas (GPX, KML, GeoJSON)"
