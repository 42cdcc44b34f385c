import datetime

import pytest

from planner.site.edits.field import as_field


@pytest.mark.parametrize(
    ("path", "given", "wanted"),
    [
        (("source", "measured"), "2026-08-20", datetime.date(2026, 8, 20)),
        (("source", "measured"), "soon", "soon"),
        (("tank", "days"), "14", 14),
        (("tank", "days"), 14.0, 14),
        (("tank", "days"), 14.5, 14.5),
        (("lines", "drive", "bend"), "Yes", True),
        (("lines", "drive", "bend"), False, False),
        (("lines", "delivery", "fittings", "elbow"), "3", 3),
        (("lines", "delivery", "least_grade"), "1 %", "1 %"),
        (("source", "flow"), "12 L/min", "12 L/min"),
        (("source", "flow"), "3 gal/min", "3 gal/min"),
        (("title",), "2026", "2026"),
        (("need", "count", "sheep"), "31", 31),
        (("fit", "0", "note"), "12", "12"),
        (("no", "such", "key"), "12", "12"),
        (("title", "of"), "12", "12"),
    ],
)
def test_text_is_taken_as_the_field_takes_it(path, given, wanted):
    taken = as_field(path, given)
    assert taken == wanted
    assert type(taken) is type(wanted)
