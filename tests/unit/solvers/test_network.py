"""Points from measured distances, against another library and closed forms."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from evenfoot.errors import OutOfRangeError
from evenfoot.solvers.network import Span, Tie, fit_distances, missing_distances

BOX = np.array([[0.0, 0.0], [3617.0, 0.0], [3617.0, 2741.0], [0.0, 2741.0]])
PAIRS = list(combinations(range(4), 2))


def spans_of(points, sigma=0.7, errors=None, pairs=PAIRS):
    errors = errors if errors is not None else [0.0] * len(pairs)
    return [
        Span(pair=p, value=float(np.hypot(*(points[p[1]] - points[p[0]]))) + e, sigma=sigma)
        for p, e in zip(pairs, errors, strict=True)
    ]


shapes = st.lists(st.tuples(st.floats(-400, 400), st.floats(-400, 400)), min_size=4, max_size=4).map(
    lambda by: BOX + np.array(by)
)


@settings(deadline=None)
@given(shapes)
def test_exact_distances_give_the_points_and_no_residual(points):
    fitted = fit_distances(BOX, spans_of(points))
    assert fitted.fit.misfit_squares == pytest.approx(0.0, abs=1e-12)
    for a, b in PAIRS:
        now = float(np.hypot(*(fitted.points[b] - fitted.points[a])))
        assert now == pytest.approx(float(np.hypot(*(points[b] - points[a]))), rel=1e-11)
    assert tuple(fitted.points[0]) == (0.0, 0.0)
    assert fitted.points[1, 1] == 0.0


@settings(max_examples=40, deadline=None)
@given(shapes, st.lists(st.floats(-3, 3), min_size=6, max_size=6))
def test_the_fit_is_that_of_a_general_least_squares_solver(points, errors):
    spans = [
        Span(pair=s.pair, value=s.value, sigma=0.4 + 0.2 * n) for n, s in enumerate(spans_of(points, errors=errors))
    ]
    fitted = fit_distances(BOX, spans, scale_sigma=1e-4)

    def misfit(v):
        at = np.array([[0.0, 0.0], [v[0], 0.0], [v[1], v[2]], [v[3], v[4]]])
        own = [(s.value - (1 + v[5] * 1e-4) * np.hypot(*(at[s.pair[1]] - at[s.pair[0]]))) / s.sigma for s in spans]
        return [*own, v[5]]

    start = [BOX[1, 0], *BOX[2], *BOX[3], 0.0]
    peer = least_squares(misfit, start, xtol=1e-15, ftol=1e-15, gtol=1e-15, x_scale=[1, 1, 1, 1, 1, 1e-3])
    assert fitted.fit.misfit_squares == pytest.approx(2 * peer.cost, rel=1e-6, abs=1e-7)
    assert fitted.points[2] == pytest.approx(peer.x[1:3], abs=1e-3)  # flat optimum: the peer stops at 1e-8 of 4 m


def test_the_certainty_of_a_diagonal_is_that_of_its_reading_where_nothing_else_tells_of_it():
    pairs = [(0, 1), (1, 2), (0, 2), (2, 3), (0, 3)]
    fitted = fit_distances(BOX, spans_of(BOX, pairs=pairs))
    assert fitted.sigma_of(lambda p: float(np.hypot(*(p[2] - p[0])))) == pytest.approx(0.7, rel=1e-6)


def test_the_scale_of_the_tape_makes_sizes_unsure_and_angles_not():
    sure = fit_distances(BOX, spans_of(BOX))
    scaled = fit_distances(BOX, spans_of(BOX), scale_sigma=1e-3)

    def side(p):
        return float(p[1, 0])

    def angle(p):
        return math.atan2(p[3, 1], p[3, 0])

    assert scaled.sigma_of(angle) == pytest.approx(sure.sigma_of(angle), rel=1e-4)
    assert scaled.sigma_of(side) == pytest.approx(math.hypot(sure.sigma_of(side), 3617e-3), rel=1e-3)


def test_a_tie_counts_as_a_reading():
    pairs = [(0, 1), (2, 3), (0, 2), (1, 3)]
    tie = Tie(first=(1, 2), second=(0, 3), value=0.0, sigma=1.0)
    assert missing_distances(BOX, pairs) == ((0, 3),)
    assert missing_distances(BOX, pairs, ties=[tie]) == ()
    fitted = fit_distances(BOX + np.array([0, 7.0]), spans_of(BOX, pairs=pairs), ties=[tie])
    assert fitted.points[2] == pytest.approx(BOX[2], abs=1e-6)


@pytest.mark.parametrize("count", range(7))
def test_what_is_missing_fixes_every_point_and_no_less_does(count):
    for chosen in combinations(PAIRS, count):
        missing = missing_distances(BOX, chosen)
        assert len(missing) >= 5 - count
        fitted = fit_distances(BOX, spans_of(BOX, pairs=[*chosen, *missing]))
        assert fitted.points[3] == pytest.approx(BOX[3], abs=1e-6)
        if missing:
            with pytest.raises(OutOfRangeError) as raised:
                fit_distances(BOX, spans_of(BOX, pairs=[*chosen, *missing[:-1]]))
            assert raised.value.fault.code == "fit-underdetermined"


def test_points_that_start_on_one_spot_are_refused():
    with pytest.raises(OutOfRangeError) as raised:
        fit_distances(np.zeros((4, 2)), spans_of(BOX))
    assert (raised.value.fault.code, raised.value.fault.where) == ("fit-underdetermined", "start")


@pytest.mark.parametrize("start", [(3617.0, 30.0), (40.0, 2741.0), (36_170.0, 27.0)])
def test_a_bad_guess_leads_to_the_same_points(start):
    width, depth = start
    guess = np.array([[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]])
    fitted = fit_distances(guess, spans_of(BOX), scale_sigma=1e-4)
    assert fitted.points[2] == pytest.approx(BOX[2], abs=1e-5)
    assert fitted.fit.misfit_squares == pytest.approx(0.0, abs=1e-9)
