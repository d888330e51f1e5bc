"""Slips of eye, hand and unit."""

from __future__ import annotations

import pytest

from evenfoot.setting.slips import SlipKind, likely_slip


@pytest.mark.parametrize(
    ("found", "expected", "kind", "value"),
    [
        (4051.0, 4500.0, SlipKind.SWAPPED, 4501.0),
        (360.0, 3600.5, SlipKind.UNIT, 3600.0),
        (3.6, 3601.0, SlipKind.UNIT, 3600.0),
        (141.73, 3600.0, SlipKind.UNIT, 3599.942),
        (-281.0, 280.5, SlipKind.SIGN, 281.0),
        (2600.0, 2700.0, SlipKind.MARK, 2700.0),
        (2700.0 - 25.4, 2700.0, SlipKind.MARK, 2700.0),
        (4900.5, 4200.0, SlipKind.FIGURE, 4200.5),
    ],
)
def test_a_usual_slip_is_named_with_what_it_should_be(found, expected, kind, value):
    slip = likely_slip(found, expected=expected, within=2.0)
    assert slip is not None
    assert slip.kind is kind
    assert slip.value == pytest.approx(value, abs=1e-9)


def test_a_reading_that_is_right_is_no_slip():
    assert likely_slip(4501.0, expected=4500.0, within=1.0) is None


def test_a_reading_that_no_slip_explains_stays_unexplained():
    assert likely_slip(4537.0, expected=4500.0, within=2.0) is None
