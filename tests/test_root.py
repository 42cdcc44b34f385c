"""What the package hands out: its names, its light first import, what travels in the wheel."""

import json
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

import planner

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "planner"

# Not pydantic: typer itself may load it to read an option.
HEAVY = {
    "numpy",
    "scipy",
    "numba",
    "rasterio",
    "shapely",
    "pyproj",
    "geopandas",
    "pandas",
    "folium",
    "matplotlib",
    "pint",
    "fluids",
    "pyflwdir",
}

PUBLIC = {
    "GradeRule",
    "Terrain",
    "find_route",
    "high_points",
    "make_plan",
    "profile_along",
    "read_site",
    "read_terrain",
}


def run_python(*words: str) -> str:
    """What a fresh Python prints, run in the project's folder."""
    done = subprocess.run(  # noqa: S603 - our own words, no shell
        [sys.executable, *words], capture_output=True, text=True, check=False, cwd=ROOT
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def loaded_after(code: str) -> set[str]:
    """Top-level packages in memory after running some code in a fresh Python."""
    tail = "\nimport json, sys\nprint(json.dumps(sorted({m.split('.')[0] for m in sys.modules})))"
    return set(json.loads(run_python("-c", code + tail).splitlines()[-1]))


def test_the_public_names() -> None:
    assert set(planner.__all__) == PUBLIC
    assert set(dir(planner)) >= PUBLIC


@pytest.mark.parametrize("name", sorted(PUBLIC))
def test_every_public_name_is_there(name: str) -> None:
    thing = getattr(planner, name)
    assert thing.__name__ == name
    assert thing.__doc__


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'plumb'"):
        planner.plumb  # noqa: B018 - the look-up itself is what is tested


def test_the_version_is_the_distribution_s() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert planner.__version__ == project["version"]


def test_the_first_import_is_light() -> None:
    assert not loaded_after("import planner") & HEAVY


@pytest.mark.slow
@pytest.mark.parametrize("option", ["--help", "--version"])
def test_help_and_version_load_nothing_heavy(option: str) -> None:
    code = (
        "import sys\n"
        f"sys.argv = ['headfall', {option!r}]\n"
        "from planner.cli import main\n"
        "try:\n    main()\nexcept SystemExit as end:\n    assert not end.code, end.code"
    )
    assert not loaded_after(code) & HEAVY


REMOTE_ASSET = re.compile(
    r"""(?:src|href|action)\s*=\s*["']?\s*(?:https?:)?//"""
    r"""|@import\s+(?:url\()?\s*["']?(?:https?:)?//"""
    r"""|url\(\s*["']?(?:https?:)?//""",
    re.IGNORECASE,
)


@pytest.mark.parametrize(
    ("text", "remote"),
    [
        ('<script src="https://host.invalid/a.js">', True),
        ("<link rel=stylesheet href=//host.invalid/a.css>", True),
        ("@import url('http://host.invalid/a.css')", True),
        ("background: url(https://host.invalid/a.png)", True),
        ('<script src="data:text/javascript,1">', False),
        ('xmlns="http://www.w3.org/2000/svg"', False),
        ("url(#arrow)", False),
    ],
)
def test_remote_assets_are_recognised(text: str, *, remote: bool) -> None:
    assert bool(REMOTE_ASSET.search(text)) is remote


def test_nothing_in_the_package_loads_from_elsewhere() -> None:
    suffixes = {".py", ".html", ".j2", ".jinja", ".css", ".js", ".svg"}
    texts = [file for file in PACKAGE.rglob("*") if file.suffix in suffixes]
    assert texts
    for file in texts:
        found = REMOTE_ASSET.findall(file.read_text(encoding="utf-8"))
        assert not found, f"{file.relative_to(ROOT)}: {found}"


@pytest.mark.slow
def test_the_wheel_holds_the_whole_package(tmp_path: Path) -> None:
    run_python("-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path))
    (wheel,) = tmp_path.glob("headfall-*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    files = {
        file.relative_to(ROOT).as_posix()
        for file in PACKAGE.rglob("*")
        if file.is_file() and "__pycache__" not in file.parts
    }
    assert files - names == set(), "files that do not travel"
    assert {"planner/py.typed", "planner/demo/larch-hollow.toml"} <= files
    assert not {name for name in names if name.startswith(("tests/", "data/"))}
    assert any(name.endswith("entry_points.txt") for name in names)
