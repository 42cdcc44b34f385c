"""Text on sheets can hold anything, and is cut and wrapped by its true width."""

import matplotlib as mpl
import pytest
from hypothesis import given, settings
from hypothesis.strategies import text

from planner.output.sheets.ink import SMALL, clean, drawing, fitted, text_width, wrapped


def test_clean_keeps_one_line_without_what_is_not_to_be_printed() -> None:
    assert clean("a\n b\x00\u202ec\ud800  d") == "a b c d"


def test_joiners_that_scripts_need_stay() -> None:
    assert clean("क्\u200dष") == "क्\u200dष"


def test_width_of_known_letters() -> None:
    # DejaVu Sans: the font's own table gives "m" an advance of 1995 of 2048 units, 0.974 em.
    em = 7.0 * 25.4 / 72.0
    assert text_width("m" * 20, 7.0) == pytest.approx(20 * 0.974 * em, rel=0.01)
    assert text_width("", SMALL) == 0.0


@settings(deadline=None, max_examples=40)
@given(text(max_size=60))
def test_fitted_text_fits(name: str) -> None:
    short = fitted(name, 30.0, SMALL)
    assert text_width(short, SMALL) <= 30.0 or short == "…"
    assert short == clean(name) or short.endswith("…")


def test_wrapped_text_loses_no_word() -> None:
    sentence = (
        "Numbers from elevation data are to be levelled on the ground before pipe is cut. " * 4
    )
    lines = wrapped(sentence, 60.0, SMALL)
    assert " ".join(lines) == sentence.strip()
    assert max(text_width(line, SMALL) for line in lines) <= 60.0
    assert len(lines) < 12


def test_a_word_too_long_for_a_line_is_cut() -> None:
    assert wrapped("a" * 300, 20.0, SMALL)[0].endswith("…")


def test_the_user_s_settings_come_back() -> None:
    before = mpl.rcParams["svg.fonttype"]
    with drawing():
        assert mpl.rcParams["text.parse_math"] is False
    assert mpl.rcParams["svg.fonttype"] == before
