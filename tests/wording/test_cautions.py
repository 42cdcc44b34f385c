"""Cautions: each exists, and only those that concern the plan are given."""

from dataclasses import replace

import pytest

from planner.site.value import Laying
from planner.wording.cautions import CAUTIONS, cautions
from tests.checks.altered import base, line, provenance, put, without
from tests.checks.troubles import powered

# A word that each caution of the trade must hold.
WORDS = [
    "waste valve",
    "shut the delivery",
    "compressed air",
    "children",
    "enters a tank or chamber alone",
    "air gap",
    "disinfect",
    "not drinking water",
    "collapse",
    "tip",
    "surge",
    "buried cables",
    "licensed electrician",
    "rights and permits",
    "Local codes and licensed practice",
    "levelled on the ground before pipe is cut",
]


@pytest.mark.parametrize("word", WORDS)
def test_each_caution_exists(word: str) -> None:
    said = [text for _, text in CAUTIONS.values() if word.lower() in text.lower()]
    assert len(said) == 1


def test_cautions_are_short_sentences() -> None:
    for _, text in CAUTIONS.values():
        assert text.endswith(".")
        assert len(text) < 120


def said(name: str) -> str:
    return CAUTIONS[name][1]


def test_a_ram_scheme_warns_of_the_ram_and_not_of_electricity() -> None:
    given = cautions(base())
    assert said("waste-valve") in given
    assert said("delivery-open") in given
    assert said("electric") not in given


def test_a_powered_pump_calls_for_an_electrician() -> None:
    given = cautions(powered(60.0))
    assert said("electric") in given
    assert said("waste-valve") not in given


def test_gravity_has_no_machine_to_fear() -> None:
    given = cautions(put(scheme="gravity"))
    assert not {said("electric"), said("waste-valve"), said("delivery-open")} & set(given)


def test_no_trench_no_caution_of_trenches() -> None:
    plan = base()
    for one in plan.lines:
        surface = replace(one.settings, laying=Laying("surface", -0.3, 0.0, 0.005))
        plan = line(one.name, plan, settings=surface)
    assert said("trench") in cautions(base())
    assert said("trench") not in cautions(plan)
    assert said("services") not in cautions(plan)


def test_no_vessels_no_lids() -> None:
    plan = without("tank", "chamber")
    assert said("lids") not in cautions(plan)
    assert said("load") not in cautions(plan)
    assert said("air-gap") not in cautions(without("outlet"))


def test_levelled_ground_needs_no_levelling() -> None:
    assert said("levels") in cautions(base())
    assert said("levels") not in cautions(provenance(kind="levelled"))


def test_codes_come_first_even_for_an_empty_plan() -> None:
    given = cautions(put(points=(), lines=()))
    assert given[0] == said("codes")
    assert said("rights") in given
