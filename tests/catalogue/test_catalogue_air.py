"""How much air water holds: the table recalled, against the formulation of Henry's law by IAPWS (2004)."""

from __future__ import annotations

import pytest
from iapws._iapws import _Henry

from ramwright.catalogue import Row, table

ROWS = [row for row in table("air_solubility") if row.number("temp_c") >= 5.0]
"""The formulation of IAPWS begins at 1 to 5 degrees C."""
SHARES = {"N2": 0.7808, "O2": 0.2095, "Ar": 0.0093}
"""Dry air by volume (from memory)."""
VOLUME = 22.414e-3
"""Molar volume of a perfect gas at 0 C and one atmosphere, m3/mol."""


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.number('temp_c'):g} C")
def test_air_in_water_is_henry_s(row: Row) -> None:
    """Mole fraction p/k of each gas, over the molar volume of water (18.015 g), as a gas volume; 6 %."""
    celsius, volume = row.number("temp_c"), row.number("volume")
    water = 999.5 / 18.015e-3  # mol/m3
    held = sum(share * 0.101325 / _Henry(celsius + 273.15, gas) for gas, share in SHARES.items())
    assert abs(held * water * VOLUME / volume - 1.0) < 0.06
