"""The inverse near a place, against the whole inverse."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.sparse import csr_array

from evenfoot.solvers import slices


def system(seed, count=140, width=6.0):
    """A random positive system whose freedoms lie along a line and are coupled with near ones only."""
    rng = np.random.default_rng(seed)
    place = rng.uniform(0.0, 100.0, count)
    near = np.abs(place[:, None] - place[None, :]) < width
    matrix = np.where(near, rng.normal(size=(count, count)), 0.0)
    matrix = (matrix + matrix.T) / 2
    matrix += np.diag(np.abs(matrix).sum(axis=1) + 0.1)
    scale = 10.0 ** rng.uniform(-3, 3, count)
    return matrix * scale * scale[:, None], place


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("reach", [0.0, 9.0, 37.0, 500.0])
def test_each_window_holds_its_part_of_the_inverse(seed, reach):
    matrix, place = system(seed)
    slicing = slices.cut(csr_array(matrix), place, least=10)
    assert len(slicing) > 4
    whole = np.linalg.inv(matrix)[np.ix_(slicing.order, slicing.order)]
    cores = []
    for window in slices.windows(slices.eliminate(csr_array(matrix), slicing), reach):
        expected = whole[window.first : window.last, window.first : window.last]
        scale = np.sqrt(np.outer(expected.diagonal(), expected.diagonal()))
        assert np.abs((window.inverse - expected) / scale).max() < 1e-9
        held = np.zeros(len(place), dtype=bool)
        held[window.first : window.last] = True
        for core in window.cores:
            inside = (place[slicing.order] >= slicing.low[core] - reach) & (
                place[slicing.order] <= slicing.high[core] + reach
            )
            assert held[inside].all()
            assert window.first <= slicing.starts[core] < window.last
        cores += reversed(window.cores)
    assert cores == list(range(len(slicing)))[::-1]


def test_slices_that_see_the_same_share_one_window():
    matrix, place = system(2)
    sliced = slices.eliminate(csr_array(matrix), slices.cut(csr_array(matrix), place, least=10))
    (whole,) = slices.windows(sliced, 1e9)
    assert whole.cores == range(len(sliced.slicing))
    seen = [(w.first, w.last) for w in slices.windows(sliced, 37.0)]
    assert 1 < len(seen) == len(set(seen))


def test_slices_are_coupled_with_their_neighbours_only():
    matrix, place = system(3)
    slicing = slices.cut(csr_array(matrix), place, least=7)
    number = np.empty(len(place), dtype=int)
    number[slicing.order] = np.repeat(np.arange(len(slicing)), np.diff(slicing.starts))
    rows, columns = np.nonzero(matrix)
    assert np.abs(number[rows] - number[columns]).max() == 1
    assert np.diff(slicing.starts)[:-1].min() >= 7
    assert slicing.work == pytest.approx((np.diff(slicing.starts).astype(float) ** 3).sum())


def test_freedoms_at_one_place_are_one_slice():
    slicing = slices.cut(csr_array(np.eye(5)), np.zeros(5), least=2)
    assert len(slicing) == 1
    (window,) = slices.windows(slices.eliminate(csr_array(4.0 * np.eye(5)), slicing), 1.0)
    assert window.inverse == pytest.approx(0.25 * np.eye(5))
