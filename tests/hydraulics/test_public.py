"""The names the package hands out, and how little it loads for them."""

import subprocess
import sys

import pytest

from planner import hydraulics
from planner.errors import OutsideRangeWarning


def test_public_names() -> None:
    contract = {"ram_yield", "friction_loss", "hazen_williams_loss", "wave_speed", "surge_head"}
    assert contract <= set(hydraulics.__all__)
    for name in hydraulics.__all__:
        assert callable(getattr(hydraulics, name))
        assert name in dir(hydraulics)
    assert hydraulics.OutsideRangeWarning is OutsideRangeWarning


def test_unknown_name() -> None:
    with pytest.raises(AttributeError, match="no attribute 'perpetual_motion'"):
        getattr(hydraulics, "perpetual_motion")  # noqa: B009 - the point is the missing name


def test_the_package_alone_loads_nothing_heavy() -> None:
    code = "import sys, planner.hydraulics; print({'numpy', 'scipy', 'fluids'} & set(sys.modules))"
    done = subprocess.run(  # noqa: S603 - our own text
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "set()"
