"""Text that any name can hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.output.print.type import MISSING, cut, markup, paragraph, printable, turned, width_of


def test_letters_the_type_has_not_show_as_boxes():
    assert printable("水 well") == f"{MISSING} well"
    assert printable("💧") == MISSING


def test_words_from_right_to_left_are_turned_round():
    said = "tank שלום עולם 12"
    assert turned(said) == "tank םלוע םולש 12"
    assert paragraph(printable(said)).getPlainText() == turned(said)
    assert cut(said, 500.0) == turned(said)


def test_accents_stay_on_their_letters():
    assert printable("Bru\u0308cke") == "Brücke"


def test_markup_is_text():
    assert markup("<b>&") == "&lt;b&gt;&amp;"
    assert paragraph("<b>x & y", lead="</i>").getPlainText() == "</i> <b>x & y"


@given(st.text(max_size=80))
def test_any_text_makes_a_paragraph_of_what_is_printable(text: str):
    said = printable(text)
    assert "\n" not in said
    assert paragraph(text).getPlainText().split() == turned(printable(text, len(text))).split()


@given(st.text(alphabet="abc Wil.", max_size=80), st.floats(20.0, 200.0))
def test_a_cut_text_fits(text: str, width: float):
    said = cut(text, width)
    assert width_of(said) <= width
    assert said == " ".join(text.split()) or said.endswith("…")


@pytest.mark.parametrize("most", [1, 5])
def test_names_are_cut(most: int):
    assert len(printable("a" * 99, most)) == most
