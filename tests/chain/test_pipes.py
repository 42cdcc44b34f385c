"""Pipes by their trade names: true bores, questions, and rows of the user's own."""

from typing import Any

import pytest

from planner.chain.pipes import named_pipes, wall
from planner.errors import InputError
from planner.hydraulics.derating import temperature_factor
from planner.site.value import LineRole, OwnPipe, Site
from tests.chain.small import settings_of, site

COIL = OwnPipe("my coils", "25 mm", bore=0.0204, outside=0.025, rating=80.0)


def with_pipe(role: LineRole = "delivery", own: tuple[OwnPipe, ...] = (), **pipe: Any) -> Site:
    return site(lines=site().lines | {role: settings_of(role, **pipe)}, own_pipes=own)


def test_a_bore_that_is_given_stays() -> None:
    told = site()
    same, offered = named_pipes(told)
    assert same == told
    assert offered == {}


def test_a_trade_size_has_its_true_bore() -> None:
    """ASTM D2239: the 3/4 in pipe is 0.824 in inside, whatever its class."""
    named, offered = named_pipes(with_pipe(size="3/4 in", standard="ASTM D2239"))
    pipe = named.lines["delivery"].pipe
    assert pipe.bore == pytest.approx(0.824 * 0.0254, rel=1e-3)
    assert not pipe.bore_assumed
    rows = offered["delivery"]
    assert [row.rating for row in rows] == sorted(row.rating for row in rows)
    assert pipe.rating == rows[-1].rating  # the strongest stands
    assert set(offered) == {"delivery"}


def test_of_several_classes_the_strongest_stands_with_the_narrowest_bore() -> None:
    """ISO 4427: 32 mm in SDR 17, 28.0 mm inside; in SDR 11, 26.0."""
    named, offered = named_pipes(with_pipe(size="32 mm", standard="ISO 4427"))
    bores = [row.bore for row in offered["delivery"]]
    assert bores[0] > bores[-1] == named.lines["delivery"].pipe.bore


def test_a_class_that_is_named_is_the_one() -> None:
    told = with_pipe(size="32 mm", standard="ISO 4427", pressure_class="PN 10")
    named, offered = named_pipes(told)
    assert len(offered["delivery"]) == 1
    assert named.lines["delivery"].pipe.rating == pytest.approx(102.0, rel=0.02)  # 10 bar


def test_three_quarters_of_an_inch_asks_which() -> None:
    with pytest.raises(InputError) as caught:
        named_pipes(with_pipe(size="3/4 in"))
    said = str(caught.value)
    assert said.startswith("lines.delivery.pipe: ")
    assert "say which" in said
    assert "ASTM D2239" in said
    assert "ASTM D2737" in said


def test_a_size_that_is_not_made_is_refused() -> None:
    with pytest.raises(InputError, match=r"lines.main.pipe: no pipe of 'ISO 4427' goes by"):
        named_pipes(with_pipe("main", size="33 mm", standard="ISO 4427"))


def test_the_users_own_pipe_is_found() -> None:
    named, offered = named_pipes(with_pipe(own=(COIL,), size="25 mm", standard="my coils"))
    pipe = named.lines["delivery"].pipe
    assert (pipe.bore, pipe.roughness) == (0.0204, 1e-5)
    assert pipe.rating == 80.0
    (row,) = offered["delivery"]
    assert row.bend_radius == pytest.approx(0.5)  # 20 diameters where it is not told
    assert row.wall_least == pytest.approx(0.0023)


def test_an_own_pipe_of_a_common_size_makes_it_a_question() -> None:
    with pytest.raises(InputError, match=r"my coils"):
        named_pipes(with_pipe(own=(COIL,), size="25 mm"))


def test_a_pipe_in_the_sun_bears_less() -> None:
    told = with_pipe(own=(COIL,), size="25 mm", standard="my coils")
    buried = told.lines["delivery"]
    assert wall(buried, 10.0) == 10.0
    laid = site(
        lines=told.lines | {"delivery": settings_of("drive", size="25 mm", standard="my coils")},
        own_pipes=(COIL,),
    )
    assert wall(laid.lines["delivery"], 10.0) == 50.0
    named, _ = named_pipes(laid)
    share = float(temperature_factor("PE metric", 50.0))
    assert named.lines["delivery"].pipe.rating == pytest.approx(80.0 * share)
