"""Out to the field and back, through the real command: plan, stakes, levels, and the plan again.

The truth is known: the demo's ground and a smooth error that its elevation data is said not to
show. Levels are read on the truth with the errors of a builder's level.
"""

import csv
import json
import shutil
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from planner.site.read import read_site
from planner.terrain.frame import to_local
from planner.terrain.read import read_terrain
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from tests.command import Told, headfall

pytestmark = pytest.mark.slow

Place = tuple[float, float]
ERROR = 0.003  # m, of one staff reading


def error_of_data(x: Any, y: Any) -> Any:
    """How much higher the true ground is than the demo's elevation data [m]."""
    return 0.25 * np.sin(x / 15.0) * np.cos(y / 37.0) - 0.1


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo site and its plan, as they went to the field."""
    folder = tmp_path_factory.mktemp("field")
    told = headfall("demo", "--out", folder / "demo", "--quiet")
    assert told.status == 0, told.err
    return folder / "demo"


@pytest.fixture
def site(planned: Path, tmp_path: Path) -> Path:
    """The site in a folder of its own, with the stake list beside it; nothing measured yet."""
    shutil.copytree(planned / "site", tmp_path / "site")
    shutil.copy(planned / "stakes.csv", tmp_path / "site")
    return tmp_path / "site"


def terrain_of(site: Path) -> Terrain:
    read = read_site(site / "larch-hollow.toml")
    return read_terrain(read.elevation.files, kind="lidar", standard_error=0.10)


def stations(site: Path) -> dict[str, Place]:
    """Longitude and latitude of the sketch's points and of all stakes."""
    read = read_site(site / "larch-hollow.toml")
    named = {point.name: point.at for point in read.sketch.points}
    with (site / "stakes.csv").open(encoding="utf-8-sig") as text:
        rows = list(csv.DictReader(text))
    return named | {row["name"]: (float(row["lon"]), float(row["lat"])) for row in rows}


def truth_of(site: Path) -> Callable[[str], float]:
    terrain, places = terrain_of(site), stations(site)

    def level(name: str) -> float:
        x, y = to_local(terrain, [places[name]])[0]
        return float(ground_at(terrain, x, y) + error_of_data(x, y))

    return level


def book(names: list[str], level: Callable[[str], float], seed: int = 1) -> Iterator[list[str]]:
    """A level book through stations and back: one set-up between any two, read to a millimetre."""
    draw = np.random.default_rng(seed)
    back: str | None = None
    fore = ""
    way = [*names, *names[-2::-1]]
    for here, there in pairwise(way):
        sight = max(level(here), level(there)) + 1.2
        back = f"{sight - level(here) + draw.normal(0, ERROR):.3f}"
        yield [here, back, fore]
        fore = f"{sight - level(there) + draw.normal(0, ERROR):.3f}"
    yield [way[-1], "", fore]


def write_book(site: Path, names: list[str], *, factor: float = 1.0) -> Path:
    level = truth_of(site)
    rows = list(book(names, lambda name: level(name) * factor))
    path = site / "levels.csv"
    with path.open("w", newline="") as text:
        csv.writer(text).writerows([["station", "back", "fore"], *rows])
    return path


def measured(site: Path, more: str = "") -> None:
    file = site / "larch-hollow.toml"
    table = f'\n[measured]\nlevels = ["levels.csv"]\nstakes = "stakes.csv"\n{more}'
    file.write_text(file.read_text() + table)


def replan(site: Path) -> tuple[Told, dict[str, Any]]:
    out = site.parent / "again"
    told = headfall("plan", site / "larch-hollow.toml", "--out", out)
    document = json.loads((out / "plan.json").read_text()) if told.status < 2 else {}
    return told, document


def along(site: Path, line: str) -> list[str]:
    with (site / "stakes.csv").open(encoding="utf-8-sig") as text:
        return [row["name"] for row in csv.DictReader(text) if row["line"] == line]


def test_levels_bring_fall_yield_and_profile_nearer_to_the_truth(site: Path, planned: Path) -> None:
    before = json.loads((planned / "plan.json").read_text())
    names = [*along(site, "drive"), *along(site, "delivery")]
    write_book(site, names)
    measured(site, '[measured.walked]\ndelivery = "stakes.csv"\ndrive = "stakes.csv"\n')
    told, after = replan(site)
    assert told.status in (0, 1), told.err
    level, terrain = truth_of(site), terrain_of(site)

    # The line through the stakes: its ground against the truth, the free datum taken out.
    def off(document: dict[str, Any]) -> float:
        line = next(one for one in document["lines"] if one["name"] == "delivery")
        x, y = to_local(terrain, line["path"]).T
        truth = ground_at(terrain, x, y) + error_of_data(x, y)
        wrong = np.array(line["profile"]["ground_m"]) - truth
        return float(np.std(wrong))

    assert off(after) < 0.35 * off(before)
    drive = along(site, "drive")
    fall = level(drive[0]) - level(drive[-1])
    off_by = [abs(one["water"]["fall_m"]["expected"] - fall) for one in (before, after)]
    assert off_by[1] < 0.02 < off_by[0]
    assert after["water"]["fall_m"]["high"] - after["water"]["fall_m"]["low"] < 0.1
    assert "What measuring changed" in told.out
    assert "with what was measured" in told.out
    assert {change["code"] for change in after["changes"]} >= {"fall"}


def test_the_datum_of_the_book_is_free_and_told(site: Path) -> None:
    write_book(site, along(site, "drive"))
    with (site / "known.csv").open("w") as text:
        text.write(f"station,level\n{along(site, 'drive')[0]},100.00\n")
    measured(site)
    file = site / "larch-hollow.toml"
    file.write_text(file.read_text().replace('["levels.csv"]', '["levels.csv", "known.csv"]'))
    told, document = replan(site)
    assert told.status in (0, 1), told.err
    assert document["survey"]["shift_m"] < -100.0
    assert "of another datum" in " ".join(told.out.split())


def test_feet_read_as_metres_are_recognised_and_nothing_is_written(site: Path) -> None:
    write_book(site, along(site, "delivery"), factor=1.0 / 0.3048)
    measured(site)
    told, _ = replan(site)
    assert told.status == 2
    assert "ft" in told.err
    assert "levels.csv" in told.err
    assert len(told.err.strip().splitlines()) == 1
    assert not (site.parent / "again").exists()


def test_the_stake_list_of_the_folder_itself_is_not_written_over(site: Path, planned: Path) -> None:
    write_book(site, along(site, "drive"))
    shutil.copytree(planned, site.parent / "again")
    measured(site)
    file = site / "larch-hollow.toml"
    file.write_text(file.read_text().replace('"stakes.csv"', '"../again/stakes.csv"'))
    told, _ = replan(site)
    assert told.status == 2
    assert "copy it beside the site file" in told.err
    assert (site.parent / "again" / "stakes.csv").read_bytes() == (
        planned / "stakes.csv"
    ).read_bytes()


def test_a_plan_with_levels_is_planned_again_from_its_own_folder(site: Path) -> None:
    write_book(site, along(site, "drive"))
    measured(site)
    _, first = replan(site)
    again = headfall("plan", site.parent / "again" / "site.toml", "--out", site.parent / "third")
    assert again.status in (0, 1), again.err
    second = json.loads((site.parent / "third" / "plan.json").read_text())
    assert second["survey"] == first["survey"]
    assert second["changes"] == first["changes"]
