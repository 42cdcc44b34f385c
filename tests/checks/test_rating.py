"""Pressures with their state, classes by stretch, tanks that break the pressure."""

import pytest

from planner.record.value import Plan
from planner.wording.findings import sentence
from tests.checks.altered import base, found
from tests.checks.works import pressed


def told(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("drop", "velocity", "want"),
    # Rated 100 m; PE bears 1.5 times that of surge. 400 m/s over g at 3 m/s: 122 m of surge.
    [
        (79.9, 0.1, []),
        (80.1, 0.1, [("warn", "open-near")]),
        (99.9, 0.1, [("warn", "open-near")]),
        (100.1, 0.1, [("stop", "open")]),
        (27.0, 3.0, []),
        (29.0, 3.0, [("warn", "surge")]),
    ],
)
def test_each_pressure_names_its_state(
    drop: float, velocity: float, want: list[tuple[str, str]]
) -> None:
    assert told(pressed(drop, velocity=velocity), "pressure-over-rating") == want


def test_surge_is_told_against_what_the_pipe_bears_of_it() -> None:
    (surge,) = found(pressed(29.0, velocity=3.0), "pressure-over-rating")
    assert surge.values["rating_m"] == pytest.approx(150.0)
    assert surge.values["head_m"] == pytest.approx(29.0 + 400.0 * 3.0 / 9.80665, abs=0.1)


def test_tanks_are_named_with_their_places() -> None:
    (warning,) = found(pressed(130.0), "break-pressure")
    assert warning.level == "warn"
    assert "float valve at chainage 504.2 m" in sentence(warning, "metric").remedy
    assert warning.chainage_m == pytest.approx(504.2, abs=0.1)
    assert told(pressed(300.0, rating=2.0), "break-pressure") == [("warn", "blocked")]
    assert told(pressed(99.0), "break-pressure") == []


def test_classes_are_told_by_stretch() -> None:
    # 13 m of head for each 100 m of run: PN 10 bears 100 m at run 769, PN 12.5 bears 125 at 962.
    plan = pressed(130.0, size="32 mm")
    (note,) = found(plan, "pipe-classes")
    assert note.level == "note"
    said = sentence(note, "metric").message
    assert "PN 10 to chainage 775.7 m, PN 12.5 to chainage 969.6 m, PN 16 beyond" in said
    assert found(plan, "pressure-over-rating") == []


def test_one_class_all_along() -> None:
    (note,) = found(pressed(40.0, size="32 mm"), "pipe-classes")
    assert sentence(note, "metric").message.endswith("takes pipe of PN 10 all along.")


def test_a_pipe_too_weak_in_every_class_stops_the_work() -> None:
    (stop,) = found(pressed(300.0, size="32 mm"), "pipe-classes")
    assert (stop.level, stop.values["case"]) == ("stop", "weak")
    assert stop.values["needed_m"] == pytest.approx(300.0)
    assert stop.chainage_m == pytest.approx(866.5, abs=6.0)  # PN 25 ends at 250 m of head


def test_lines_without_pressures_have_no_classes() -> None:
    assert found(base(), "pipe-classes") == []
    assert found(base(), "break-pressure") == []
