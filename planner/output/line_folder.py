"""The folder of one line drawn by hand: its profile as JSON and as a sheet."""

import datetime
import json
from pathlib import Path

from planner.errors import OutputError
from planner.output.free import LINE_FILES, free_for_line, why_not
from planner.output.line_json import line_document
from planner.output.replace import replacing
from planner.output.sheets.content import SheetContent
from planner.output.sheets.write import write_svg
from planner.record.value import Line
from planner.site.value import Units
from planner.terrain.value import Terrain


def write_line_folder(
    line: Line, terrain: Terrain, folder: str | Path, *, title: str, units: Units
) -> Path:
    """Write `profile.json` (one entry of `lines[]`) and `profile.svg`, whole or not at all.

    Files of other names in the folder stay as they are.

    Raises
    ------
    OutputError
        The folder can't be written, or holds files of those names that are not of this program.
    """
    today = datetime.datetime.now(tz=datetime.UTC).date()
    sheet = SheetContent(title, "gravity", line, terrain, units, today)
    target = free_for_line(folder)
    try:
        with replacing(target, LINE_FILES.__contains__) as fresh:
            text = json.dumps(line_document(line, terrain), allow_nan=False, indent=1)
            (fresh / "profile.json").write_text(text + "\n", encoding="utf-8")
            write_svg(sheet, fresh / "profile.svg", paper="Letter" if units == "us" else "A4")
    except OSError as error:
        msg = f"the profile's folder {folder} can't be written: {why_not(error)}"
        raise OutputError(msg) from error
    return target
