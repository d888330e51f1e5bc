"""Whole steps, trims, and how many pieces come from a stick."""

from __future__ import annotations

import pytest

from evenfoot.cutting import pieces_per_stick, usable_length
from evenfoot.cutting.lengths import Grid, trims
from evenfoot.errors import OutOfRangeError

INCH = 25.4


def test_metric_stock_is_counted_in_half_millimetres():
    grid = Grid.of((4000.0, 3.0, 15.0, 2987.5))
    assert grid.step == 0.5
    assert (grid.up(1200.3), grid.down(1200.3)) == (2401, 2400)
    assert (grid.up(1200.5), grid.down(1200.5)) == (2401, 2401)


def test_noise_of_floating_point_costs_no_half_millimetre():
    grid = Grid.of((4000.0,))
    assert grid.up(1200.0 + 1e-7) == 2400
    assert grid.down(1200.0 - 1e-7) == 2400


def test_inch_stock_is_counted_in_64ths():
    assert Grid.of((96 * INCH, INCH / 8, INCH / 2)).step == INCH / 64


def test_other_stock_is_counted_in_tenths():
    grid = Grid.of((4000.0, 3.2))
    assert grid.step == 0.1
    assert (grid.up(3.2), grid.up(1200.33), grid.down(1200.38)) == (32, 12004, 12003)


def test_what_lies_on_no_step_is_rounded_against_itself():
    shaku = 10000 / 33
    grid = Grid.of((6 * shaku, 3.0))
    assert grid.step == 0.1
    assert grid.down(6 * shaku) == 18181
    assert grid.up(3 * shaku) == 9091


def test_two_pieces_that_fit_in_inches_exactly_do_fit():
    length, stick = 59.4375 * INCH, 120 * INCH
    kerf, trim = INCH / 8, INCH / 2
    assert 2 * 59.4375 + 0.125 == 120 - 2 * 0.5
    assert pieces_per_stick(length, stick, kerf=kerf, end_trim=trim) == 2
    assert pieces_per_stick(length + INCH / 64, stick, kerf=kerf, end_trim=trim) == 1


@pytest.mark.parametrize(("clean", "first", "far"), [(0, 15.0, 15.0), (1, 0.0, 15.0), (2, 0.0, 0.0)])
def test_only_unclean_ends_are_trimmed_and_the_clean_one_is_begun_from(clean, first, far):
    assert trims(end_trim=15.0, clean_ends=clean) == (first, far)
    assert usable_length(1000.0, end_trim=15.0, clean_ends=clean) == 1000.0 - first - far


def test_a_stick_shorter_than_its_trims_gives_nothing():
    assert usable_length(25.0, end_trim=15.0) == 0.0
    assert pieces_per_stick(10.0, 25.0, kerf=3.0, end_trim=15.0) == 0


@pytest.mark.parametrize(
    ("length", "count"), [(3970.0, 1), (3970.5, 0), (1983.5, 2), (1984.0, 1), (1321.0, 3), (1321.5, 2)]
)
def test_n_pieces_take_n_less_one_kerfs(length, count):
    assert (count + 1) * length + count * 3.0 > 3970.0
    assert pieces_per_stick(length, 4000.0, kerf=3.0, end_trim=15.0) == count


@pytest.mark.parametrize("length", [0.0, -5.0, float("nan")])
def test_a_piece_without_length_is_refused(length):
    with pytest.raises(OutOfRangeError) as error:
        pieces_per_stick(length, 4000.0, kerf=3.0, end_trim=15.0)
    assert (error.value.fault.where, error.value.fault.code) == ("length", "piece-length")
    assert error.value.fault.found == f"{length:g} mm"
