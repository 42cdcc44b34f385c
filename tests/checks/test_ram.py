"""The ram's beat, blow, size, delivery pipe and start, on the worked example of the notes."""

import pytest

from planner.band import Band
from planner.hydraulics.ram_start import STEPS
from planner.record.value import Plan
from planner.wording.findings import sentence
from planner.wording.texts.ram import STEP_WORDS
from tests.checks.altered import base, found, pipe, put, water
from tests.checks.works import ram


def told(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


def remedy(plan: Plan, code: str) -> str:
    (finding,) = found(plan, code)
    return sentence(finding, "metric").remedy


def test_a_ram_that_beats_well_is_left_in_peace() -> None:
    assert found(ram(), "ram-beats") == []
    assert found(ram(), "ram-stalls") == []


def test_too_fast_is_told_with_the_length_and_the_load_that_mend_it() -> None:
    # 2.4 m of fall, 2 in pipe, valve at 0.8 m/s: 60 beats want 19.7 m of drive pipe.
    assert remedy(ram(9.0), "ram-beats").startswith(
        "Beats too fast: lengthen the drive pipe to about 20 m, or use the heavier valve load"
        " (about 3.7 times the force, drawing 92.0 L/min)"
    )


def test_a_load_that_draws_more_than_there_is_is_not_advised() -> None:
    assert remedy(ram(9.0, taken=40 / 60000), "ram-beats") == (
        "Beats too fast: lengthen the drive pipe to about 20 m, or use a narrower drive pipe."
    )


def test_a_length_that_other_rules_forbid_is_not_advised() -> None:
    # 20 m are over 10 times a fall of 1.2 m, and under 150 bores of 0.3 m pipe.
    flat = water(ram(9.0), fall=Band.exact(1.2))
    assert "lengthen" not in remedy(flat, "ram-beats")
    assert "lengthen" not in remedy(pipe("drive", ram(9.0), bore=0.3), "ram-beats")


@pytest.mark.parametrize(
    ("plan", "want"),
    [
        (ram(9.0), ("warn", "fast")),
        (ram(9.0, tuned=True), ("note", "fast")),
        (ram(80.0), ("warn", "slow")),
        (ram(80.0, tuned=True), ("note", "slow")),
        (ram(closing=0.05), ("stop", "nothing")),
        (ram(closing=0.05, tuned=True), ("stop", "nothing")),
    ],
)
def test_levels_of_a_bad_beat(plan: Plan, want: tuple[str, str]) -> None:
    assert told(plan, "ram-beats") == [want]


def test_a_ram_that_draws_more_than_may_be_taken() -> None:
    # At 0.8 m/s in 52.5 mm the worked example draws some 45 l/min.
    (finding,) = found(ram(taken=6e-4), "ram-draws-more")
    drawn = float(finding.values["draws"])
    assert drawn * 60000 == pytest.approx(45.0, rel=0.1)
    assert found(ram(taken=drawn / 1.09), "ram-draws-more") == []
    assert len(found(ram(taken=drawn / 1.11), "ram-draws-more")) == 1
    assert found(ram(closing=9.0, taken=1e-5), "ram-draws-more") == []  # it stalls: said there


def test_a_valve_too_heavy_stops_the_work() -> None:
    plan = ram(closing=9.0)
    assert told(plan, "ram-stalls") == [("stop", None)]
    assert told(plan, "ram-beats") == []


@pytest.mark.parametrize(
    ("rating", "want"),
    # Twice 24 m at each beat; the water's full speed stopped dead at some 1.7 m/s: 223 m.
    [(47.9, ("warn", "beating")), (48.0, ("note", "blocked")), (223.0, ("note", "blocked"))],
)
def test_the_blow_against_the_drive_pipe(rating: float, want: tuple[str, str]) -> None:
    assert told(pipe("drive", ram(), rating=rating), "ram-peak") == [want]
    assert found(pipe("drive", ram(), rating=224.0), "ram-peak") == []


def test_twice_the_lift_is_asked_where_no_more_is_known() -> None:
    plan = water(lift=Band(13, 14, 15))
    assert told(pipe("drive", plan, rating=27.9), "ram-peak") == [("warn", "beating")]
    assert found(pipe("drive", plan, rating=28.0), "ram-peak") == []
    assert found(put(scheme="gravity", lines=plan.lines), "ram-peak") == []


@pytest.mark.parametrize(
    ("flow", "bore", "want"),
    # 0.15 to 0.5 m/s in 52.5 mm are 19.5 to 64.9 l/min.
    [
        (19.4, 0.0525, ("warn", "wide")),
        (19.6, 0.0525, ("note", "single")),
        (64.8, 0.0525, ("note", "single")),
        (65.1, 0.0525, ("warn", "narrow")),
        (1200.0, 0.25, ("note", "parallel")),
        (0.6, 0.0525, ("warn", "none")),
    ],
)
def test_the_size_of_the_ram(flow: float, bore: float, want: tuple[str, str]) -> None:
    assert told(ram(flow=flow / 60000, bore=bore), "ram-size") == [want]


def test_neighbours_and_stages() -> None:
    (single,) = found(ram(), "ram-size")
    assert [single.values[k] for k in ("smaller_m", "bore_m", "larger_m")] == [0.04, 0.05, 0.065]
    (stages,) = found(ram(lift=60.0), "ram-size")
    assert stages.values["case"] == "stages"
    assert stages.values["second_m"] == 0.032


def test_what_the_neighbouring_delivery_pipes_cost() -> None:
    (note,) = found(ram(), "delivery-size")
    said = sentence(note, "metric").message
    assert "15.8 mm would cost 160 L/day; 26.6 mm would bring 28 L/day more" in said


def test_bores_that_are_one_size_in_the_shop_are_no_neighbours() -> None:
    (note,) = found(ram(bores=(0.0158, 0.0208, 0.0209, 0.0210, 0.0266)), "delivery-size")
    assert note.values["wider_m"] == 0.0266
    assert note.values["narrower_m"] == 0.0158
    assert note.values["case"] == "fits"


def test_the_start_is_told_in_the_order_of_the_valves() -> None:
    assert set(STEP_WORDS) == set(STEPS)
    said = remedy(ram(), "ram-start")
    places = [said.lower().index(STEP_WORDS[step].lower()) for step in STEPS]
    assert places == sorted(places)
    (note,) = found(ram(), "ram-start")
    assert note.values["few"] == 3.0
    assert 3.0 < float(note.values["many"]) < 200.0


def test_without_works_nothing_is_told_of_the_ram() -> None:
    codes = ("ram-stalls", "ram-beats", "ram-size", "delivery-size", "ram-start")
    assert [found(base(), code) for code in codes] == [[]] * 5
    assert [found(put(scheme="powered", water=ram(9.0).water), code) for code in codes] == [[]] * 5
