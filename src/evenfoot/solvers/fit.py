"""What line or plane runs best through readings, how sure it is, and how far one reading may stand off by chance."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, OutOfRangeError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LinearFit:
    """A weighted least squares fit of n values by p unknowns; arrays are read-only.

    ``covariance`` follows from the sigmas that were given, not from the misfit. ``misfit_squares`` is the sum of
    squared residuals, each in its own sigma; with honest sigmas it is about ``freedom`` = n - p.
    """

    coefficients: Array
    """Shape (p,)."""
    covariance: Array
    """Shape (p, p)."""
    residuals: Array
    """Value minus fit, shape (n,)."""
    leverages: Array
    """Share of each value in its own fit, 0 to 1, shape (n,)."""
    sigmas: Array
    """As given, shape (n,)."""
    misfit_squares: float
    freedom: int

    @property
    def deleted_residuals(self) -> Array:
        """Each value minus what the fit to all *others* predicts there, shape (n,); nan where only it can tell.

        Source: D. Cook and S. Weisberg, Residuals and Influence in Regression, 1982, section 2.2.
        """
        return _divide(self.residuals, 1.0 - self.leverages)

    @property
    def deleted_sigmas(self) -> Array:
        """Standard deviation of each deleted residual, from the given sigmas, shape (n,); nan as above."""
        return _divide(self.sigmas, np.sqrt(np.clip(1.0 - self.leverages, 0.0, None)))

    @property
    def deleted_misfit_squares(self) -> Array:
        """``misfit_squares`` of the fit to all others, for each value left out, shape (n,); never negative."""
        own = _divide(self.residuals, self.sigmas) ** 2
        left = self.misfit_squares - np.nan_to_num(_divide(own, 1.0 - self.leverages))
        return np.clip(left, 0.0, None)


def _divide(above: Array, below: Array) -> Array:
    out = np.full_like(above, np.nan)
    np.divide(above, below, out=out, where=below > 1e-9)
    return out


def _frozen(array: Array) -> Array:
    array.setflags(write=False)
    return array


def fit_linear(design: Array, values: Array, *, sigmas: Array) -> LinearFit:
    """Return the least squares fit of ``values`` by ``design @ coefficients``, each value weighted by its sigma.

    Source: least squares by singular values; G. Golub and C. Van Loan, Matrix Computations, 4th ed., 2013, 5.5.
    Args: design, shape (n, p) [-]; values, shape (n,); sigmas, their standard deviations, shape (n,), same unit.
    Raises: OutOfRangeError (``sigma-not-positive``) for a sigma of zero or less; (``fit-underdetermined``) when the
    values cannot fix all p unknowns.
    """
    if not bool(np.all(sigmas > 0)):
        raise OutOfRangeError(
            Fault(where="sigmas", code="sigma-not-positive", found=f"{float(np.min(sigmas)):g}", allowed="> 0")
        )
    rows, unknowns = design.shape
    weighted = design / sigmas[:, None]
    scale = np.linalg.norm(weighted, axis=0)
    left, singular, right = np.linalg.svd(weighted / np.where(scale > 0, scale, 1.0), full_matrices=False)
    rank = int(np.sum(singular > singular.max(initial=0.0) * 1e-12)) if singular.size else 0
    if rank < unknowns:
        raise OutOfRangeError(
            Fault(where="design", code="fit-underdetermined", found=str(rank), allowed=f">= {unknowns}")
        )
    half = right.T / singular
    coefficients = (half @ (left.T @ (values / sigmas))) / scale
    residuals = values - design @ coefficients
    return LinearFit(
        coefficients=_frozen(coefficients),
        covariance=_frozen((half @ half.T) / np.outer(scale, scale)),
        residuals=_frozen(residuals),
        leverages=_frozen(np.sum(left**2, axis=1)),
        sigmas=_frozen(np.array(sigmas, dtype=np.float64)),
        misfit_squares=float(np.sum((residuals / sigmas) ** 2)),
        freedom=rows - unknowns,
    )


def excess_sigma(design: Array, values: Array, *, sigmas: Array) -> float:
    """Return the standard deviation that must be added to every sigma for the misfit to be what chance explains.

    Zero when the values already agree as well as their sigmas promise, and when none is spare.
    Source: R. Paule and J. Mandel, Consensus values and weighting factors, J. Res. NBS 87 (1982) 377-385.
    Args and raises: as ``fit_linear``.
    """
    added = 0.0
    for _ in range(_ROUNDS):
        fit = fit_linear(design, values, sigmas=np.sqrt(sigmas**2 + added))
        surplus = fit.misfit_squares - fit.freedom
        if fit.freedom == 0 or surplus <= 1e-12 * fit.freedom:
            break
        # The misfit is convex in the added variance (a least value of u^2/v), so that Newton never oversteps.
        added += surplus / float(np.sum((fit.residuals / fit.sigmas**2) ** 2))
    return math.sqrt(added)


_ROUNDS = 100


def _root(falling: Callable[[float], float], *, low: float, high: float) -> float:
    """Return where a falling function crosses zero between two places, by halving 48 times."""
    for _ in range(48):
        middle = (low + high) / 2
        if falling(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def students_t_limit(*, share: float, freedom: int) -> float:
    """Return the t that chance oversteps, on either side, in ``share`` of all cases [-].

    Source: M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4 (finite sums).
    Valid: 0 < share < 1; freedom >= 1.
    Raises: OutOfRangeError (``share-out-of-range``, ``freedom-out-of-range``).
    """
    _check(share=share, freedom=freedom)
    high = 1.0
    while _t_tails(high, freedom) > share:
        high *= 2
    return _root(lambda t: _t_tails(t, freedom) - share, low=0.0, high=high)


def _t_tails(t: float, freedom: int) -> float:
    """Return the chance that a Student's t lies beyond +-t."""
    theta = math.atan(t / math.sqrt(freedom))
    cosine, sine = math.cos(theta), math.sin(theta)
    total, term = 0.0, 1.0
    if freedom % 2 == 0:
        for k in range(freedom // 2):
            total += term
            term *= cosine * cosine * (2 * k + 1) / (2 * k + 2)
        return max(0.0, 1.0 - sine * total)
    term = cosine
    for k in range(freedom // 2):
        total += term
        term *= cosine * cosine * (2 * k + 2) / (2 * k + 3)
    return max(0.0, 1.0 - 2 / math.pi * (theta + sine * total))


def chi_squared_limit(*, share: float, freedom: int) -> float:
    """Return the chi-squared that chance oversteps in ``share`` of all cases [-].

    Source: M. Abramowitz and I. Stegun, Handbook of Mathematical Functions, 1964, 26.4.4 and 26.4.5 (finite sums).
    Valid: 0 < share < 1; freedom >= 1.
    Raises: OutOfRangeError (``share-out-of-range``, ``freedom-out-of-range``).
    """
    _check(share=share, freedom=freedom)
    high = float(freedom)
    while _chi_tail(high, freedom) > share:
        high *= 2
    return _root(lambda x: _chi_tail(x, freedom) - share, low=0.0, high=high)


def _chi_tail(x: float, freedom: int) -> float:
    """Return the chance that a chi-squared exceeds x, each term by logarithms so that a long sum cannot overflow."""
    if x <= 0:
        return 1.0
    odd = freedom % 2
    total = math.erfc(math.sqrt(x / 2)) if odd else 0.0
    first = 0.5 if odd else 0.0
    for k in range(freedom // 2):
        power = first + k
        total += math.exp(power * math.log(x / 2) - x / 2 - math.lgamma(power + 1))
    return min(1.0, total)


def _check(*, share: float, freedom: int) -> None:
    if not 0 < share < 1:
        fault = Fault(where="share", code="share-out-of-range", found=f"{share:g}", allowed="0 < share < 1")
        raise OutOfRangeError(fault)
    if freedom < 1:
        raise OutOfRangeError(Fault(where="freedom", code="freedom-out-of-range", found=str(freedom), allowed=">= 1"))
