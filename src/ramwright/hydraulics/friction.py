"""Darcy friction in round pipes, and a two-term fit of it cheap enough for an engine's inner loop."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ramwright.errors import InputError
from ramwright.hydraulics._checks import between, finite, not_negative, positive
from ramwright.hydraulics.water import STANDARD_GRAVITY

LAMINAR_REYNOLDS = 2000.0
"""Below this flow is taken as laminar (from memory.

The lower critical Reynolds number of pipe flow, 2000 to 2300).
"""
TURBULENT_REYNOLDS = 4000.0
"""Above this flow is taken as fully turbulent (from memory: upper end of the Moody chart's critical zone)."""


def reynolds_number(*, velocity: float, bore: float, kinematic_viscosity: float) -> float:
    """Return |V| D / nu, no unit.

    ``velocity`` m/s, ``bore`` m, ``kinematic_viscosity`` m2/s. Raises ``InputError``.
    """
    v, d = finite("velocity", velocity), positive("bore", bore)
    return abs(v) * d / positive("kinematic_viscosity", kinematic_viscosity)


def darcy_factor(reynolds: float, relative_roughness: float) -> float:
    """Return the Darcy friction factor f of a round pipe flowing full, no unit.

    ``reynolds`` above 0; ``relative_roughness`` k/D, 0 to 0.05. Laminar 64/Re up to 2000; Colebrook & White
    1939 above 4000 (``fluids``, Clamond's 2009 solution); in between a straight line in Re between the two
    ends, so that loss stays continuous and rises with flow (no published relation holds there). Raises
    ``InputError``.
    """
    re = positive("reynolds", reynolds)
    rough = between("relative_roughness", relative_roughness, 0.0, 0.05)
    if re <= LAMINAR_REYNOLDS:
        return 64.0 / re
    from fluids.friction import Clamond

    if re >= TURBULENT_REYNOLDS:
        return float(Clamond(re, rough))
    share = (re - LAMINAR_REYNOLDS) / (TURBULENT_REYNOLDS - LAMINAR_REYNOLDS)
    return (1.0 - share) * 64.0 / LAMINAR_REYNOLDS + share * float(Clamond(TURBULENT_REYNOLDS, rough))


def loss_per_metre(velocity: float, *, bore: float, roughness: float, kinematic_viscosity: float) -> float:
    """Return the friction slope f V|V| / (2 g D), head per metre of pipe, signed as ``velocity``.

    ``velocity`` m/s, ``bore`` m, ``roughness`` m, ``kinematic_viscosity`` m2/s. Darcy-Weisbach with
    ``darcy_factor`` (laminar: Hagen-Poiseuille 32 nu V / (g D^2)). Raises ``InputError``.
    """
    v, d = finite("velocity", velocity), positive("bore", bore)
    re = reynolds_number(velocity=v, bore=d, kinematic_viscosity=kinematic_viscosity)
    rough = not_negative("roughness", roughness) / d
    if re <= LAMINAR_REYNOLDS:  # also at rest, where f has no value
        between("relative_roughness", rough, 0.0, 0.05)
        return 32.0 * kinematic_viscosity * v / (STANDARD_GRAVITY * d**2)
    return darcy_factor(re, rough) * v * abs(v) / (2.0 * STANDARD_GRAVITY * d)


@dataclass(frozen=True, slots=True)
class TwoTermFriction:
    """Friction slope as ``linear`` V + ``quadratic`` V|V|, and how far it strays over its range.

    ``linear`` s/m, ``quadratic`` s2/m2 (both not negative); ``lowest_velocity`` and ``highest_velocity``
    m/s, the range fitted; ``worst_relative_error`` the largest |fit/true - 1| and ``worst_velocity`` m/s
    where; ``worst_share`` the largest |fit - true| over the true slope at the highest velocity.
    """

    linear: float
    quadratic: float
    lowest_velocity: float
    highest_velocity: float
    worst_relative_error: float
    worst_velocity: float
    worst_share: float

    def loss_per_metre(self, velocity: float) -> float:
        """Return the fitted friction slope at ``velocity`` (m/s), with its sign."""
        return self.linear * velocity + self.quadratic * velocity * abs(velocity)


def fit_two_term(
    *,
    bore: float,
    roughness: float,
    kinematic_viscosity: float,
    lowest_velocity: float,
    highest_velocity: float,
    samples: int = 64,
) -> TwoTermFriction:
    """Fit c1 V + c2 V|V| to Darcy friction by least squares of the relative error, both terms not negative.

    ``bore`` m, ``roughness`` m, ``kinematic_viscosity`` m2/s; velocities m/s, 0 < lowest < highest;
    ``samples`` 8 to 4096, spread evenly in velocity; errors are looked for on a grid four times finer. Own
    fit, no source. Raises ``InputError``.
    """
    low = positive("lowest_velocity", lowest_velocity)
    high = positive("highest_velocity", highest_velocity)
    if low >= high:
        raise InputError("hydraulics_range_empty", field="lowest_velocity", value=low, high=high)
    count = int(between("samples", samples, 8, 4096))

    def slopes(
        at: np.ndarray[tuple[int], np.dtype[np.float64]],
    ) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.array(
            [
                loss_per_metre(v, bore=bore, roughness=roughness, kinematic_viscosity=kinematic_viscosity)
                for v in at.tolist()
            ]
        )

    v = np.linspace(low, high, count)
    true = slopes(v)
    first, second = v / true, v * v / true  # each row divided by the truth: relative errors
    c1, c2 = _least_squares_pair(first, second)
    fine = np.linspace(low, high, 4 * count)
    truth = slopes(fine)
    error = c1 * fine + c2 * fine * fine - truth
    relative = np.abs(error) / truth
    worst = int(np.argmax(relative))
    return TwoTermFriction(
        linear=c1,
        quadratic=c2,
        lowest_velocity=low,
        highest_velocity=high,
        worst_relative_error=float(relative[worst]),
        worst_velocity=float(fine[worst]),
        worst_share=float(np.max(np.abs(error)) / truth[-1]),
    )


def _least_squares_pair(
    first: np.ndarray[tuple[int], np.dtype[np.float64]], second: np.ndarray[tuple[int], np.dtype[np.float64]]
) -> tuple[float, float]:
    """Return the not-negative pair (a, b) that brings a*first + b*second nearest to one."""
    ff, ss, fs = float(first @ first), float(second @ second), float(first @ second)
    f1, s1 = float(first.sum()), float(second.sum())
    determinant = ff * ss - fs * fs
    if determinant > 1e-12 * ff * ss and math.isfinite(determinant):
        a = (f1 * ss - s1 * fs) / determinant
        b = (s1 * ff - f1 * fs) / determinant
        if a >= 0.0 and b >= 0.0:
            return a, b
    only_second, only_first = s1 / ss, f1 / ff  # one term alone: keep the better
    miss_second = len(first) - only_second * s1
    miss_first = len(first) - only_first * f1
    return (0.0, only_second) if miss_second <= miss_first else (only_first, 0.0)
