"""Several measurements of one fact, adjusted together; who disagrees is named, nothing is averaged away."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least
from ramwright.survey.consistency import Judging, chi_square_tail, widening
from ramwright.survey.findings import Finding, found


@dataclass(frozen=True, slots=True)
class Measured:
    """One measurement of a fact: who or what (``label``) and its value with spread."""

    label: str
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class Residual:
    """A measurement against the adjusted value.

    ``share`` its weight in the result (all shares sum to 1; a correlated one may be negative); ``residual``
    measured minus adjusted; ``normalised`` the residual in its own standard deviations (0 when nothing
    checks it). Values, spreads and residuals share one SI unit.
    """

    label: str
    value: float
    sd: float
    share: float
    residual: float
    normalised: float


@dataclass(frozen=True, slots=True)
class Adjustment:
    """The result of adjusting measurements of one fact.

    ``estimate`` uses all of them; ``rows`` one for each, in the order given; ``chi_square``, ``degrees``
    and ``p_value`` of the set; ``widened_by`` the factor on the spread (1 when they agree); ``agrees``
    whether neither test fails; ``suspects`` the measurements without any one of which the rest agree;
    ``without`` the value without the suspect, when there is exactly one.
    """

    estimate: Estimate
    rows: tuple[Residual, ...]
    chi_square: float
    degrees: int
    p_value: float
    widened_by: float
    agrees: bool
    suspects: tuple[str, ...]
    without: Estimate | None
    findings: tuple[Finding, ...]

    @property
    def outlier(self) -> str | None:
        """The one measurement that disagrees with the rest, when exactly one explains the disagreement."""
        return self.suspects[0] if len(self.suspects) == 1 else None


@dataclass(frozen=True, slots=True)
class _Solved:
    value: float
    variance: float
    shares: NDArray[np.float64]
    residuals: NDArray[np.float64]
    normalised: NDArray[np.float64]
    chi_square: float


def combine(
    measured: Sequence[Measured],
    *,
    judging: Judging,
    about: str,
    covariance: NDArray[np.float64] | None = None,
) -> Adjustment:
    """Adjust measurements of one fact by weighted least squares.

    x = (1' P 1)^-1 1' P y with P the inverse of ``covariance``, shape (n, n), or of the squared standard
    deviations; normalised residuals w = (P v)_i / sqrt((P Qv P)_ii) and the test on them: Baarda 1968 (from
    memory). Taking measurement i away lowers chi-square by w_i^2, so a suspect is one beyond
    ``judging.residual_limit`` without which the rest pass the chi-square test. Two measurements that differ
    are both suspects: which of them is wrong cannot be told.

    Raises ``InputError``: no measurement, two labels alike, a standard deviation of nought, or a covariance
    that is not one.
    """
    at_least(about, measured, 1)
    _check_labels(about, measured)
    values = np.array([item.estimate.value for item in measured])
    spread = _covariance(about, measured, covariance)
    solved = _solve(values, spread)
    degrees = len(measured) - 1
    p_value = chi_square_tail(solved.chi_square, degrees)
    worst = float(np.max(np.abs(solved.normalised)))
    agrees = p_value >= judging.significance and worst <= judging.residual_limit
    widened = widening(solved.chi_square, degrees, judging.significance)
    suspects = () if agrees else _suspects(solved, degrees, judging)
    without = _without(values, spread, suspects[0], judging, about) if len(suspects) == 1 else None
    names = tuple(measured[i].label for i in suspects)
    rows = tuple(
        Residual(item.label, item.estimate.value, item.estimate.sd, float(s), float(v), float(w))
        for item, s, v, w in zip(measured, solved.shares, solved.residuals, solved.normalised, strict=True)
    )
    estimate = Estimate(solved.value, math.sqrt(solved.variance) * widened, _origin(measured))
    result = Adjustment(
        estimate, rows, solved.chi_square, degrees, p_value, widened, agrees, names, without, ()
    )
    return result if agrees else replace(result, findings=_findings(result, about, judging))


def _findings(result: Adjustment, about: str, judging: Judging) -> tuple[Finding, ...]:
    out: list[Finding] = []
    if result.p_value < judging.significance:
        out.append(
            found(
                "methods_disagree",
                about,
                names=tuple(row.label for row in result.rows),
                chi_square=result.chi_square,
                degrees=result.degrees,
                p_value=result.p_value,
                widened_by=result.widened_by,
            )
        )
    if result.without is None:
        worst = max(abs(row.normalised) for row in result.rows)
        suspects = result.suspects
        count = len(suspects)
        out.append(found("outlier_not_located", about, names=suspects, count=count, largest_normalised=worst))
    else:
        row = next(row for row in result.rows if row.label == result.outlier)
        out.append(
            found(
                "outlier",
                about,
                names=(row.label,),
                residual=row.residual,
                normalised=row.normalised,
                limit=judging.residual_limit,
                value_without=result.without.value,
                sd_without=result.without.sd,
            )
        )
    return tuple(out)


def _origin(measured: Sequence[Measured]) -> str:
    if len(measured) == 1:
        return measured[0].estimate.origin or measured[0].label
    return ", ".join(item.label for item in measured)


def _check_labels(about: str, measured: Sequence[Measured]) -> None:
    seen: set[str] = set()
    for item in measured:
        if item.label in seen:
            raise InputError("survey_label_twice", field=about, value=item.label)
        seen.add(item.label)


def _covariance(
    about: str, measured: Sequence[Measured], covariance: NDArray[np.float64] | None
) -> NDArray[np.float64]:
    count = len(measured)
    if covariance is None:
        for item in measured:
            if item.estimate.sd == 0.0 and count > 1:
                raise InputError("survey_spread_missing", field=about, value=item.label)
        return np.diag([item.estimate.sd**2 for item in measured])
    if covariance.shape != (count, count) or not np.allclose(covariance, covariance.T):
        raise InputError("survey_covariance_wrong", field=about, value=str(covariance.shape), count=count)
    return covariance


def _solve(values: NDArray[np.float64], spread: NDArray[np.float64]) -> _Solved:
    if values.size == 1:
        nought = np.zeros(1)
        return _Solved(float(values[0]), float(spread[0, 0]), np.ones(1), nought, nought, 0.0)
    try:
        np.linalg.cholesky(spread)
    except np.linalg.LinAlgError:
        raise InputError("survey_covariance_wrong", value=str(spread.shape), count=int(values.size)) from None
    weights = np.linalg.inv(spread)
    ones = np.ones(values.size)
    total = float(ones @ weights @ ones)
    shares = (weights @ ones) / total
    value = float(shares @ values)
    residuals = values - value
    # P Qv P, with Qv = C - 1 var 1'.
    checked = weights - np.outer(weights @ ones, weights @ ones) / total
    own = np.diag(checked)
    # A measurement that carries all the weight checks itself only: nothing can be said of it.
    seen = own > 1e-12 * np.diag(weights)
    normalised = np.where(seen, (weights @ residuals) / np.sqrt(np.where(seen, own, 1.0)), 0.0)
    return _Solved(value, 1.0 / total, shares, residuals, normalised, float(residuals @ weights @ residuals))


def _suspects(solved: _Solved, degrees: int, judging: Judging) -> tuple[int, ...]:
    found_guilty = []
    for i, w in enumerate(solved.normalised):
        rest = chi_square_tail(max(solved.chi_square - w * w, 0.0), degrees - 1)
        if abs(w) > judging.residual_limit and rest >= judging.significance:
            found_guilty.append(i)
    return tuple(found_guilty)


def _without(
    values: NDArray[np.float64], spread: NDArray[np.float64], index: int, judging: Judging, about: str
) -> Estimate:
    keep = np.arange(values.size) != index
    rest = _solve(values[keep], spread[np.ix_(keep, keep)])
    widened = widening(rest.chi_square, int(keep.sum()) - 1, judging.significance)
    return Estimate(rest.value, math.sqrt(rest.variance) * widened, f"{about}, without the outlier")
