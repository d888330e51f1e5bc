"""A tilted line of sight and what it does to a reading."""

from __future__ import annotations

import math

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.site import error_from_tilt, tilt_from_error


def test_error_and_tilt_undo_each_other():
    assert tilt_from_error(error=error_from_tilt(distance=7310, tilt=0.0031), distance=7310) == pytest.approx(0.0031)
    assert error_from_tilt(distance=7310, tilt=-0.0031) == -error_from_tilt(distance=7310, tilt=0.0031)
    assert error_from_tilt(distance=0, tilt=0.5) == 0


@pytest.mark.parametrize(
    ("call", "code", "where", "found"),
    [
        (lambda: error_from_tilt(distance=-1, tilt=0.1), "distance-negative", "distance", "-1 mm"),
        (lambda: error_from_tilt(distance=1, tilt=math.pi / 2), "tilt-too-steep", "tilt", "90 deg"),
        (lambda: tilt_from_error(error=1, distance=0), "distance-negative", "distance", "0 mm"),
    ],
)
def test_what_no_instrument_can_do_is_refused(call, code, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        call()
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == (code, where, found)
