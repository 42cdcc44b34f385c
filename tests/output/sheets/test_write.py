"""The files: one page a line, the same bytes each time, whatever the names hold."""

import dataclasses
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from planner.output.sheets.write import paper_of, write_profiles
from planner.record.value import Plan
from planner.site.field import Paper, Papers
from tests.example import example_plan

MM = 72.0 / 25.4
NAMES = ["supply", "drive", "delivery", "distribution-trough"]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


@pytest.fixture(scope="module")
def folder(plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sheets")
    write_profiles(plan, folder)
    return folder


def _svg(path: Path) -> ElementTree.Element:
    return ElementTree.parse(path).getroot()  # noqa: S314 - written by ourselves


def _one(plan: Plan) -> Plan:
    return dataclasses.replace(plan, lines=plan.lines[2:3])


@pytest.mark.slow
def test_a_set_in_a4_from_site_plan_to_figures(folder: Path) -> None:
    pages = PdfReader(folder / "profiles.pdf").pages
    texts = [page.extract_text() for page in pages]
    for number, (page, text) in enumerate(zip(pages, texts, strict=True), start=1):
        assert float(page.mediabox.width) == pytest.approx(297 * MM, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(210 * MM, abs=0.1)
        assert f"Sheet {number} of {len(pages)}" in text
        assert "Larch Hollow" in text
    assert "Site plan and index of sheets" in texts[0]
    assert all("Pipe level, m" in text for text in texts[1:-1])
    assert [sum(f"{name}: " in text for text in texts[1:-1]) for name in NAMES] == [1, 1, 2, 1]
    assert "Findings: what to do, then why" in texts[-1]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("paper", "size"), [("A3", (420 * MM, 297 * MM)), ("Tabloid", (1224.0, 792.0))]
)
def test_larger_papers_lie_landscape(
    plan: Plan, tmp_path: Path, paper: Paper, size: tuple[float, float]
) -> None:
    papers = dataclasses.replace(plan.site.papers, paper=paper)
    asked = dataclasses.replace(_one(plan), site=dataclasses.replace(plan.site, papers=papers))
    write_profiles(asked, tmp_path)
    for page in PdfReader(tmp_path / "profiles.pdf").pages:
        found = float(page.mediabox.width), float(page.mediabox.height)
        assert found == pytest.approx(size, abs=0.1)


def test_us_units_ask_for_letter_unless_a_paper_is_named(plan: Plan) -> None:
    us = dataclasses.replace(plan.site, units="us")
    assert paper_of(plan) == "A4"
    assert paper_of(dataclasses.replace(plan, site=us)) == "Letter"
    named = dataclasses.replace(us, papers=Papers(paper="A3"))
    assert paper_of(dataclasses.replace(plan, site=named)) == "A3"


@pytest.mark.slow
def test_one_svg_a_line_with_its_text_as_text(folder: Path, plan: Plan) -> None:
    for line in plan.lines:
        root = _svg(folder / f"profile-{line.name}.svg")
        assert root.tag == f"{SVG}svg"
        texts = {node.text for node in root.iter(f"{SVG}text")}
        assert "Larch Hollow" in texts
        assert {node.get("id") for node in root.iter(f"{SVG}g")} >= {"ground", "closed-level"}


@pytest.mark.slow
def test_letter_and_feet(plan: Plan, tmp_path: Path) -> None:
    us = dataclasses.replace(_one(plan), site=dataclasses.replace(plan.site, units="us"))
    write_profiles(us, tmp_path)
    pages = PdfReader(tmp_path / "profiles.pdf").pages[1:3]
    for page in pages:
        size = float(page.mediabox.width), float(page.mediabox.height)
        assert size == pytest.approx((792, 612))
    text = " ".join(page.extract_text() for page in pages)
    for said in ("Station, ft", "Ground elevation, ft", "1+00", "1 in = 40 ft", "2.0 ft"):
        assert said in text


@pytest.mark.slow
def test_the_same_plan_gives_the_same_bytes(plan: Plan, tmp_path: Path) -> None:
    made = []
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        made.append([p.read_bytes() for p in write_profiles(_one(plan), tmp_path / name)])
    assert made[0] == made[1]


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)</script> & \"quotes\" 'n' ]]>",
        "$x$ $\\frac{1}{0}$ \\alpha_{",
        "😀 水源 \u202egnirps \x00\x07 \ud800",
        "a very long name " * 60,
        "\n\t",
    ],
)
def test_names_may_hold_anything(plan: Plan, tmp_path: Path, name: str) -> None:
    strange = dataclasses.replace(
        _one(plan),
        site=dataclasses.replace(plan.site, title=name),
        points=tuple(dataclasses.replace(point, name=name) for point in plan.points),
        areas=tuple(dataclasses.replace(area, name=name) for area in plan.areas),
        lines=(dataclasses.replace(plan.lines[2], start=name, end=name),),
    )
    book, single = write_profiles(strange, tmp_path)
    assert len(PdfReader(book).pages) >= 3
    root = _svg(single)
    assert not list(root.iter(f"{SVG}script"))
    assert {node.tag for node in root.iter()} & {f"{SVG}text"}


@pytest.mark.slow
def test_a_formula_is_printed_as_it_is_typed(plan: Plan, tmp_path: Path) -> None:
    titled = dataclasses.replace(_one(plan), site=dataclasses.replace(plan.site, title="$x^2$ <b>"))
    book, single = write_profiles(titled, tmp_path)
    assert "$x^2$ <b>" in PdfReader(book).pages[0].extract_text()
    assert "$x^2$ &lt;b&gt;" in single.read_text("utf-8")


def test_a_plan_without_lines_writes_nothing(plan: Plan, tmp_path: Path) -> None:
    assert write_profiles(dataclasses.replace(plan, lines=()), tmp_path) == ()
    assert not list(tmp_path.iterdir())


@pytest.mark.slow
def test_pyplot_is_never_loaded() -> None:
    code = "import sys, planner.output.sheets.write; print('matplotlib.pyplot' in sys.modules)"
    run = subprocess.run(  # noqa: S603 - our own words
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "False"
