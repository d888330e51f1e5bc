from __future__ import annotations

import numpy as np
import pytest

from evenfoot.errors import NoSolutionError
from evenfoot.solvers import symmetric


def chain(count):
    """A chain of springs held at one end, as entries of a matrix."""
    rows = [*range(count), *range(count - 1), *range(1, count)]
    columns = [*range(count), *range(1, count), *range(count - 1)]
    values = [2.0] * (count - 1) + [1.0] + [-1.0] * (2 * count - 2)
    return np.array(rows), np.array(columns), np.array(values)


@pytest.mark.parametrize("widest", [0, 1000])
def test_both_ways_solve_the_same_system(widest, monkeypatch):
    monkeypatch.setattr(symmetric, "_WIDEST_BAND", widest - 1 if widest == 0 else widest)
    rows, columns, values = chain(9)
    rng = np.random.default_rng(1)
    shuffle = rng.permutation(9)
    right = rng.normal(size=(9, 4))
    found = symmetric.factorise(shuffle[rows], shuffle[columns], values, 9).solve(right)
    dense = np.zeros((9, 9))
    np.add.at(dense, (shuffle[rows], shuffle[columns]), values)
    assert dense @ found == pytest.approx(right, abs=1e-12)


@pytest.mark.parametrize("widest", [-1, 1000])
def test_a_freedom_that_nothing_holds_is_refused(widest, monkeypatch):
    monkeypatch.setattr(symmetric, "_WIDEST_BAND", widest)
    rows = np.array([0, 0, 1, 1, 2])
    columns = np.array([0, 1, 0, 1, 2])
    with pytest.raises(NoSolutionError) as caught:
        symmetric.factorise(rows, columns, np.array([1.0, -1.0, -1.0, 1.0, 1.0]), 3)
    assert caught.value.fault.code == "mechanism"
    assert caught.value.fault.where == "supports"
    assert caught.value.fault.found in {"0", "1"}


def test_no_right_hand_side_gives_no_answer():
    rows, columns, values = chain(4)
    assert symmetric.factorise(rows, columns, values, 4).solve(np.zeros((4, 0))).shape == (4, 0)
