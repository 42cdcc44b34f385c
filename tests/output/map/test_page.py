"""The page as text: nothing from elsewhere, nothing injected, every plan draws."""

import base64
import hashlib
import json
import re
from collections.abc import Callable
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import folium
import pytest

from planner.errors import OutputError, TerrainError
from planner.output.map.make import make_map, write_map
from planner.record.value import Plan
from tests.example import example_plan
from tests.output.map.plans import bare_plan, blocked_plan, crowded_plan, nasty_plan


class Reader(HTMLParser):
    """Tags with their attributes, the text of scripts, and what is seen as text."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.scripts: list[str] = []
        self.seen: list[str] = []
        self.inside = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.inside = tag

    def handle_endtag(self, tag: str) -> None:
        self.inside = ""

    def handle_data(self, data: str) -> None:
        if self.inside == "script":
            self.scripts.append(data)
        elif self.inside != "style":
            self.seen.append(data)


def html_of(plan: Plan) -> str:
    return str(make_map(plan).get_root().render())


@pytest.mark.parametrize("make", [example_plan, blocked_plan, bare_plan, crowded_plan, nasty_plan])
def test_nothing_on_the_page_points_elsewhere(make: Callable[[], Plan]) -> None:
    html = html_of(make())
    for tag, attributes in Reader(html).tags:
        for name in ("src", "href", "xlink:href", "srcset", "action", "data"):
            value = attributes.get(name) or "data:"
            assert value.startswith(("data:", "#")), (tag, name, value)
        assert tag not in {"link", "iframe", "object", "embed", "base"}
    styles = "".join(re.findall(r"<style>(.*?)</style>", html, re.DOTALL))
    assert len(styles) > 10_000
    assert not re.search(r"url\((?!#)|@import", styles)
    assert "sourceMappingURL" not in html
    assert len(html) < 3e6


def test_the_policy_admits_exactly_the_scripts_on_the_page() -> None:
    reader = Reader(html_of(example_plan()))
    policy = next(
        a["content"] for t, a in reader.tags if a.get("http-equiv") == "Content-Security-Policy"
    )
    assert policy is not None
    assert policy.startswith("default-src 'none'; img-src data:;")
    admitted = set(re.findall(r"'sha256-([^']+)'", policy))
    assert "unsafe-inline" not in policy.split("script-src")[1]
    run = [s for s in reader.scripts if not s.lstrip().startswith("{")]
    assert {base64.b64encode(hashlib.sha256(s.encode()).digest()).decode() for s in run} == admitted


def test_names_cannot_inject_markup() -> None:
    plan, nasty = Reader(html_of(example_plan())), Reader(html_of(nasty_plan()))
    assert [t for t, _ in plan.tags if t == "img"] == [t for t, _ in nasty.tags if t == "img"]
    count = sum(t == "script" for t, _ in plan.tags)
    assert sum(t == "script" for t, _ in nasty.tags) == count
    assert not [a for _, a in nasty.tags if any(name.startswith("on") for name in a)]
    assert not any("</script" in s or "<img" in s for s in nasty.scripts)
    seen = "".join(nasty.seen)
    assert "<img src=x onerror=alert(1)>" in seen  # shown as the text it is
    assert "{{7*7}}" in seen
    assert "🐐" in seen


@pytest.mark.parametrize("name", ["{{7*7}}", "{% for %}", "{# no end", "{{ ''.__class__ }}"])
def test_names_are_not_run_as_templates(name: str) -> None:
    # Folium renders what it is given as a Jinja template: `{{7*7}}` would come out as 49.
    plan = example_plan()
    points = (replace(plan.points[0], name=name), *plan.points[1:])
    areas = (replace(plan.areas[0], name=name),)
    lines = (replace(plan.lines[0], name=name), *plan.lines[1:])
    reader = Reader(html_of(replace(plan, points=points, areas=areas, lines=lines, findings=())))
    folium_script = json.loads(f'"{_icon_text(reader.scripts[-1], "name ")}"')
    assert unescape(folium_script) == name
    assert unescape(json.loads(f'"{_icon_text(reader.scripts[-1], "area-name ")}"')) == name
    assert name in "".join(reader.seen)


def _icon_text(script: str, class_: str) -> str:
    """The text of the first mark of a class, as it stands in folium's script."""
    found = re.search(rf'{class_}\w+\\"\\u003e(.*?)\\u003c/span', script)
    assert found is not None
    return found[1]


def test_figures_findings_and_doubt_stand_on_the_page() -> None:
    seen = " ".join("".join(Reader(html_of(example_plan())).seen).split())
    assert "1,700 L/day (1,200 – 2,300)" in seen
    assert "1.5 m (1.2 – 1.8)" in seen
    assert "hollow-dem.tif (lidar)" in seen
    assert "± 0.15 m" in seen
    assert "24 November 2026" in seen
    assert "Keep fingers clear of the waste valve" in seen
    assert seen.index("Fit an air vent") < seen.index("will trap air")  # the remedy comes first


def test_us_units_reach_every_part() -> None:
    plan = example_plan()
    html = html_of(replace(plan, site=replace(plan.site, units="us")))
    seen = "".join(Reader(html).seen)
    assert "US gal/day" in seen
    assert "Level, ft" in seen
    assert "every 10 ft" in seen
    assert '"units": "us"' in html
    assert not re.search(r"\d m\b", seen)


def test_a_blocked_plan_says_what_blocks() -> None:
    seen = " ".join("".join(Reader(html_of(blocked_plan())).seen).split())
    assert "main could not be laid: an area closes the way" in seen
    assert "No line could be laid" in seen
    assert "No water figures" in seen


def test_the_same_plan_gives_the_same_page() -> None:
    assert html_of(example_plan()) == html_of(example_plan())


def test_a_map_shows_itself_in_a_notebook() -> None:
    page = make_map(example_plan())
    assert isinstance(page, folium.Map)
    assert page._repr_html_().startswith("<iframe srcdoc=")


def test_write_map_replaces_the_file(tmp_path: Path) -> None:
    path = tmp_path / "map.html"
    path.write_text("old")
    write_map(example_plan(), path)
    assert path.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert [p.name for p in tmp_path.iterdir()] == ["map.html"]


def test_write_map_leaves_nothing_when_it_fails(tmp_path: Path) -> None:
    (tmp_path / "map.html").mkdir()  # a folder can't be replaced by a file
    with pytest.raises(OutputError, match=r"map\.html"):
        write_map(example_plan(), tmp_path / "map.html")
    assert [p.name for p in tmp_path.iterdir()] == ["map.html"]
    with pytest.raises(OutputError, match="can't be written"):
        write_map(example_plan(), tmp_path / "none" / "map.html")


def test_a_terrain_without_a_place_on_earth_is_refused() -> None:
    plan = example_plan()
    with pytest.raises(TerrainError, match="coordinate system"):
        make_map(replace(plan, terrain=replace(plan.terrain, crs=None)))
