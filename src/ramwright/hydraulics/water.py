"""Water between 0 and 40 degrees Celsius, and the air above it at altitude.

Published correlations, each a small function of temperature in degrees Celsius. Pressure is taken as one
atmosphere: at 100 m of head density and viscosity move by less than 0.1 %.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.hydraulics._checks import positive, within_source

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall, m/s2 (3rd General Conference on Weights and Measures, 1901)."""

_LOWEST_C, _HIGHEST_C = 0.0, 40.0
_LOWEST_M, _HIGHEST_M = -500.0, 6000.0


def density(temperature_c: float) -> float:
    """Return the density of air-free water at one atmosphere, kg/m3.

    ``temperature_c`` in degrees Celsius, 0 to 40 (the source covers 0 to 150). Kell 1975, J. Chem. Eng.
    Data 20(1) 97-105, equation 16; coefficients from memory, held against IAPWS figures in the tests.
    Raises ``LimitError``.
    """
    t = within_source("temperature_c", temperature_c, _LOWEST_C, _HIGHEST_C)
    top = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return top / (1.0 + 16.879850e-3 * t)


def dynamic_viscosity(temperature_c: float) -> float:
    """Return the dynamic viscosity of water at one atmosphere, Pa s.

    ``temperature_c`` in degrees Celsius, 0 to 40. Kestin, Sokolov & Wakeham 1978, J. Phys. Chem. Ref. Data
    7(3) 941-948, equation 15, with 1.002 mPa s at 20 C; coefficients from memory, held against IAPWS
    figures in the tests. Raises ``LimitError``.
    """
    t = within_source("temperature_c", temperature_c, _LOWEST_C, _HIGHEST_C)
    below_20 = 20.0 - t
    exponent = below_20 / (t + 96.0) * (1.2364 - 1.37e-3 * below_20 + 5.7e-6 * below_20**2)
    return 1.002e-3 * math.pow(10.0, exponent)


def kinematic_viscosity(temperature_c: float) -> float:
    """Return dynamic viscosity over density, m2/s; ``temperature_c`` in degrees Celsius, 0 to 40.

    Raises ``LimitError``.
    """
    return dynamic_viscosity(temperature_c) / density(temperature_c)


def vapour_pressure(temperature_c: float) -> float:
    """Return the saturation pressure of water, Pa absolute.

    ``temperature_c`` in degrees Celsius, 0 to 40 (the source covers 0.01 C to the critical point; used down
    to 0 C). Wagner & Pruss 1993, J. Phys. Chem. Ref. Data 22 783-787, equation 1; coefficients from memory,
    held against IAPWS figures in the tests. Raises ``LimitError``.
    """
    t = within_source("temperature_c", temperature_c, _LOWEST_C, _HIGHEST_C)
    kelvin, critical_k, critical_pa = t + 273.15, 647.096, 22.064e6
    tau = 1.0 - kelvin / critical_k
    series = (
        -7.85951783 * tau
        + 1.84408259 * tau**1.5
        - 11.7866497 * tau**3
        + 22.6807411 * tau**3.5
        - 15.9618719 * tau**4
        + 1.80122502 * tau**7.5
    )
    return critical_pa * math.exp(critical_k / kelvin * series)


def speed_of_sound(temperature_c: float) -> float:
    """Return the speed of sound in unbounded air-free water at one atmosphere, m/s.

    ``temperature_c`` in degrees Celsius, 0 to 40 (the source covers 0 to 95). Marczak 1997, J. Acoust. Soc.
    Am. 102(5) 2776-2779; coefficients from memory, held against IAPWS figures in the tests. Raises
    ``LimitError``.
    """
    t = within_source("temperature_c", temperature_c, _LOWEST_C, _HIGHEST_C)
    return (
        1.402385e3
        + 5.038813 * t
        - 5.799136e-2 * t**2
        + 3.287156e-4 * t**3
        - 1.398845e-6 * t**4
        + 2.787860e-9 * t**5
    )


def bulk_modulus(temperature_c: float) -> float:
    """Return the isentropic bulk modulus of water, Pa: density times speed of sound squared.

    ``temperature_c`` in degrees Celsius, 0 to 40. By definition of the speed of sound. Raises ``LimitError``.
    """
    return density(temperature_c) * speed_of_sound(temperature_c) ** 2


def atmospheric_pressure(altitude_m: float) -> float:
    """Return the standard atmosphere's pressure at ``altitude_m`` (-500 to 6000), Pa absolute.

    p = 101325 (1 - 0.0065 h / 288.15) ^ (9.80665 / (0.0065 * 287.053)). ICAO / U.S. Standard Atmosphere
    1976, lowest layer (constants from memory); altitude taken as geopotential, under 0.02 % in pressure at
    3000 m. The day's weather moves it by some 3 % either way. Raises ``LimitError``.
    """
    h = within_source("altitude_m", altitude_m, _LOWEST_M, _HIGHEST_M)
    lapse, sea_level_k, gas_constant = 0.0065, 288.15, 287.053
    ratio = 1.0 - lapse * h / sea_level_k
    return 101325.0 * math.pow(ratio, STANDARD_GRAVITY / (lapse * gas_constant))


def head_of(pressure_pa: float, *, temperature_c: float) -> float:
    """Return a pressure (Pa) as metres of water at ``temperature_c`` (0 to 40): p / (rho g).

    Raises ``LimitError``.
    """
    return pressure_pa / (density(temperature_c) * STANDARD_GRAVITY)


def atmospheric_head(altitude_m: float, *, temperature_c: float) -> float:
    """Return the air's pressure at ``altitude_m`` as metres of water at ``temperature_c``.

    Raises ``LimitError``.
    """
    return head_of(atmospheric_pressure(altitude_m), temperature_c=temperature_c)


def vapour_head(temperature_c: float) -> float:
    """Return the vapour pressure as absolute metres of water at ``temperature_c``. Raises ``LimitError``."""
    return head_of(vapour_pressure(temperature_c), temperature_c=temperature_c)


def vapour_gauge_head(altitude_m: float, *, temperature_c: float) -> float:
    """Return the gauge head at which water boils, m (negative): vapour head less the air's head.

    Raises ``LimitError``.
    """
    return vapour_head(temperature_c) - atmospheric_head(altitude_m, temperature_c=temperature_c)


@dataclass(frozen=True, slots=True)
class Water:
    """The water's properties at one temperature and altitude, SI, ready to hand to relations.

    ``temperature_c`` degrees Celsius; ``altitude_m`` metres; ``density`` kg/m3; ``dynamic_viscosity`` Pa s;
    ``kinematic_viscosity`` m2/s; ``bulk_modulus`` Pa; ``vapour_pressure`` and ``atmospheric_pressure`` Pa
    absolute; ``vapour_gauge_head`` m of water, negative.
    """

    temperature_c: float
    altitude_m: float
    density: float
    dynamic_viscosity: float
    kinematic_viscosity: float
    bulk_modulus: float
    vapour_pressure: float
    atmospheric_pressure: float
    vapour_gauge_head: float


def water_at(temperature_c: float, *, altitude_m: float = 0.0) -> Water:
    """Return every property at once.

    ``temperature_c`` 0 to 40, ``altitude_m`` -500 to 6000. Raises ``LimitError``.
    """
    return Water(
        temperature_c=temperature_c,
        altitude_m=altitude_m,
        density=density(temperature_c),
        dynamic_viscosity=dynamic_viscosity(temperature_c),
        kinematic_viscosity=kinematic_viscosity(temperature_c),
        bulk_modulus=bulk_modulus(temperature_c),
        vapour_pressure=vapour_pressure(temperature_c),
        atmospheric_pressure=atmospheric_pressure(altitude_m),
        vapour_gauge_head=vapour_gauge_head(altitude_m, temperature_c=temperature_c),
    )


def siphon_limit(water: Water, *, practical_lift: float) -> float:
    """Return how far below the air's pressure a crest may be taken here, m of water, not negative.

    ``practical_lift`` m, the lift trusted at sea level and 20 C. The same reserve over boiling is kept at
    every altitude and temperature: lift here = lift there - (boiling depth there - boiling depth here). Own
    rule, on the safe side of scaling the lift with the air's pressure; the lift itself is the catalogue's.
    Raises ``InputError``.
    """
    reserve = -vapour_gauge_head(0.0, temperature_c=20.0) - positive("practical_lift", practical_lift)
    return max(0.0, -water.vapour_gauge_head - reserve)
