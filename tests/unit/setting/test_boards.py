"""Spacers, marks and bows."""

from __future__ import annotations

import itertools
import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.setting.boards import (
    BowAdvice,
    Bowed,
    OpenRun,
    PlannedRow,
    Spacing,
    Year,
    board_marks,
    moist_gap,
    running_gap,
    straighten,
)
from evenfoot.setting.boards.run import Batch
from evenfoot.tables import species

SPACING = Spacing(low=3.0, high=8.0, step=0.5, seen=1.0, within=2.0, rip_min=50.0)


def run(left, count, last_gap=5.0, width=105.0):
    return OpenRun(
        left=left,
        widths=(width,) * count,
        last_gap=last_gap,
        left_sigma=0.5,
        width_sigma=0.2,
        common_sigma=0.0,
    )


def test_the_spacer_in_use_is_kept_while_the_last_edge_lands_on_its_line():
    found = running_gap(run(10 * 110.0 + 1.9, 10), SPACING)
    assert found.batches == (Batch(count=10, gap=5.0),)
    assert found.misses == pytest.approx(-1.9)
    assert found.is_reachable


def test_a_run_that_needs_it_goes_to_the_next_spacer():
    found = running_gap(run(10 * 110.0 + 5.0, 10), SPACING)
    assert found.batches == (Batch(count=10, gap=5.5),)
    assert found.misses == pytest.approx(0.0)


def test_two_spacers_share_a_run_that_neither_closes():
    spacing = Spacing(low=3.0, high=8.0, step=0.5, seen=1.0, within=0.3, rip_min=50.0)
    found = running_gap(run(10 * 110.0 + 3.1, 10), spacing)
    assert found.batches == (Batch(count=4, gap=5.0), Batch(count=6, gap=5.5))
    assert found.misses == pytest.approx(-0.1)
    assert found.even == pytest.approx(5.31)


def test_a_wide_gap_is_come_down_from_in_steps_that_the_eye_does_not_see():
    found = running_gap(run(12 * 105.0 + 12 * 4.0, 12, last_gap=8.0), SPACING)
    gaps = (8.0, *found.gaps)
    assert max(abs(b - a) for a, b in itertools.pairwise(gaps)) <= 1.0
    assert abs(found.misses) <= SPACING.within


def test_the_first_board_has_no_gap_before_it():
    found = running_gap(run(10 * 105.0 + 9 * 5.0, 10, last_gap=None), SPACING)
    assert found.batches == (Batch(count=9, gap=5.0),)
    assert found.misses == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("left", "is_reachable"), [(10 * 108.0, True), (10 * 108.0 - 2.0, True), (10 * 108.0 - 2.1, False)]
)
def test_too_little_room_is_told_on_either_side_of_the_limit(left, is_reachable):
    found = running_gap(run(left, 10, last_gap=3.0), SPACING)
    assert found.is_reachable is is_reachable


def test_what_to_rip_closes_the_run():
    found = running_gap(run(10 * 108.0 - 30.0, 10, last_gap=3.0), SPACING)
    assert found.rip is not None
    assert (found.rip.count, found.rip.width) == (1, pytest.approx(75.0))


def test_a_board_that_is_ripped_anyway_leaves_the_spacer_as_it_is():
    found = running_gap(run(10 * 108.0 - 2.1, 10, last_gap=5.0), SPACING)
    assert found.batches == (Batch(count=10, gap=5.0),)
    assert found.rip is not None
    assert (found.rip.count, found.rip.width) == (1, pytest.approx(105.0 - 22.1))


def test_a_rip_too_narrow_for_one_board_is_shared_by_the_last_ones():
    found = running_gap(run(10 * 108.0 - 90.0, 10, last_gap=3.0), SPACING)
    assert found.rip is not None
    assert (found.rip.count, found.rip.width) == (2, pytest.approx(60.0))


def test_room_for_one_more_ripped_board_is_told():
    found = running_gap(run(10 * 113.0 + 80.0, 10, last_gap=8.0), SPACING)
    assert found.rip is not None
    assert (found.rip.count, found.rip.width) == (0, pytest.approx(72.0))


def test_room_that_nothing_fills_is_told():
    found = running_gap(run(10 * 113.0 + 20.0, 10, last_gap=8.0), SPACING)
    assert found.rip is not None
    assert (found.rip.count, found.rip.width) == (0, 0.0)


def test_how_sure_the_last_edge_is_grows_with_what_is_not_measured():
    open_run = OpenRun(
        left=1100.0, widths=(105.0,) * 10, last_gap=5.0, left_sigma=0.6, width_sigma=0.3, common_sigma=0.1
    )
    found = running_gap(open_run, SPACING)
    assert found.sure == pytest.approx(1.959963985 * math.sqrt(0.36 + 10 * 0.09 + 1.0), rel=1e-9)


@pytest.mark.parametrize(
    ("spacing", "left", "count", "code"),
    [
        (SPACING, 100.0, 0, "run-done"),
        (Spacing(low=5.1, high=5.3, step=0.5, seen=1.0, within=2.0, rip_min=50.0), 1100.0, 10, "spacing-unfit"),
        (Spacing(low=8.0, high=3.0, step=0.5, seen=1.0, within=2.0, rip_min=50.0), 1100.0, 10, "spacing-unfit"),
        (Spacing(low=3.0, high=8.0, step=2.0, seen=1.0, within=2.0, rip_min=50.0), 1100.0, 10, "spacing-unfit"),
    ],
)
def test_what_cannot_be_spaced_is_refused(spacing, left, count, code):
    with pytest.raises(OutOfRangeError) as raised:
        running_gap(run(left, count), spacing)
    assert (raised.value.fault.code, raised.value.fault.where) == (code, "boards")


def rows(count, first=1, gap=5.0, width=105.0):
    pitch = gap + width
    return [
        PlannedRow(number=n, near=(n - 1) * pitch, far=(n - 1) * pitch + width) for n in range(first, first + count)
    ]


def test_marks_run_from_the_starting_edge():
    marks = board_marks(rows(4), laid_to=None, gaps=(5.0, 5.5, 5.5), widths=(105.0, 104.0, 106.5, 105.0))
    assert [(m.row, m.near, m.far) for m in marks] == [
        (1, 0.0, 105.0),
        (2, 110.0, 214.0),
        (3, 219.5, 326.0),
        (4, 331.5, 436.5),
    ]
    assert [m.planned_far for m in marks] == [105.0, 215.0, 325.0, 435.0]


def test_every_second_board_is_marked_and_the_last_one_always():
    marks = board_marks(rows(5, first=4), laid_to=330.0, gaps=(5.0,) * 5, widths=(105.0,) * 5, every=2)
    assert [m.row for m in marks] == [5, 7, 8]
    assert marks[-1].far == pytest.approx(330.0 + 5 * 110.0)


BOWED = Bowed(bow=10.0, length=3600.0, width=105.0, thickness=30.0, stiffness=8000.0, spacing=455.0)


def test_a_push_in_the_middle_is_that_of_the_simple_beam():
    second = 30.0 * 105.0**3 / 12
    found = straighten(BOWED, push_most=400.0, seen=1.0)
    assert found.push == pytest.approx(48 * 8000 * second * 10 / 3600**3, rel=1e-12)
    assert found.advice is BowAdvice.PUSH
    assert found.held == pytest.approx(8000 * second * 8 * 10 / 3600**2 / 455, rel=1e-12)


def test_what_a_push_leaves_is_the_even_curve_less_the_beam():
    shares = [n / 10_000 for n in range(5001)]
    left = max(4 * u * (1 - u) - (3 * u - 4 * u**3) for u in shares)
    assert straighten(BOWED, push_most=400.0, seen=1.0).left == pytest.approx(10 * left, abs=1e-6)


@pytest.mark.parametrize(
    ("bow", "advice"),
    [
        (0.5, BowAdvice.LAY),
        (-0.5, BowAdvice.LAY),
        (0.6, BowAdvice.PUSH),
        (-16.7, BowAdvice.PUSH),
        (17.0, BowAdvice.SWAP),
    ],
)
def test_which_bow_is_laid_pushed_or_swapped(bow, advice):
    bowed = Bowed(bow=bow, length=3600.0, width=105.0, thickness=30.0, stiffness=8000.0, spacing=455.0)
    assert straighten(bowed, push_most=400.0, seen=1.0).advice is advice


def test_a_piece_cut_out_of_a_bowed_board_looks_straight():
    found = straighten(BOWED, push_most=400.0, seen=1.0)
    assert 10.0 * (found.straight_length / 3600.0) ** 2 == pytest.approx(0.5)
    flat = Bowed(bow=0.0, length=3600.0, width=105.0, thickness=30.0, stiffness=8000.0, spacing=455.0)
    assert straighten(flat, push_most=400.0, seen=1.0).straight_length == 3600.0


@pytest.mark.parametrize(("bow", "length"), [(400.0, 3600.0), (1.0, 0.0)])
def test_a_bow_that_cannot_be_is_refused(bow, length):
    bowed = Bowed(bow=bow, length=length, width=105.0, thickness=30.0, stiffness=8000.0, spacing=455.0)
    with pytest.raises(OutOfRangeError) as raised:
        straighten(bowed, push_most=400.0, seen=1.0)
    assert (raised.value.fault.code, raised.value.fault.where) == ("bow-unfit", "bow")


YEAR = Year(day=15.0, dry=12.0, wet=19.0)


def test_boards_laid_wet_ask_for_a_narrower_gap_and_then_keep_the_planned_year():
    planned = moist_gap("hinoki", width=105.0, read=15.0, laid=5.0, planned_gap=5.0, year=YEAR)
    assert planned.advised == pytest.approx(5.0)
    wet = moist_gap("hinoki", width=105.0, read=20.0, laid=5.0, planned_gap=5.0, year=YEAR)
    assert wet.advised == pytest.approx(5.0 - 105 * species("hinoki").c_tangential * 5)
    kept = moist_gap("hinoki", width=105.0, read=20.0, laid=wet.advised, planned_gap=5.0, year=YEAR)
    assert (kept.dry, kept.wet) == (pytest.approx(planned.dry), pytest.approx(planned.wet))


def test_a_gap_grows_by_what_a_board_shrinks():
    found = moist_gap("hinoki", width=105.0, read=18.5, laid=4.5, planned_gap=5.0, year=YEAR)
    assert found.dry == pytest.approx(4.5 + 105 * species("hinoki").c_tangential * 6.5)
    assert found.wet == pytest.approx(4.5 - 105 * species("hinoki").c_tangential * 0.5)
