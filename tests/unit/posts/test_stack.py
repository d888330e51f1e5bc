"""Layers in a height, cures, supports: refusals and edges."""

from __future__ import annotations

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.posts import Cure, Room, count_supports, cures, height_stack

ROOM = Room(drop=40.0, saved_by_flush=75.0, least_post=60.0, can_dig=True)


def test_a_stack_that_just_fits_fits():
    fit = height_stack(available=150.5, layers=(30.0, 120.5))
    assert (fit.spare, fit.shortfall, fit.is_fitting) == (0, 0, True)
    assert not height_stack(available=150.4, layers=(30.0, 120.5)).is_fitting


@pytest.mark.parametrize(
    ("shortfall", "expected"),
    [
        (0.0, ()),
        (40.0, (Cure.RAISE_FLOOR, Cure.FLUSH_FRAME, Cure.NO_POST, Cure.DIG, Cure.THINNER)),
        (41.0, (Cure.FLUSH_FRAME, Cure.NO_POST, Cure.DIG, Cure.THINNER)),
        (75.0, (Cure.FLUSH_FRAME, Cure.DIG, Cure.THINNER)),
        (76.0, (Cure.DIG, Cure.THINNER)),
    ],
)
def test_only_cures_that_are_enough_are_offered(shortfall, expected):
    assert cures(shortfall, ROOM) == expected


@pytest.mark.parametrize(
    ("run", "spacing", "per_line"), [(7000, 1000, 8), (7001, 1000, 9), (6999, 1000, 8), (500, 900, 2)]
)
def test_a_line_has_one_support_more_than_bays(run, spacing, per_line):
    assert count_supports(bays=(600.0,), run=run, spacing_max=spacing).per_line == per_line


@pytest.mark.parametrize(
    ("call", "code", "where", "found"),
    [
        (lambda: height_stack(available=100, layers=(30, -1)), "layer-negative", "layers[1]", "-1 mm"),
        (
            lambda: count_supports(bays=(1.0,), run=10, spacing_max=0),
            "spacing-not-positive",
            "spacing_max",
            "0 mm in 10 mm",
        ),
        (
            lambda: count_supports(bays=(1.0,), run=10, spacing_max=1, lines_carried=3),
            "lines-carried",
            "lines_carried",
            "3",
        ),
    ],
)
def test_what_is_no_stack_or_grid_is_refused(call, code, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        call()
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == (code, where, found)
