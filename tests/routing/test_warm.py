"""After warming up nothing is left to compile, whatever is planned; and where the cache stands."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# The compiled functions by module and name, with how many signatures each is ready for.
COUNT = """
import importlib, json, pkgutil
from numba.core.dispatcher import Dispatcher
import planner.grade, planner.routing

def modules():
    for package in (planner.grade, planner.routing):
        for module in pkgutil.iter_modules(package.__path__):
            yield importlib.import_module(f"{package.__name__}.{module.name}")

def ready():
    return {
        f"{module.__name__}:{name}": len(value.signatures)
        for module in modules()
        for name, value in vars(module).items()
        if isinstance(value, Dispatcher)
    }
"""

PLANS = """
from contextlib import suppress
from pathlib import Path
import numpy as np
from planner.demo.copy import demo_site
from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.plan import make_plan
from planner.routing.find import find_route
from planner.routing.land import make_land
from planner.site.read import read_site
from planner.terrain.value import Terrain
from shapely.geometry import box

def plan_much(folder):
    with demo_site(folder) as site:
        make_plan(read_site(site))
    rules(np.random.default_rng(1), (60, 90))
    rules(np.random.default_rng(1), (600, 700), count=2)

def rules(rng, shape, count=None):
    z = 0.05 * np.arange(shape[1]) + np.cumsum(rng.normal(0.0, 0.02, shape), axis=0)
    land = make_land(Terrain.from_array(z, (1.0, 1.5)), avoid=[box(40, -60, 44, -20)])
    ends = (10.0, -10.0), (shape[1] - 10.0, -1.3 * shape[0])
    for rule in (
        GradeRule(),
        GradeRule(lowest=0.001, slack=1.0),
        GradeRule(lowest=0.01, slack=0.3, vent_cost=9.0),
        GradeRule(lowest=-0.2, highest=0.2, slack=0.5),
        GradeRule(highest=-0.01),
    )[:count]:
        for more in ({}, {"dig_cost": 1.0, "side_slope": 2.0, "slack": np.full(z.shape, 0.5)}):
            with suppress(NoRoute):
                find_route(land.terrain, *ends, rule, land.cost, **more)
"""


def run(script: str, home: Path, path: Path = ROOT) -> dict[str, object]:
    """What a fresh interpreter prints, with a home and a cache folder of its own."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("NUMBA_", "XDG_", "PYTHON"))}
    told = {
        "HOME": str(home),
        "XDG_CACHE_HOME": str(home / "cache"),
        "PYTHONPATH": str(path),
        "PYTHONDONTWRITEBYTECODE": "1",
    }
    done = subprocess.run(  # noqa: S603
        [sys.executable, "-c", script],
        env=kept | told,
        cwd=home,
        capture_output=True,
        text=True,
        check=False,
        timeout=280,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    answer: dict[str, object] = json.loads(done.stdout.splitlines()[-1])
    return answer


@pytest.mark.slow
def test_nothing_compiles_after_the_warm_up(tmp_path):
    """Kernels are called from the modules that are not kernels themselves: all those are ready."""
    script = f"""{COUNT}{PLANS}
from planner.routing.warm import warm_up
warm_up()
before = ready()
plan_much(Path("site"))
print(json.dumps({{"before": before, "after": ready()}}))
"""
    told = run(script, tmp_path)
    before, after = told["before"], told["after"]
    assert isinstance(before, dict)
    entries = {name: count for name, count in before.items() if not called_by_kernels(name)}
    assert len(entries) > 20
    assert [name for name, count in entries.items() if count == 0] == []
    assert after == before


def called_by_kernels(name: str) -> bool:
    module, _ = name.split(":")
    return module.endswith("kernel")


@pytest.mark.slow
def test_where_the_package_can_t_be_written_the_cache_is_the_users(tmp_path):
    """A file stands where the folder of compiled code would be: that holds against root too."""
    package, home = tmp_path / "installed" / "planner", tmp_path / "home"
    home.mkdir()
    shutil.copytree(ROOT / "planner", package, ignore=shutil.ignore_patterns("__pycache__"))
    for folder in (package / "routing", package / "grade"):
        (folder / "__pycache__").write_text("not a folder")
        for path in (*folder.iterdir(), folder):
            path.chmod(0o555 if path.is_dir() else 0o444)
    script = """
import json
import numpy as np
import planner
from planner.grade.kernel import rise_shortfall
rise_shortfall(np.arange(4.0), np.arange(4.0), np.zeros(4), 0.1)
found = sum(rise_shortfall.stats.cache_hits.values())
made = sum(rise_shortfall.stats.cache_misses.values())
print(json.dumps({"found": found, "made": made, "file": planner.__file__}))
"""
    first, second = (run(script, home, package.parent) for _ in range(2))
    for folder in (package / "routing", package / "grade"):
        folder.chmod(0o755)
    assert str(first["file"]).startswith(str(package))
    kept = list((home / "cache").rglob("*.nbc"))
    assert any("rise_shortfall" in path.name for path in kept)
    assert (first["found"], first["made"]) == (0, 1)
    assert (second["found"], second["made"]) == (1, 0)
