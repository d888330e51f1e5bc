"""A solid is one thing: the same points and triangles whatever was asked of it, or of its parts, before."""

from __future__ import annotations

import math

import numpy as np
import pytest

from evenfoot.geom import Place, Solid

FALL = 0.0231
REACH = math.hypot(1.0, FALL)
PLACE = Place(
    origin=(13.7, -211.9, 37.3),
    along=(0.0, 1.0 / REACH, -FALL / REACH),
    left=(-1.0, 0.0, 0.0),
    up=(0.0, FALL / REACH, 1.0 / REACH),
)


def whole_timber(length, *, is_asked):
    """A timber without cuts on a falling floor."""
    whole = Solid.box((0.0, -45.0, -105.0), (length, 45.0, 0.0))
    assert not is_asked or whole.volume > 0.0
    return whole.placed(PLACE)


def timber(length=1807.3, *, is_asked):
    """A notched timber on a falling floor, cut off by a box; ``is_asked`` looks at every step on the way."""
    whole = Solid.box((0.0, -45.0, -105.0), (length, 45.0, 0.0))
    tools = [Solid.box((x, -95.0, -155.0), (x + 90.3, 95.0, -52.5)) for x in (-50.0, 611.7, 1301.9)]
    notched = whole.without(tools)
    placed = notched.placed(PLACE)
    near = Solid.box((-1000.0, 300.0, -500.0), (1000.0, length / 2, 500.0))
    shared = placed.shared_with(near)
    if is_asked:
        for one in (whole, *tools, notched, placed, near, shared):
            assert one.volume > 0.0
            assert len(one.mesh().points)
            assert one.bounds[0][0] < one.bounds[1][0]
    return shared.moved((0.1, 0.0, 70.7))


@pytest.mark.parametrize("make", [whole_timber, timber])
def test_a_solid_is_the_same_to_the_last_bit_whatever_was_asked_before(make):
    for step in range(20):
        length = 1500.0 + 13.77 * step
        plain, asked = make(length, is_asked=False).mesh(), make(length, is_asked=True).mesh()
        assert np.array_equal(plain.points, asked.points)
        assert np.array_equal(plain.triangles, asked.triangles)


def test_a_shifted_surface_is_that_of_the_shifted_solid():
    one, by = timber(is_asked=False), (0.0, 0.0, 371.3)
    shifted, moved = one.mesh().moved(by), one.moved(by).mesh()
    assert np.array_equal(shifted.triangles, moved.triangles)
    assert shifted.points == pytest.approx(moved.points, abs=1e-9)


def test_a_surface_cannot_be_written_over():
    mesh = timber(is_asked=False).mesh()
    for array in (mesh.points, mesh.triangles, mesh.moved((1.0, 0.0, 0.0)).points):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0
