"""Delaunay triangles, against a peer and on the grids that trip it."""

from __future__ import annotations

import random

import numpy as np
import pytest
from scipy.spatial import Delaunay

from evenfoot.site.triangulate import triangulate, turn


def area(points, corners):
    (ax, ay), (bx, by), (cx, cy) = (points[k] for k in corners)
    return ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2


@pytest.mark.parametrize("count", [3, 4, 7, 25, 160])
@pytest.mark.parametrize("seed", range(4))
def test_the_triangles_are_those_of_an_independent_program(count, seed):
    points = np.random.default_rng(seed).uniform(0, 5000, (count, 2))
    expected = {tuple(sorted(map(int, s))) for s in Delaunay(points).simplices}
    assert {tuple(sorted(t)) for t in triangulate([tuple(map(float, p)) for p in points])} == expected


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (3, 4), (2, 40), (11, 7)])
def test_a_grid_is_covered_once_whatever_the_order_of_its_points(columns, rows):
    points = [(610.0 * i, 455.0 * j) for i in range(columns) for j in range(rows)]
    shapes = set()
    for seed in range(3):
        shuffled = points[:]
        random.Random(seed).shuffle(shuffled)
        triangles = triangulate(shuffled)
        assert len(triangles) == 2 * (columns - 1) * (rows - 1)
        assert all(area(shuffled, t) > 0 for t in triangles)
        assert sum(area(shuffled, t) for t in triangles) == pytest.approx(610 * 455 * (columns - 1) * (rows - 1))
        shapes.add(frozenset(frozenset(shuffled[k] for k in t) for t in triangles))
    assert len(shapes) == 1


def test_points_in_one_line_have_no_triangles():
    assert triangulate([(0.0, 0.0), (0.1, 0.1), (0.3, 0.3), (0.7, 0.7)]) == ()
    assert triangulate([(5.0, 5.0)]) == ()
    assert triangulate([]) == ()


def test_a_first_row_in_line_is_joined_to_the_point_beside_it():
    points = [(0.0, 0.0), (0.0, 1000.0), (0.0, 2000.0), (900.0, 700.0)]
    assert {tuple(sorted(t)) for t in triangulate(points)} == {(0, 1, 3), (1, 2, 3)}


def test_turns_too_fine_for_floats_are_still_told():
    a, b = (0.5, 0.5), (12.0, 12.0)
    assert turn(a, b, (24.0, 24.0)) == 0
    assert turn(a, b, (24.0, np.nextafter(24.0, 25.0))) == 1
    assert turn(a, b, (24.0, np.nextafter(24.0, 23.0))) == -1
