"""What was chosen and what routes trade, as a landowner reads it, in metres and in feet."""

from math import nan

import pytest
from shapely.geometry import LineString

from planner.routing.options import Alternative, Choice, Figures, Option
from planner.wording.choices import choice_sentence, shortfall, trades, weightiest

DETOUR = Option("detour", more_m=2.0, pipe_m=18.0, vents=-1)
TRENCH = Option("deeper", more_m=5.0, deeper_m=0.7, deepest_m=1.4, over_m=9.0, vents=-1)
VENT = Option("vent", more_m=26.0, vents=1, at_m=45.5)


@pytest.mark.parametrize(
    ("choice", "metric", "us"),
    [
        (
            Choice(64.0, "vent", 30.0, others=(DETOUR, TRENCH)),
            "Vent at chainage 64.0 m. Next best: 18 m more pipe, or 0.70 m deeper over 9 m"
            " (a trench of 1.4 m).",
            "Vent at station 2+10. Next best: 59 ft more pipe, or 2.3 ft deeper over 30 ft"
            " (a trench of 4.6 ft).",
        ),
        (
            Choice(45.5, "deeper", 4.2, deeper_m=0.51, over_m=8.5, others=(VENT,)),
            "Trench 0.51 m deeper over 8 m, at chainage 45.5 m. Next best: a vent at chainage"
            " 45.5 m.",
            "Trench 1.7 ft deeper over 28 ft, at station 1+49. Next best: a vent at station 1+49.",
        ),
        (
            Choice(
                44.0, "detour", 3.9, pipe_m=3.9,
                others=(Option("vent", more_m=26.0, pipe_m=-3.9, vents=1, at_m=30.0),),
            ),
            "Detour of 4 m, at chainage 44.0 m. Next best: a vent and 4 m less pipe.",
            "Detour of 13 ft, at station 1+44. Next best: a vent and 13 ft less pipe.",
        ),
    ],
)  # fmt: skip
def test_sentences(choice: Choice, metric: str, us: str) -> None:
    assert choice_sentence(choice, "metric") == metric
    assert choice_sentence(choice, "us") == us


def test_a_trench_of_five_feet_or_more_is_to_be_shored() -> None:
    deep = Option("deeper", more_m=5.0, deeper_m=1.3, deepest_m=2.3, over_m=25.0)
    said = choice_sentence(Choice(71.4, "vent", 30.0, others=(deep,)), "metric")
    assert said.endswith("1.30 m deeper over 25 m (a trench of 2.3 m, to be shored).")


def test_what_would_be_cheaper_is_said_to_be_so_but_not_beyond_the_trench_allowed() -> None:
    cheaper = Option("vent", more_m=-140.0, pipe_m=-170.0, vents=1)
    said = choice_sentence(Choice(64.0, "detour", 170.0, pipe_m=170.0, others=(cheaper,)), "metric")
    assert said.endswith("Cheaper: a vent and 170 m less pipe.")
    deep = Option("deeper", more_m=-8.0, deeper_m=1.3, deepest_m=1.3, over_m=25.0)
    assert "Next best" in choice_sentence(Choice(1.0, "vent", 30.0, others=(deep,)), "metric")


def test_no_other_way_and_none_looked_for_are_two_things() -> None:
    assert choice_sentence(Choice(64.0, "vent", 30.0), "metric").endswith("No other way was found.")
    unweighed = choice_sentence(Choice(64.0, "vent", 30.0, detour_weighed=False), "metric")
    assert unweighed == "Vent at chainage 64.0 m. A detour was not looked for."


def test_several_vents_and_a_detour_that_is_no_longer() -> None:
    others = (Option("detour", 0.1, pipe_m=0.1), Option("vent", 90.0, vents=3, at_m=4.0))
    said = choice_sentence(Choice(9.0, "deeper", 3.0, others=others), "metric")
    assert said.endswith("Next best: a way beside it, no longer, that digs less, or 3 vents.")


def test_the_weightiest_come_with_other_ways_and_dear_ones_in_the_order_of_the_line() -> None:
    choices = (
        Choice(1.0, "deeper", 50.0),
        Choice(2.0, "vent", 30.0, others=(DETOUR,)),
        Choice(3.0, "deeper", 2.0, others=(VENT,)),
        Choice(4.0, "deeper", 9.0, others=(VENT,)),
    )
    assert [choice.chainage_m for choice in weightiest(choices, 2)] == [2.0, 4.0]
    assert weightiest(choices, 9) == choices


OWN = Figures(length=207.0, vents=1, digging=4.0, steepest=0.35, cost=241.0, depth=0.52)


def test_rows_tell_what_each_route_trades() -> None:
    figures = Figures(length=225.0, vents=0, digging=0.0, steepest=0.39, cost=225.0, depth=-0.2)
    other = Alternative(LineString([(0, 0), (1, 1)]), "fewer-vents", figures, -16.0, 0.4)
    planned, a = trades(OWN, (other,), "metric")
    assert (planned.letter, planned.reason, planned.cost) == ("", "as planned", "")
    assert (planned.length, planned.vents, planned.trench) == ("207 m", "1 vent", "0.5 m")
    assert (a.letter, a.reason, a.vents, a.trench) == (
        "A",
        "fewer vents",
        "no vent",
        "on the surface",
    )
    assert (a.length, a.steepest, a.cost) == ("225 m", "39 %", "\u221216 m")
    assert trades(OWN, (other,), "us")[1].cost == "\u221252 ft"


@pytest.mark.parametrize(("more", "text"), [(0.2, "the same"), (-0.2, "the same"), (7.6, "+8 m")])
def test_costs_against_the_line(more: float, text: str) -> None:
    other = Alternative(LineString([(0, 0), (1, 1)]), "elsewhere", OWN, more, 0.4)
    assert trades(OWN, (other,), "metric")[1].cost == text


def test_fewer_routes_than_asked_for_are_explained() -> None:
    assert shortfall(3, 3) == ""
    assert shortfall(3, 0).startswith("The land offers no other route")
    assert shortfall(3, 1).startswith("The land offers no more than 1")


def test_an_option_without_a_price_is_still_told() -> None:
    free = Option("deeper", nan, deeper_m=0.3, deepest_m=1.0, over_m=5.0)
    said = choice_sentence(Choice(9.0, "vent", 30.0, others=(free,)), "metric")
    assert "0.30 m deeper over 5 m" in said
