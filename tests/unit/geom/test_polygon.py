"""Boxes, areas and outlines that cross themselves, against figures that anyone can draw."""

import math

import pytest

from evenfoot.geom import as_upright_box, box_of, is_simple, signed_area
from evenfoot.geom.polygon import Box, without_flat_corners

L_SHAPE = ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (3.0, 2.0), (3.0, 5.0), (0.0, 5.0))
BOW_TIE = ((0.0, 0.0), (4.0, 3.0), (4.0, 0.0), (0.0, 3.0))


def test_area_is_positive_counter_clockwise_and_negative_clockwise():
    assert signed_area(L_SHAPE) == 6 * 2 + 3 * 3
    assert signed_area(L_SHAPE[::-1]) == -21.0


def test_area_keeps_its_digits_far_from_the_origin():
    far = tuple((x + 1e7, y - 1e7) for x, y in L_SHAPE)
    assert signed_area(far) == 21.0


def test_box_is_the_smallest_around_all_corners():
    assert box_of(L_SHAPE) == Box(x0=0.0, y0=0.0, x1=6.0, y1=5.0)
    assert (box_of(L_SHAPE).width, box_of(L_SHAPE).height) == (6.0, 5.0)


@pytest.mark.parametrize("turn", [1, -1])
@pytest.mark.parametrize("start", range(4))
def test_a_rectangle_is_known_from_any_corner_in_either_turn(start, turn):
    corners = ((1.0, 2.0), (5.5, 2.0), (5.5, 9.0), (1.0, 9.0))
    corners = (corners[start:] + corners[:start])[::turn]
    assert as_upright_box(corners) == Box(x0=1.0, y0=2.0, x1=5.5, y1=9.0)


def test_a_corner_in_the_middle_of_a_side_leaves_a_rectangle():
    assert as_upright_box(((0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0))) is not None


@pytest.mark.parametrize(
    "corners",
    [
        L_SHAPE,
        ((0.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0 + 1e-9)),
        ((0.0, 0.0), (1.0, 1.0), (0.0, 2.0), (-1.0, 1.0)),
        ((0.0, 0.0), (4.0, 3.0), (4.0, 0.0), (0.0, 3.0)),
    ],
    ids=["l", "a-hair-off", "turned-square", "bow-tie"],
)
def test_what_is_no_upright_rectangle_is_not_taken_for_one(corners):
    assert as_upright_box(corners) is None


def test_straight_and_doubled_corners_are_left_out():
    corners = ((0.0, 0.0), (0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0), (0.0, 0.0))
    assert set(without_flat_corners(corners)) == {(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)}


def test_a_corner_within_the_tolerance_is_straight_and_one_beyond_it_is_not():
    corners = ((0.0, 0.0), (5.0, -0.01), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0))
    assert len(without_flat_corners(corners, within=0.011)) == 4
    assert len(without_flat_corners(corners, within=0.009)) == 5


@pytest.mark.parametrize(
    "corners",
    [
        L_SHAPE,
        tuple((math.cos(a), math.sin(a)) for a in (0.1, 1.3, 2.2, 3.9, 5.0)),
        ((0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 1.0), (0.0, 1.0)),
    ],
)
def test_plain_outlines_are_simple(corners):
    assert is_simple(corners)
    assert is_simple(corners[::-1])


@pytest.mark.parametrize(
    "corners",
    [
        BOW_TIE,
        ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 3.0)),
        ((0.0, 0.0), (4.0, 0.0), (8.0, 0.0)),
        ((0.0, 0.0), (4.0, 0.0)),
        ((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (4.0, 3.0)),
        ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (5.0, 6.0), (5.0, -1.0), (4.0, -1.0), (4.0, 6.0), (0.0, 6.0)),
    ],
    ids=["bow-tie", "corner-touches-side", "folds-back", "no-area", "two-corners", "doubled-corner", "runs-through"],
)
def test_outlines_that_cross_or_touch_themselves_are_not_simple(corners):
    assert not is_simple(corners)
