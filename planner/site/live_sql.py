"""What a GeoPackage may not hold: queries that run when it is read.

It is a database. A view can count without end, and a generated column fill all memory, whatever
the file's own size.
"""

import sqlite3
from contextlib import closing
from pathlib import Path

from planner.errors import SketchError
from planner.units.parse import quoted

VIEWS = "SELECT name FROM sqlite_master WHERE type = 'view'"
# Of `hidden`, 2 and 3 are columns that are reckoned on reading.
RECKONED = """
SELECT kept.name FROM sqlite_master AS kept, pragma_table_xinfo(kept.name) AS had
WHERE kept.type = 'table' AND kept.sql NOT LIKE 'CREATE VIRTUAL%' AND had.hidden IN (2, 3)
"""


def refuse_live_sql(path: Path) -> None:
    """Refuse a GeoPackage with views or generated columns; only its schema is looked at.

    Raises
    ------
    SketchError
        It has some, or is no database.
    """
    address = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
    try:
        with closing(sqlite3.connect(address, uri=True)) as database:
            found = next((row for sql in (VIEWS, RECKONED) for row in database.execute(sql)), None)
    except sqlite3.Error as error:
        msg = f"{path.name} can't be read as GeoPackage ({error}); save it again"
        raise SketchError(msg) from error
    if found is not None:
        msg = (
            f"{path.name}: {quoted(str(found[0]))} is a query, not a plain table; "
            "save the layer as a table of its own"
        )
        raise SketchError(msg)
