"""Turning, clipping and sliding of outlines."""

import math

import pytest

from evenfoot.geom import clip_each, clip_to_bands, has_edge_at, heading, signed_area, slide_edges

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
U_SHAPE = ((0.0, 0.0), (9.0, 0.0), (9.0, 8.0), (6.0, 8.0), (6.0, 3.0), (3.0, 3.0), (3.0, 8.0), (0.0, 8.0))


@pytest.mark.parametrize("direction", [0.0, 90.0, -90.0, 180.0])
def test_right_angles_turn_exactly_there_and_back(direction):
    turn = heading(direction)
    points = ((0.1, 0.7), (3333.3, -12.9))
    assert turn.plan(turn.local(points)) == points


def test_across_is_to_the_left_of_along():
    assert heading(0.0).local([(3.0, 2.0)]) == ((3.0, 2.0),)
    assert heading(90.0).local([(3.0, 2.0)]) == ((2.0, -3.0),)


def test_an_angle_keeps_true_lengths_on_the_slope():
    turn = heading(30.0, slope=0.75)
    ((u, v),) = turn.local([(0.0, 4.0)])
    assert math.hypot(u, v) == pytest.approx(5.0, abs=1e-12)
    assert turn.plan([(u, v)])[0] == pytest.approx((0.0, 4.0), abs=1e-12)


def test_a_band_across_two_arms_gives_two_parts():
    low, high = clip_to_bands(U_SHAPE, [(1.0, 2.0), (4.0, 5.0)])
    assert low == (((0.0, 1.0), (9.0, 1.0), (9.0, 2.0), (0.0, 2.0)),)
    assert [part[0] for part in high] == [(0.0, 4.0), (6.0, 4.0)]
    assert all(signed_area(part) == 3.0 for part in high)


def test_a_band_that_only_touches_gives_nothing():
    assert clip_to_bands(SQUARE, [(10.0, 12.0), (-5.0, 0.0)]) == ((), ())


def test_each_outline_is_cut_by_its_own_cutter():
    left = ((-1.0, -1.0), (4.0, -1.0), (4.0, 11.0), (-1.0, 11.0))
    parts = clip_each([SQUARE, SQUARE[::-1]], [left, SQUARE])
    assert [[signed_area(part) for part in group] for group in parts] == [[40.0], [100.0]]


def test_an_upright_edge_slides_exactly():
    assert slide_edges(SQUARE, y=10.0, to=12.3, within=1e-6) == ((0.0, 0.0), (10.0, 0.0), (10.0, 12.3), (0.0, 12.3))


def test_neighbours_keep_their_direction():
    slanted = ((0.0, 0.0), (10.0, 0.0), (8.0, 4.0), (2.0, 4.0))
    assert slide_edges(slanted, y=4.0, to=5.0, within=1e-6) == ((0.0, 0.0), (10.0, 0.0), (7.5, 5.0), (2.5, 5.0))


def test_all_edges_at_the_same_height_slide_together():
    moved = slide_edges(U_SHAPE, y=8.0, to=7.0, within=1e-6)
    assert moved is not None
    assert sum(y == 7.0 for _, y in moved) == 4


@pytest.mark.parametrize(
    ("corners", "to"),
    [
        (((0.0, 0.0), (4.0, 0.0), (2.0, 5.0)), 6.0),
        (((0.0, 0.0), (10.0, 0.0), (6.0, 5.0), (4.0, 5.0)), 7.0),
        (((0.0, 0.0), (9.0, 0.0), (9.0, 5.0), (6.0, 5.0), (6.0, 3.0), (3.0, 4.9), (0.0, 5.0)), 4.0),
    ],
    ids=["a-corner-is-no-edge", "sides-would-cross", "another-corner-reaches-past"],
)
def test_what_cannot_slide_is_not_slid(corners, to):
    assert slide_edges(corners, y=5.0, to=to, within=1e-6) is None


def test_an_edge_is_told_from_a_corner():
    assert has_edge_at(SQUARE, y=0.0, within=1e-6)
    assert not has_edge_at(((0.0, 0.0), (4.0, 0.0), (2.0, 5.0)), y=5.0, within=1e-6)
