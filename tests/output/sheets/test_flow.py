"""Text over columns and pages: all of it, in order, inside its columns; headings never alone."""

from itertools import pairwise

from hypothesis import given, settings
from hypothesis.strategies import integers, lists

from planner.output.sheets.figures import columns_of, figure_pages
from planner.output.sheets.flow import Piece, finding, flowed, heading, paragraph
from planner.output.sheets.numbering import numbered
from planner.output.sheets.paper import PAPERS, Box, block_of
from planner.output.water.groups import water_groups
from planner.wording.cautions import cautions
from tests.output.worked import worked_plan

COLUMNS = [Box(0.0, 0.0, 60.0, 100.0), Box(70.0, 40.0, 130.0, 100.0)]


def _text(piece: Piece) -> str:
    return " | ".join(" ".join(lines) for lines in piece.cells)


@settings(deadline=None, max_examples=30)
@given(lists(integers(0, 60), max_size=40))
def test_pieces_keep_their_order_and_their_columns(counts: list[int]) -> None:
    pieces: list[Piece] = []
    for number, count in enumerate(counts):
        if count % 7 == 0:
            pieces.append(heading(f"Title {number}", 60.0))
        pieces.append(paragraph(f"{number} " + "word " * count, 60.0))
    pages = flowed(pieces, COLUMNS)
    placed = [one for page in pages for one in page]
    said = [_text(one.piece) for one in placed if not _text(one.piece).endswith(", continued")]
    assert said == [_text(piece) for piece in pieces]
    for one in placed:
        column = COLUMNS[0] if one.left == 0.0 else COLUMNS[1]
        assert one.top <= column.top
        assert (
            one.top - one.piece.height
            >= column.bottom - one.piece.height * (one.top == column.top) - 8.0
        )
    for page in pages:
        for one, following in pairwise(page):
            if one.piece.heading:
                assert following.left == one.left


def test_a_finding_keeps_its_number_and_its_words() -> None:
    piece = finding(12, "stop", "Do it. " * 30, 80.0)
    assert (piece.number, piece.level) == (12, "stop")
    assert " ".join(piece.cells[0]) == ("Do it. " * 30).strip()


def test_columns_stand_clear_of_the_title_block() -> None:
    for paper in PAPERS:
        block = block_of(paper)
        assert not any(column.overlaps(block) for column in columns_of(paper))


def test_the_last_sheets_hold_every_finding_figure_and_caution_whole() -> None:
    plan = worked_plan()
    for paper in PAPERS:
        pages = figure_pages(plan, paper)
        said = {
            _text(one.piece).replace("[delivery]", "").strip() for page in pages for one in page
        }
        for one in numbered(plan):
            assert f"{one.remedy} {one.message}" in said
        assert set(cautions(plan)) <= said
        for group in water_groups(plan):
            for row in group.rows:
                assert f"{row.label} | {row.figure} | {row.source}" in said
        needed = [text for text in said if text.startswith("Needed | ")]
        assert len(needed) == 1
