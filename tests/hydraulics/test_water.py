"""Water's density and viscosity against published values."""

import numpy as np
import pytest

from planner.errors import OutsideRange
from planner.hydraulics.water import density, viscosity


def test_viscosity_of_the_engineers_table() -> None:
    # Kinematic viscosity [1e-6 m²/s] as handbooks print it; tolerance 1 %.
    handbook = {0: 1.79, 5: 1.52, 10: 1.31, 15: 1.14, 20: 1.00, 25: 0.89}
    got = np.asarray(viscosity(list(handbook))) * 1e6
    np.testing.assert_allclose(got, list(handbook.values()), rtol=0.01)


def test_viscosity_against_an_independent_formula() -> None:
    # Kestin, Sokolov and Wakeham, J. Phys. Chem. Ref. Data 7 (1978) 941; tolerance 0.5 %.
    t = np.linspace(0.0, 60.0, 25)
    d = 20.0 - t
    decades = d / (t + 96.0) * (1.2364 - 1.37e-3 * d + 5.7e-6 * d**2)
    kestin = 1.002e-3 * 10.0**decades / np.asarray(density(t))
    np.testing.assert_allclose(viscosity(t), kestin, rtol=5e-3)


def test_density_of_the_tables() -> None:
    # CRC handbook, air-free water at 1 atm [kg/m³].
    printed = {0: 999.84, 4: 999.97, 10: 999.70, 20: 998.21, 40: 992.22, 60: 983.20}
    np.testing.assert_allclose(density(list(printed)), list(printed.values()), atol=0.02)


@pytest.mark.parametrize("temperature", [-0.1, 60.1, 293.15, np.nan])
def test_refuses_ice_kelvin_and_nothing(temperature: float) -> None:
    with pytest.raises(OutsideRange, match="temperature must be 0 or more and at most 60"):
        viscosity(temperature)


def test_viscosity_of_the_release_itself() -> None:
    # IAPWS SR6-08(2011), value for checking programs: 889.996774 µPa s at 298.15 K.
    dynamic = float(viscosity(25.0)) * float(density(25.0))
    assert dynamic == pytest.approx(889.996774e-6, rel=1e-8)
