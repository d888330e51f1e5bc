"""What shape a frame is given by its readings, which reading is doubted, and how it is set out."""

from __future__ import annotations

import math
from itertools import combinations

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.setting.slips import SlipKind
from evenfoot.setting.square import (
    Distance,
    Shape,
    Tape,
    WallPoint,
    Wanted,
    gross_slips,
    likely_box,
    set_out,
    square_up,
    wall_line,
)

TAPE = Tape(reading=1.5, scale=0.0002)
PAIRS = list(combinations(range(4), 2))


def box(width, depth):
    return ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))


def readings(corners, errors=None):
    errors = errors or {}
    return [
        Distance(pair=(a, b), value=math.dist(corners[a], corners[b]) + errors.get((a, b), 0.0))
        for a, b in combinations(range(len(corners)), 2)
    ]


def squared(corners, errors=None, *, size=None, within=3.0):
    wanted = Wanted(corners=size or box(3610.0, 2690.0), is_size_known=size is not None, within=within)
    return square_up(wanted, readings(corners, errors), TAPE)


def test_a_rectangle_is_square_and_its_diagonals_are_told():
    result = squared(box(3612.0, 2744.0))
    assert result.shape is Shape.SQUARE
    assert result.is_proved
    assert result.spare == 1
    assert result.lean == pytest.approx(0.0, abs=1e-9)
    assert [d.target for d in result.diagonals] == pytest.approx([math.hypot(3612, 2744)] * 2, rel=1e-12)
    assert result.pushes == ()


def test_square_is_not_proved_when_the_tape_is_too_rough():
    wanted = Wanted(corners=box(3612.0, 2744.0), is_size_known=False, within=3.0)
    rough = square_up(wanted, readings(box(3612.0, 2744.0)), Tape(reading=6.0, scale=0.0002))
    assert rough.is_square
    assert not rough.is_proved


@pytest.mark.parametrize(
    ("lean", "shape"), [(2.9, Shape.SQUARE), (3.1, Shape.LEANING), (-2.9, Shape.SQUARE), (-3.1, Shape.LEANING)]
)
def test_a_lean_on_either_side_of_the_tolerance(lean, shape):
    away = math.sqrt(2744.0**2 - lean**2)
    result = squared(((0.0, 0.0), (3612.0, 0.0), (3612.0 + lean, away), (lean, away)))
    assert result.shape is shape
    assert result.lean == pytest.approx(lean, abs=1e-6)


def test_a_frame_of_the_wrong_size_is_not_right_where_its_size_is_known():
    result = squared(box(3612.0, 2744.0), size=box(3600.0, 2744.0))
    assert result.shape is Shape.CROOKED
    assert [round(s.excess, 6) for s in result.sides] == [12.0, 0.0, 12.0, 0.0]


@pytest.mark.parametrize("pair", [(0, 1), (1, 2), (2, 3), (0, 3)])
@pytest.mark.parametrize("error", [50.0, -50.0, 100.0])
def test_a_misread_side_is_named_with_what_the_others_make_it(pair, error):
    result = squared(box(3612.0, 2744.0), {pair: error})
    (suspect,) = result.suspects
    true = 3612.0 if pair in {(0, 1), (2, 3)} else 2744.0
    assert (min(suspect.pair), max(suspect.pair)) == pair
    assert suspect.expected == pytest.approx(true, abs=suspect.sure)
    assert suspect.slip is not None
    assert suspect.slip.value == pytest.approx(true, abs=0.5)
    assert not result.is_square


def test_a_misread_diagonal_is_one_of_two_since_a_leaning_frame_explains_it_as_well():
    result = squared(box(3612.0, 2744.0), {(0, 2): 33.4})
    assert {s.pair for s in result.suspects} == {(0, 2), (1, 3)}
    right = next(s for s in result.suspects if s.pair == (0, 2))
    assert right.expected == pytest.approx(math.hypot(3612, 2744), abs=right.sure)


def test_swapped_figures_of_a_diagonal_put_it_first_of_the_two():
    result = squared(box(3612.0, 2744.0), {(0, 2): 4573.0 - math.hypot(3612, 2744)})
    first, second = result.suspects
    assert (first.pair, second.pair) == ((0, 2), (1, 3))
    assert first.slip is not None
    assert (first.slip.kind, first.slip.value) == (SlipKind.SWAPPED, pytest.approx(4537.0))
    assert second.slip is None


def test_readings_that_err_as_far_as_the_tape_may_are_not_doubted():
    assert squared(box(3612.0, 2744.0), {(0, 2): 1.5, (0, 1): -1.5}).suspects == ()


def test_without_a_spare_reading_a_misread_cannot_show():
    wanted = Wanted(corners=box(3612.0, 2744.0), is_size_known=False, within=3.0)
    five = [d for d in readings(box(3612.0, 2744.0), {(0, 1): 100.0}) if d.pair != (1, 3)]
    result = square_up(wanted, five, TAPE)
    assert (result.spare, result.suspects) == (0, ())


def test_equal_diagonals_and_two_sides_leave_the_shape_open():
    wanted = Wanted(corners=box(3612.0, 2744.0), is_size_known=False, within=3.0)
    few = [d for d in readings(box(3612.0, 2744.0)) if d.pair not in {(1, 2), (0, 3)}]
    result = square_up(wanted, few, TAPE)
    assert result.shape is Shape.OPEN
    assert len(result.missing) == 1
    assert not result.is_square


L_SHAPE = ((0.0, 0.0), (3612.0, 0.0), (3612.0, 1790.0), (1815.0, 1790.0), (1815.0, 2744.0), (0.0, 2744.0))


def test_an_l_shape_is_mended_corner_by_corner():
    moved = tuple((x + (7.0 if n == 4 else 0.0), y - (4.0 if n == 2 else 0.0)) for n, (x, y) in enumerate(L_SHAPE))
    wanted = Wanted(corners=L_SHAPE, is_size_known=True, within=3.0)
    result = square_up(wanted, readings(moved), TAPE)
    assert result.shape is Shape.CROOKED
    assert result.spare == 6
    pushes = {p.corner: (round(p.dx, 6), round(p.dy, 6)) for p in result.pushes if math.hypot(p.dx, p.dy) > 1e-6}
    assert pushes == {4: (-7.0, 0.0), 2: (0.0, 4.0)}


def test_an_l_shape_with_few_distances_is_told_which_are_missing():
    wanted = Wanted(corners=L_SHAPE, is_size_known=True, within=3.0)
    sides = [d for d in readings(L_SHAPE) if d.pair in {(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (0, 5)}]
    assert len(square_up(wanted, sides, TAPE).missing) == 3


def test_a_distance_that_cannot_be_is_refused():
    for pair, value in (((0, 4), 10.0), ((1, 1), 10.0), ((0, 1), 0.0), ((0, 1), -5.0)):
        with pytest.raises(OutOfRangeError) as raised:
            square_up(
                Wanted(corners=box(10.0, 10.0), is_size_known=False, within=3.0),
                [Distance(pair=pair, value=value, where="typed")],
                TAPE,
            )
        assert (raised.value.fault.code, raised.value.fault.where) == ("distance-unfit", "typed")


@pytest.mark.parametrize("pair", PAIRS)
def test_the_size_that_most_readings_agree_with_survives_any_one_slip(pair):
    slipped = [
        Distance(pair=d.pair, value=d.value * (10 if d.pair == pair else 1)) for d in readings(box(3612.0, 2744.0))
    ]
    assert likely_box(slipped) == pytest.approx((3612.0, 2744.0), rel=1e-9)
    (slip,) = gross_slips(slipped, box(3612.0, 2744.0))
    assert slip.pair == pair
    assert slip.slip is not None
    assert slip.slip.kind is SlipKind.UNIT


def test_no_size_can_be_told_from_one_reading():
    assert likely_box([Distance(pair=(0, 1), value=3600.0)]) is None


def test_a_triangle_is_three_four_five_in_whole_steps_and_fits_the_frame():
    out = set_out(width=5400.0, depth=2750.0, tape=TAPE, step=100.0)
    one = out.triangle
    assert (one.along, one.away, one.across) == (3600.0, 2700.0, 4500.0)
    assert out.whole.across == pytest.approx(math.hypot(5400, 2750), rel=1e-12)
    assert out.whole.sure < one.sure


def test_a_small_frame_gets_a_triangle_in_smaller_steps():
    one = set_out(width=420.0, depth=350.0, tape=TAPE, step=100.0).triangle
    assert (one.along, one.away, one.across) == (400.0, 300.0, 500.0)
    smaller = set_out(width=250.0, depth=170.0, tape=TAPE, step=100.0).triangle
    assert smaller.along <= 250.0
    assert smaller.across**2 == pytest.approx(smaller.along**2 + smaller.away**2, rel=1e-12)


def test_how_far_a_triangle_may_lead_astray_is_what_its_three_readings_can_do():
    one = set_out(width=4000.0, depth=6000.0, tape=TAPE, step=100.0).triangle

    def x(a, b, c):
        return (a**2 + b**2 - c**2) / (2 * a)

    step = 1e-3
    at = (one.along, one.away, one.across)
    slopes = [
        (x(*(v + step * (i == n) for i, v in enumerate(at))) - x(*(v - step * (i == n) for i, v in enumerate(at))))
        / (2 * step)
        for n in range(3)
    ]
    # the corner itself is a peg: only where the third point lands counts
    assert one.sure == pytest.approx(TAPE.reading * math.hypot(*slopes) * 6000.0 / one.away, rel=1e-6)


@pytest.mark.parametrize("size", [(0.0, 100.0), (100.0, -1.0), (math.inf, 5.0)])
def test_a_size_that_is_none_is_refused(size):
    with pytest.raises(OutOfRangeError) as raised:
        set_out(width=size[0], depth=size[1], tape=TAPE, step=100.0)
    assert raised.value.fault.code == "size-unfit"


def test_the_line_along_a_wall_touches_it_and_is_nowhere_behind_it():
    points = [WallPoint(x=x, out=out) for x, out in ((0, 1.0), (900, -2.5), (1800, 6.0), (2700, 3.0), (3600, 9.5))]
    line = wall_line(reversed(points))
    assert min(line.gaps) == 0.0
    assert line.gaps[line.touches] == 0.0
    slope = (line.at_last - line.at_first) / 3600
    for point, gap in zip(line.points, line.gaps, strict=True):
        assert line.at_first + slope * point.x - gap == pytest.approx(point.out, abs=1e-9)


def test_a_straight_wall_askew_has_no_gap_behind_its_line():
    line = wall_line([WallPoint(x=x, out=3.0 + x / 200) for x in (0.0, 700.0, 3600.0)])
    assert line.widest == pytest.approx(0.0, abs=1e-9)
    assert (line.at_first, line.at_last) == (pytest.approx(3.0), pytest.approx(21.0))


@pytest.mark.parametrize(
    "points", [[], [WallPoint(x=5.0, out=1.0)], [WallPoint(x=5.0, out=1.0), WallPoint(x=5.0, out=2.0)]]
)
def test_a_wall_read_at_one_place_gives_no_line(points):
    with pytest.raises(OutOfRangeError) as raised:
        wall_line(points)
    assert raised.value.fault.code == "wall-too-few"
