"""Every change has a sentence that reads clean in both unit systems."""

import re

import pytest

from planner.record.value import Change
from planner.wording.changes import TEXTS, change_sentence


@pytest.mark.parametrize("code", sorted(TEXTS))
def test_each_text_reads_clean(code: str) -> None:
    change = Change(code, "delivery", 12.0, 14.5, 0.7, 0.02)
    for said in (change_sentence(change, "metric"), change_sentence(change, "us")):
        assert not re.search(r"[{}\[\]]|\bnan\b|None|unknown amount|  | ,", said), said
        assert said.endswith(".")
        assert said[0].isupper()


def test_the_sentences_that_the_trade_asks_for() -> None:
    fall = Change("fall", "", 2.05, 2.31, 0.7, 0.02)
    assert change_sentence(fall, "metric") == (
        "Fall 2.31 m ± 0.02 m with what was measured, 2.05 m ± 0.70 m from the elevation data."
    )
    assert change_sentence(Change("yield", "", 1.24, 1.41), "metric") == (
        "Delivered 1,240 L/day → 1,410 L/day."
    )
    lower = Change("level/lower", "tank", 500.0, 499.6)
    assert change_sentence(lower, "metric") == (
        "The ground at tank lies 0.40 m lower than the elevation data says."
    )
