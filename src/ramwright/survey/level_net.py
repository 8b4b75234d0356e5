"""Differences of level between points, adjusted together by least squares.

Every way of levelling ends as differences between points, so books, hoses, gauges and tapes of one day are
adjusted as one network: a loop closes, a second person's run checks the first, and what nothing checks is
known to be unchecked.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, finite, positive
from ramwright.survey.consistency import Judging, chi_square_tail, widening
from ramwright.survey.findings import Finding, found
from ramwright.survey.level_elimination import solve_levels
from ramwright.survey.level_graph import blocks_of, reached_from

# Below this share of its own weight a leg is checked by nothing but rounding.
_UNCHECKED = 1e-9


class HeightDifference(NamedTuple):
    """A measured difference: level of ``end`` minus level of ``start`` is ``height`` (m), standard deviation
    ``sd`` (m, above 0). ``label`` says which run it came from.
    """

    start: str
    end: str
    height: float
    sd: float
    label: str = ""


@dataclass(frozen=True, slots=True)
class LegResidual:
    """A leg after adjusting.

    ``residual`` measured minus adjusted (m); ``normalised`` in its own standard deviations, None where
    nothing checks it; ``redundancy`` how far the rest checks it, 0 (not at all) to 1; ``block`` which set
    of legs it closes with.
    """

    leg: HeightDifference
    residual: float
    normalised: float | None
    redundancy: float
    block: int


@dataclass(frozen=True, slots=True)
class Block:
    """Legs that close on each other, or one leg alone.

    ``legs`` their indices; ``chi_square``, ``degrees``, ``p_value`` of the closing; ``widened_by`` the
    factor on their standard deviations (1 when they agree); ``suspects`` legs without any one of which the
    rest agree.
    """

    legs: tuple[int, ...]
    chi_square: float
    degrees: int
    p_value: float
    widened_by: float
    agrees: bool
    suspects: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class HeightNet:
    """Adjusted levels.

    ``points`` names; ``levels`` m, shape (n,); ``covariance`` m2, shape (n, n), with fixed points' rows
    nought; ``legs`` one for each difference, in the order given; ``blocks``; ``findings``.
    """

    points: tuple[str, ...]
    levels: NDArray[np.float64]
    covariance: NDArray[np.float64]
    legs: tuple[LegResidual, ...]
    blocks: tuple[Block, ...]
    findings: tuple[Finding, ...]
    index: Mapping[str, int]

    def level(self, point: str, *, origin: str = "levelling") -> Estimate:
        """Level of ``point`` (m) against the fixed ones; raises ``InputError`` for an unknown point."""
        i = self._at(point)
        return Estimate(float(self.levels[i]), math.sqrt(max(self.covariance[i, i], 0.0)), origin)

    def difference(self, start: str, end: str, *, origin: str = "levelling") -> Estimate:
        """Level of ``end`` minus ``start`` (m), with the covariance between them."""
        i, j = self._at(start), self._at(end)
        cov = self.covariance
        variance = cov[i, i] + cov[j, j] - 2.0 * cov[i, j]
        return Estimate(float(self.levels[j] - self.levels[i]), math.sqrt(max(variance, 0.0)), origin)

    def _at(self, point: str) -> int:
        if point not in self.index:
            raise InputError("survey_point_unknown", field="point", value=point)
        return self.index[point]


def adjust_heights(
    legs: Sequence[HeightDifference], *, fixed: Mapping[str, float], judging: Judging
) -> HeightNet:
    """Levels of all points from measured differences, by least squares with weights 1 / sd^2.

    Normal equations N x = A' P l; residuals v = l - A x; normalised residual v / (sd sqrt r) with
    redundancy r = 1 - (variance of the adjusted leg) / sd^2 (Ghilani & Wolf 2006, chapters 12 and 21;
    Baarda 1968: from memory). ``fixed`` levels (m) are held exactly, at least one. A block of legs that
    does not close within its spreads is widened by itself: a bad line to the tank leaves the fall as sure
    as it was.

    Raises ``InputError``: no leg, no fixed point, a leg from a point to itself, a spread not above nought, or
    points that nothing joins to a fixed one.
    """
    at_least("legs", legs, 1)
    _check(legs, fixed)
    solved = _solve(legs, fixed, np.array([leg.sd for leg in legs]))
    members = blocks_of([(leg.start, leg.end) for leg in legs], set(fixed))
    blocks = tuple(_judge(solved, tuple(sorted(block)), judging) for block in members)
    if any(block.widened_by > 1.0 for block in blocks):
        factor = np.ones(len(legs))
        for block in blocks:
            factor[list(block.legs)] = block.widened_by
        wide = _solve(legs, fixed, solved.sds * factor)
        levels, covariance = wide.levels, wide.covariance
    else:
        levels, covariance = solved.levels, solved.covariance
    rows: list[LegResidual | None] = [None] * len(legs)
    for number, block in enumerate(blocks):
        for i in block.legs:
            checked = solved.redundancy[i] > _UNCHECKED
            rows[i] = LegResidual(
                legs[i],
                float(solved.residuals[i]),
                float(solved.normalised[i]) if checked else None,
                float(solved.redundancy[i]) if checked else 0.0,
                number,
            )
    findings = tuple(item for block in blocks for item in _report(block, legs, solved, judging))
    return HeightNet(
        tuple(solved.index),
        levels,
        covariance,
        tuple(row for row in rows if row is not None),
        blocks,
        findings,
        solved.index,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Solved:
    index: dict[str, int]
    levels: NDArray[np.float64]
    covariance: NDArray[np.float64]
    sds: NDArray[np.float64]
    residuals: NDArray[np.float64]
    redundancy: NDArray[np.float64]
    normalised: NDArray[np.float64]


def _check(legs: Sequence[HeightDifference], fixed: Mapping[str, float]) -> None:
    if not fixed:
        raise InputError("survey_no_fixed_point", field="fixed")
    for point, level in fixed.items():
        finite(f"fixed[{point}]", level)
    for i, leg in enumerate(legs):
        finite(f"legs[{i}].height", leg.height)
        positive(f"legs[{i}].sd", leg.sd)
        if leg.start == leg.end:
            raise InputError("survey_leg_to_itself", field=f"legs[{i}]", value=leg.start)
    joined = reached_from(set(fixed), [(leg.start, leg.end) for leg in legs])
    apart = sorted({point for leg in legs for point in (leg.start, leg.end)} - joined)
    if apart:
        raise InputError("survey_points_apart", field="legs", value=apart)


def _solve(legs: Sequence[HeightDifference], fixed: Mapping[str, float], sds: NDArray[np.float64]) -> _Solved:
    """Unknowns come first, fixed points after, so the unknowns' block is the upper left of everything."""
    names = dict.fromkeys(point for leg in legs for point in (leg.start, leg.end))
    unknown = [name for name in names if name not in fixed]
    index = {name: i for i, name in enumerate([*unknown, *fixed])}
    start = np.array([index[leg.start] for leg in legs])
    end = np.array([index[leg.end] for leg in legs])
    heights = np.array([leg.height for leg in legs])
    weights = 1.0 / sds**2
    numbered = list(zip(start.tolist(), end.tolist(), heights.tolist(), weights.tolist(), strict=True))
    levels, covariance = solve_levels(numbered, np.array(list(fixed.values())), len(unknown))
    residuals = heights - (levels[end] - levels[start])
    adjusted = covariance[start, start] + covariance[end, end] - 2.0 * covariance[start, end]
    redundancy = np.clip(1.0 - adjusted * weights, 0.0, 1.0)
    checked = redundancy > _UNCHECKED
    normalised = np.where(checked, residuals / (sds * np.sqrt(np.where(checked, redundancy, 1.0))), 0.0)
    return _Solved(index, levels, covariance, sds, residuals, redundancy, normalised)


def _judge(solved: _Solved, legs: tuple[int, ...], judging: Judging) -> Block:
    rows = list(legs)
    chi_square = float(np.sum((solved.residuals[rows] / solved.sds[rows]) ** 2))
    # The redundancy numbers of a block sum to its degrees of freedom.
    degrees = round(float(np.sum(solved.redundancy[rows])))
    p_value = chi_square_tail(chi_square, degrees)
    w = solved.normalised[rows]
    worst = float(np.max(np.abs(w)))
    agrees = degrees == 0 or (p_value >= judging.significance and worst <= judging.residual_limit)
    suspects: tuple[int, ...] = ()
    if not agrees:
        suspects = tuple(
            i
            for i, each in zip(legs, w, strict=True)
            if abs(each) > judging.residual_limit
            and chi_square_tail(max(chi_square - each * each, 0.0), degrees - 1) >= judging.significance
        )
    wide = widening(chi_square, degrees, judging.significance)
    return Block(legs, chi_square, degrees, p_value, wide, agrees, suspects)


def _report(
    block: Block, legs: Sequence[HeightDifference], solved: _Solved, judging: Judging
) -> list[Finding]:
    if block.agrees:
        return []
    labels = tuple(dict.fromkeys(legs[i].label for i in block.legs if legs[i].label))
    about = ", ".join(labels) or "levels"
    worst = float(np.max(np.abs(solved.normalised[list(block.legs)])))
    out = []
    if block.p_value < judging.significance:
        out.append(
            found(
                "levels_disagree",
                about,
                names=labels,
                chi_square=block.chi_square,
                degrees=block.degrees,
                p_value=block.p_value,
                widened_by=block.widened_by,
            )
        )
    if len(block.suspects) == 1:
        i = block.suspects[0]
        out.append(
            found(
                "level_outlier",
                legs[i].label or about,
                names=(legs[i].start, legs[i].end),
                residual_m=float(solved.residuals[i]),
                normalised=float(solved.normalised[i]),
                limit=judging.residual_limit,
            )
        )
    else:
        names = tuple(dict.fromkeys(legs[i].label for i in block.suspects))
        out.append(
            found(
                "level_outlier_not_located",
                about,
                names=names,
                count=len(block.suspects),
                largest_normalised=worst,
            )
        )
    return out
