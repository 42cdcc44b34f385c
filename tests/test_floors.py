"""The house: a package imports only from floors below its own; heavy libraries have rooms.

The floors are the lines of the table in DEVELOPERS.md, lowest first.
"""

import ast
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "planner"
MODULES = sorted(PACKAGE.rglob("*.py"))

FLOORS = (
    "errors",
    "band",
    "units",
    "grade",
    "terrain",
    "site",
    "levels",
    "profile",
    "routing",
    "hydraulics",
    "siting",
    "record",
    "wording",
    "checks",
    "remedies",
    "surety",
    "chain",
    "plan",
    "schemes",
    "output",
    "live",
    "demo",
    "page",
    "cli",
)

ROOMS = {
    "rasterio": {"terrain"},
    "pyflwdir": {"terrain"},
    "numba": {"terrain", "grade", "routing"},
    "pydantic": {"site", "record"},
    "pint": {"units"},
    "fluids": {"hydraulics"},
    "folium": {"output"},
    "branca": {"output"},
    "geopandas": {"output"},
    "ezdxf": {"output"},
    "fastkml": {"output"},
    "gpxpy": {"output"},
    "reportlab": {"output"},
    "xlsxwriter": {"output"},
    "pygeoif": {"output"},
    "pygeomag": {"output"},
    "matplotlib": {"output"},
    "nicegui": {"page"},
    "starlette": {"page"},
    "uvicorn": {"page"},
    "typer": {"cli"},
    "click": {"cli"},
    "rich": {"cli"},
    "planner.chain": {"chain", "plan", "live", "cli"},
    "planner.plan": {"schemes", "live", "cli"},
    "planner.output": {"output", "live", "page", "cli"},
    "planner.live": {"live", "page"},
    "planner.page": {"page", "cli"},
}

# The root holds lazy names for users; inside the house only its plain text may be taken.
ROOT_TEXT = "planner.__version__"

# Floors that know less than those below them: plain numbers, or files to copy.
NARROW = {"hydraulics": {"errors", "band", "grade"}, "demo": {"errors"}}


def floor_of(module: Path) -> str:
    return module.relative_to(PACKAGE).with_suffix("").parts[0]


def dotted(module: Path) -> str:
    parts = module.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(module: Path) -> Iterator[str]:
    """Full dotted names of all a module imports, inside functions and for types too."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module.name} imports relatively"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def below_root() -> list[Path]:
    return [module for module in MODULES if floor_of(module) != "__init__"]


@pytest.mark.parametrize("module", below_root(), ids=dotted)
def test_imports_stay_below_and_in_their_rooms(module: Path) -> None:
    own = floor_of(module)
    assert own in FLOORS, f"{own} stands on no floor: add it to FLOORS and to DEVELOPERS.md"
    for name in imports(module):
        if name == ROOT_TEXT:
            continue
        top, _, rest = name.partition(".")
        assert name != "planner", "import from the module that holds the name, not from the root"
        if top == "planner":
            other = rest.split(".")[0]
            assert other in FLOORS, f"{name} is taken from the root or stands on no floor"
            assert FLOORS.index(other) <= FLOORS.index(own), f"{name} stands above {own}"
            assert own not in NARROW or other in NARROW[own] | {own}, f"{own} may not know {name}"
        for outside, rooms in ROOMS.items():
            if name == outside or name.startswith(outside + "."):
                assert own in rooms | {outside.rpartition(".")[2]}, f"{name} has no room in {own}"


def test_no_module_imports_itself_by_a_detour() -> None:
    known = {dotted(module) for module in MODULES}
    graph: dict[str, set[str]] = {}
    for module in below_root():
        named = {name if name in known else name.rpartition(".")[0] for name in imports(module)}
        graph[dotted(module)] = (named & known) - {dotted(module)}
    assert list(TopologicalSorter(graph).static_order())  # a cycle raises CycleError


def test_the_test_sees_imports_of_every_form(tmp_path: Path) -> None:
    module = tmp_path / "sample.py"
    module.write_text(
        "import numpy.linalg\n"
        "from planner.site import read, value\n"
        "def late():\n"
        "    from planner.plan import make_plan\n"
    )
    assert list(imports(module)) == [
        "numpy.linalg",
        "planner.site.read",
        "planner.site.value",
        "planner.plan.make_plan",
    ]


def test_every_package_of_the_house_says_what_it_is() -> None:
    for folder in {module.parent for module in MODULES}:
        first = ast.get_docstring(ast.parse((folder / "__init__.py").read_text(encoding="utf-8")))
        assert first, f"{folder.name}/__init__.py has no docstring"
