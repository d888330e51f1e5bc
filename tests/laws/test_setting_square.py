"""Laws of squaring: turning changes nothing, and what is named to be done does it."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.setting.square import Distance, Shape, Tape, Wanted, square_up

TAPE = Tape(reading=1.5, scale=0.0002)
sizes = st.tuples(st.floats(900, 9000), st.floats(900, 9000))


def box(width, depth):
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def answer(corners, wanted, *, is_size_known=False):
    readings = [
        Distance(pair=(a, b), value=math.dist(corners[a], corners[b])) for a, b in combinations(range(len(corners)), 2)
    ]
    return square_up(Wanted(corners=wanted, is_size_known=is_size_known, within=3.0), readings, TAPE)


def leaning(width, depth, lean):
    away = math.sqrt(depth**2 - lean**2)
    return ((0.0, 0.0), (width, 0.0), (width + lean, away), (lean, away))


@settings(max_examples=40, deadline=None)
@given(sizes, st.floats(-60, 60))
def test_the_named_push_makes_it_square_and_both_diagonals_read_what_was_said(size, lean):
    width, depth = size
    first = answer(leaning(width, depth, lean), box(width, depth))
    assert first.lean == pytest.approx(lean, abs=1e-5)
    by = {p.corner: p.dx for p in first.pushes}
    left = lean + by.get(3, 0.0)
    assert first.shape is (Shape.LEANING if abs(lean) > 3.0 + 1e-6 else first.shape)
    if by:
        assert by[2] == by[3]
        pushed = leaning(width, depth, left)
        again = answer(pushed, box(width, depth))
        assert again.shape is Shape.SQUARE
        for diagonal, old in zip(again.diagonals, first.diagonals, strict=True):
            assert diagonal.length == pytest.approx(old.target, abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(sizes, st.floats(0, 2 * math.pi), st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)), st.floats(-40, 40))
def test_a_frame_turned_and_moved_is_answered_alike(size, turn, by, lean):
    corners = leaning(*size, lean)
    c, s = math.cos(turn), math.sin(turn)
    moved = tuple((c * x - s * y + by[0], s * x + c * y + by[1]) for x, y in corners)
    one, other = answer(corners, box(*size)), answer(moved, box(*size))
    assert other.lean == pytest.approx(one.lean, abs=1e-4)
    assert other.lean_sure == pytest.approx(one.lean_sure, rel=1e-5)
    assert [x.length for x in other.sides] == pytest.approx([x.length for x in one.sides], abs=1e-5)


@settings(max_examples=40, deadline=None)
@given(sizes, st.floats(-40, 40))
def test_seen_in_a_mirror_it_leans_the_other_way(size, lean):
    one, other = answer(leaning(*size, lean), box(*size)), answer(leaning(*size, -lean), box(*size))
    assert other.lean == pytest.approx(-one.lean, abs=1e-5)
    assert other.shape is one.shape


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.floats(-40, 40), st.floats(-40, 40)), min_size=6, max_size=6))
def test_every_corner_of_an_l_lands_where_it_should_after_its_push(errors):
    plan = ((0.0, 0.0), (3612.0, 0.0), (3612.0, 1790.0), (1815.0, 1790.0), (1815.0, 2744.0), (0.0, 2744.0))
    moved = tuple((x + e, y + f) for (x, y), (e, f) in zip(plan, errors, strict=True))
    result = answer(moved, plan, is_size_known=True)
    placed = [list(corner.at) for corner in result.corners]
    for push in result.pushes:
        placed[push.corner][0] += push.dx
        placed[push.corner][1] += push.dy
    for now, aim in zip(placed, plan, strict=True):
        assert math.dist(now, aim) <= (result.within if result.is_square else 1e-6)
    assert result.suspects == ()


@settings(max_examples=40, deadline=None)
@given(sizes, st.floats(0.2, 3.0))
def test_the_answer_is_as_sure_as_the_tape(size, share):
    corners = box(*size)
    readings = [Distance(pair=(a, b), value=math.dist(corners[a], corners[b])) for a, b in combinations(range(4), 2)]
    wanted = Wanted(corners=corners, is_size_known=False, within=3.0)
    rough = square_up(wanted, readings, Tape(reading=3.0, scale=0.0002))
    fine = square_up(wanted, readings, Tape(reading=share, scale=0.0002))
    assert fine.lean_sure == pytest.approx(rough.lean_sure * share / 3.0, rel=1e-4)
