"""Every sentence, reached by a real check on a plan in trouble, in both unit systems."""

import math
import re

import pytest

from planner.checks.run import run
from planner.checks.table import CHECKS
from planner.record.value import Finding
from planner.site.value import Units
from planner.wording.findings import TEXTS, sentence
from tests.checks.troubles import TROUBLES

UNITS: tuple[Units, ...] = ("metric", "us")


def key(finding: Finding) -> str:
    case = finding.values.get("case")
    return f"{finding.code}/{case}" if case else finding.code


@pytest.mark.parametrize("wanted", sorted(TEXTS))
def test_each_text_is_reached_and_reads_clean(wanted: str) -> None:
    plan = TROUBLES[wanted]()
    hits = [finding for finding in run(plan) if key(finding) == wanted]
    assert hits, "the check did not fire"
    for units in UNITS:
        said = sentence(hits[0], units)
        for text in (said.message, said.remedy):
            assert not re.search(r"[{}\[\]]|\bnan\b|\binf\b|None|unknown amount|–|  | ,", text), (
                text
            )
            assert text.endswith(".")
            assert not text.endswith("..")
            assert text[0].isupper()


def test_every_check_has_words_and_every_text_a_check() -> None:
    said = {text.split("/")[0] for text in TEXTS}
    assert said == {check.code for check in CHECKS}


def test_every_finding_of_all_troubled_plans_has_words() -> None:
    for make in TROUBLES.values():
        for finding in run(make()):
            for units in UNITS:
                assert "unknown amount" not in "".join(
                    (sentence(finding, units).message, sentence(finding, units).remedy)
                )


@pytest.mark.parametrize("part", ["message", "remedy"])
def test_pressure_is_never_said_without_open_closed_or_surge(part: str) -> None:
    for name, text in TEXTS.items():
        said = getattr(text, part)
        if re.search(r"pressure(?! tank)", said.replace("break-pressure", "")):
            assert re.search(r"outlet (open|closed)|surge", said), name


def test_air_trap_reads_as_an_installer_would_say_it() -> None:
    values: dict[str, float | str] = {"rise_m": 0.62, "deeper_m": 0.35}
    trap = Finding("warn", "air-trap", values, "delivery", 64.2)
    said = sentence(trap, "metric")
    assert said.remedy == (
        "Fit an air vent at chainage 64.2 m, or dig 0.35 m deeper there, or move the line."
    )
    assert sentence(trap, "us").remedy == (
        "Fit an air vent at station 2+11, or dig 1.1 ft deeper there, or move the line."
    )


def test_a_trap_no_digging_removes_offers_no_digging() -> None:
    trap = Finding("warn", "air-trap", {"rise_m": 9.0, "deeper_m": math.inf}, "delivery", 64.2)
    assert (
        sentence(trap, "metric").remedy == "Fit an air vent at chainage 64.2 m, or move the line."
    )


def test_names_are_never_read_as_patterns() -> None:
    name = '{line.__class__} [x] <b>"'
    note = Finding("note", "pump-not-used", {"point": name})
    assert name in sentence(note, "metric").message


def test_an_unknown_code_is_a_mistake_of_ours() -> None:
    with pytest.raises(KeyError):
        sentence(Finding("note", "no-such-code"), "metric")
