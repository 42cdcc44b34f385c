"""How lists go over pages."""

import io

from reportlab.pdfgen.canvas import Canvas

from planner.output.print.page import Page, upright
from planner.output.print.sheet import Sheet, paged
from planner.output.print.table import HAND, blank, column_names, named
from planner.output.print.type import paragraph

PAGE = Page((595.0, 842.0), "Site", "foot")
WIDTHS = (100.0, 300.0)
COLUMNS = column_names(("one", "two"), WIDTHS)


def laid(sheet: Sheet):
    return paged(Canvas(io.BytesIO()), PAGE, sheet)


def test_the_columns_are_named_on_every_page_that_has_rows():
    rows = tuple(named([str(number)], WIDTHS) for number in range(60))
    pages = laid(Sheet("list", (paragraph("told"),), COLUMNS, rows))
    assert len(pages) == 3
    assert all(any(one is COLUMNS for one, _ in page) for page in pages)
    assert sum(len(page) for page in pages) == 60 + 3 + 1


def test_nothing_runs_over_the_foot_of_a_page():
    rows = tuple(named([f"{number} " + "long " * number], WIDTHS) for number in range(40))
    for page in laid(Sheet("list", (), COLUMNS, rows, foot=(paragraph("end " * 200),))):
        last, down = page[-1]
        assert down + last.wrap(PAGE.width, PAGE.height)[1] <= PAGE.height + 1e-6


def test_the_foot_stays_together():
    rows = tuple(named([""], WIDTHS) for _ in range(int(PAGE.height / HAND) - 2))
    foot = (paragraph("a " * 300), paragraph("b"))
    pages = laid(Sheet("list", (), None, rows, foot=foot))
    assert [one for one, _ in pages[-1]] == list(foot)


def test_spare_rows_fill_what_is_left():
    spare = blank(WIDTHS)
    (page,) = laid(Sheet("form", (), COLUMNS, (named(["a"], WIDTHS),), spare=spare))
    assert sum(1 for one, _ in page if one is spare) > 15
    (bare,) = laid(Sheet("form", (), COLUMNS, (), spare=spare))
    assert bare[0][0] is COLUMNS


def test_a_head_longer_than_a_page_is_broken():
    assert len(laid(Sheet("list", (paragraph("word " * 3000),)))) > 1


def test_papers_for_drawings_give_the_text_page_half_their_size():
    assert upright("A3", "us") == upright("A4", "metric") == upright(None, "metric")
    assert upright("Tabloid", "metric") == upright("Letter", "us") == upright(None, "us")
