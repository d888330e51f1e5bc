"""Least squares with given sigmas, and the limits of chance."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import special

from evenfoot.errors import OutOfRangeError
from evenfoot.solvers import chi_squared_limit, excess_sigma, fit_linear, steadiest_part, students_t_limit

RNG = np.random.default_rng(23)
X = np.column_stack([np.ones(9), RNG.uniform(0, 5000, 9), RNG.uniform(0, 3000, 9)])
SIGMAS = RNG.uniform(0.7, 4.0, 9)
Z = X @ np.array([-300.0, 0.011, -0.017]) + RNG.normal(0, SIGMAS)


def test_weighted_fit_and_covariance_equal_the_normal_equations():
    weights = np.diag(SIGMAS**-2.0)
    covariance = np.linalg.inv(X.T @ weights @ X)
    fit = fit_linear(X, Z, sigmas=SIGMAS)
    assert fit.coefficients == pytest.approx(covariance @ X.T @ weights @ Z, rel=1e-9)
    assert fit.covariance == pytest.approx(covariance, rel=1e-7)
    assert fit.leverages == pytest.approx(np.diag(X @ covariance @ X.T) / SIGMAS**2, rel=1e-9)
    assert fit.freedom == 6
    assert fit.leverages.sum() == pytest.approx(3)


def test_deleted_residuals_equal_fits_really_made_without_each_value():
    fit = fit_linear(X, Z, sigmas=SIGMAS)
    for k in range(9):
        keep = np.arange(9) != k
        left = fit_linear(X[keep], Z[keep], sigmas=SIGMAS[keep])
        assert fit.deleted_residuals[k] == pytest.approx(Z[k] - X[k] @ left.coefficients, rel=1e-8)
        variance = SIGMAS[k] ** 2 + X[k] @ left.covariance @ X[k]
        assert fit.deleted_sigmas[k] ** 2 == pytest.approx(variance, rel=1e-8)
        assert fit.deleted_misfit_squares[k] == pytest.approx(left.misfit_squares, rel=1e-8)


def test_a_value_that_alone_fixes_an_unknown_cannot_be_compared():
    design = np.array([[1.0, 0.0], [1.0, 0.0], [1.0, 5.0]])
    fit = fit_linear(design, np.array([1.0, 2.0, 9.0]), sigmas=np.ones(3))
    assert np.isnan(fit.deleted_residuals[2])
    assert np.isfinite(fit.deleted_residuals[:2]).all()


def test_arrays_of_a_fit_cannot_be_changed():
    with pytest.raises(ValueError, match="read-only"):
        fit_linear(X, Z, sigmas=SIGMAS).coefficients[0] = 1.0


@pytest.mark.parametrize(
    ("design", "sigmas", "code", "found"),
    [
        (X, np.append(SIGMAS[:8], 0.0), "sigma-not-positive", "0"),
        (X[:, [0, 1, 1]], SIGMAS, "fit-underdetermined", "2"),
        (X[:2], SIGMAS[:2], "fit-underdetermined", "2"),
    ],
)
def test_what_cannot_be_fitted_is_refused(design, sigmas, code, found):
    with pytest.raises(OutOfRangeError) as caught:
        fit_linear(design, Z[: len(design)], sigmas=sigmas)
    assert (caught.value.fault.code, caught.value.fault.found) == (code, found)


def test_excess_for_equal_sigmas_is_the_spread_beyond_them():
    fit = fit_linear(X, Z, sigmas=np.full(9, 0.5))
    spread = np.sum(fit.residuals**2) / fit.freedom
    assert excess_sigma(X, Z, sigmas=np.full(9, 0.5)) ** 2 == pytest.approx(spread - 0.25, rel=1e-9)


def test_with_the_excess_added_the_misfit_is_what_chance_explains():
    added = excess_sigma(X, Z + 9.0 * np.sin(np.arange(9.0) ** 2), sigmas=SIGMAS)
    fit = fit_linear(X, Z + 9.0 * np.sin(np.arange(9.0) ** 2), sigmas=np.hypot(SIGMAS, added))
    assert added > 1
    assert fit.misfit_squares == pytest.approx(fit.freedom, rel=1e-9)


def test_no_excess_where_values_agree_or_none_is_spare():
    assert excess_sigma(X, Z, sigmas=SIGMAS * 10) == 0
    assert excess_sigma(X[:3], Z[:3], sigmas=SIGMAS[:3]) == 0


@pytest.mark.parametrize("freedom", [1, 2, 3, 6, 11, 40, 501])
@pytest.mark.parametrize("share", [0.5, 0.05, 0.01, 1e-4, 2e-5])
def test_limits_of_chance_agree_with_an_independent_program(freedom, share):
    assert students_t_limit(share=share, freedom=freedom) == pytest.approx(
        -special.stdtrit(freedom, share / 2), rel=1e-7
    )
    assert chi_squared_limit(share=share, freedom=freedom) == pytest.approx(special.chdtri(freedom, share), rel=1e-9)


@pytest.mark.parametrize("limit", [students_t_limit, chi_squared_limit])
@pytest.mark.parametrize(
    ("share", "freedom", "code", "where", "found"),
    [
        (0.0, 3, "share-out-of-range", "share", "0"),
        (1.0, 3, "share-out-of-range", "share", "1"),
        (0.1, 0, "freedom-out-of-range", "freedom", "0"),
    ],
)
def test_chance_has_no_limit_outside_its_range(limit, share, freedom, code, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        limit(share=share, freedom=freedom)
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == (code, where, found)


@pytest.mark.parametrize("count", [9, 60])
def test_the_steadiest_part_holds_none_of_the_wrong_values_though_a_third_are(count):
    rng = np.random.default_rng(count)
    design = np.column_stack([np.ones(count), rng.uniform(0, 9, count), rng.uniform(0, 9, count)])
    values = design @ np.array([4.0, -2.0, 0.5]) + rng.normal(0, 0.1, count)
    wrong = np.arange(count) % 3 == 1
    values[wrong] += 30 + rng.uniform(0, 9, wrong.sum())
    chosen = steadiest_part(design, values, sigmas=np.ones(count))
    assert not (chosen & wrong).any()
    assert chosen.sum() == count // 2 + 2


def test_there_is_no_steadiest_part_when_the_values_fix_nothing():
    with pytest.raises(OutOfRangeError) as caught:
        steadiest_part(np.ones((5, 2)), np.arange(5.0), sigmas=np.ones(5))
    assert caught.value.fault.code == "fit-underdetermined"
    with pytest.raises(OutOfRangeError):
        steadiest_part(np.ones((1, 2)), np.arange(1.0), sigmas=np.ones(1))
