"""Vents and washouts that are decided, in the site file."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.site.fit import Fit
from planner.site.read import read_site, site_from_text
from planner.site.write import portable, same_site
from tests.site.example import SOURCE, site_text, write_site
from tests.site.test_bad_input import refusal

FITS = """
[[fit]]
line = "delivery"   # over the spur
kind = "vent"
at = [11.2041, 47.3012]
note = "in a <box>"
[[fit]]
line = "distribution-trough"
kind = "washout"
at = [11, 47.5]
"""
SAID = (
    Fit("delivery", "vent", (11.2041, 47.3012), "in a <box>"),
    Fit("distribution-trough", "washout", (11.0, 47.5)),
)


def test_what_is_decided_comes_out_as_written(tmp_path: Path) -> None:
    assert site_from_text(site_text(rest=SOURCE + FITS), tmp_path).fit == SAID
    assert site_from_text(site_text(), tmp_path).fit == ()


def test_the_role_is_what_a_name_begins_with() -> None:
    assert [fit.role for fit in SAID] == ["delivery", "distribution"]


def test_it_is_kept_from_folder_to_folder(tmp_path: Path) -> None:
    site = read_site(write_site(tmp_path, site_text(rest=SOURCE + FITS)))
    text = portable(site, tmp_path / "plan")
    assert "# over the spur" in text
    assert site_from_text(text, tmp_path / "plan").fit == SAID


PLACES = st.tuples(st.floats(-180.0, 180.0), st.floats(-90.0, 90.0))
FIT = st.builds(
    Fit,
    line=st.sampled_from(["main", "delivery", "distribution-a-2"]),
    kind=st.sampled_from(["vent", "washout"]),
    at=PLACES,
    note=st.text("abzÄß<&'\"\\#[]=", max_size=20),
)


@given(fits=st.lists(FIT, max_size=4).map(tuple))
def test_whatever_is_decided_is_written_and_read_again(fits: tuple[Fit, ...]) -> None:
    folder = Path("/nowhere")
    site = replace(site_from_text(site_text(), folder), fit=fits)
    assert same_site(site_from_text(portable(site, folder), folder), site)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ('line = "delivery"\nkind = "vent"', 'the key "at" is missing'),
        ('line = "pipe-2"\nkind = "vent"\nat = [11.2, 47.3]', "give its role"),
        ('line = "main"\nkind = "vent"\nat = [411.2, 47.3]', "no place on earth"),
        ('line = "main"\nkind = "vent"\nat = [11.2]', "fit"),
        ('line = "main"\nkind = "tap"\nat = [11.2, 47.3]', "fit"),
        ('line = "Main line"\nkind = "vent"\nat = [11.2, 47.3]', "no line's name"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_sentence(
    table: str, said: str, tmp_path: Path
) -> None:
    message = refusal(site_text(rest=f"{SOURCE}[[fit]]\n{table}\n"), tmp_path)
    assert said in message
    assert "\n" not in message
