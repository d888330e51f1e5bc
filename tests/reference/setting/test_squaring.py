"""Squaring against figures worked out by hand from Ptolemy and Pythagoras."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from evenfoot.setting.square import Distance, Shape, Tape, Wanted, square_up

ROWS = list(csv.DictReader((Path(__file__).parent / "squaring.csv").read_text(encoding="utf-8").splitlines()))
INCH = 25.4
TAPE = Tape(reading=1.0, scale=0.0002)


def frame(distances, width, depth, same=()):
    box = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    readings = [Distance(pair=pair, value=value * INCH) for pair, value in distances.items()]
    return square_up(Wanted(corners=box, is_size_known=False, within=3.0, same=same), readings, TAPE)


def trapezoid():
    readings = {(0, 1): 286.5, (2, 3): 288.6875, (0, 2): 303.5, (1, 3): 303.5}
    return frame(readings, 286.5 * INCH, 97 * INCH, same=(((1, 2), (3, 0)),))


def leaning():
    whole = math.hypot(360, 168)
    readings = {(0, 1): 360, (1, 2): 168, (2, 3): 360, (3, 0): 168, (0, 2): whole + 0.125, (1, 3): whole - 0.125}
    return frame(readings, 360 * INCH, 168 * INCH)


def figures():
    first, second = trapezoid(), leaning()
    return {
        0: {
            "short_side_in": first.sides[1].length / INCH,
            "corner_error_deg": math.degrees(first.corners[0].angle_error),
            "outer_excess_in": first.sides[2].excess / INCH,
            "target_diagonal_in": first.diagonals[0].target / INCH,
        },
        1: {
            "slide_in": second.lean / INCH,
            "target_diagonal_in": second.diagonals[1].target / INCH,
            "angle_error_deg": math.degrees(second.corners[1].angle_error),
        },
    }


@pytest.mark.parametrize(("number", "row"), list(enumerate(ROWS)), ids=[r["figure"] for r in ROWS])
def test_squaring_agrees_with_figures_worked_by_hand(number, row):
    case = 0 if number < 4 else 1
    assert figures()[case][row["figure"]] == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


def test_equal_diagonals_do_not_prove_it_square():
    result = trapezoid()
    assert result.shape is Shape.TRAPEZOID
    assert not result.is_square
    assert result.diagonals[0].length == pytest.approx(result.diagonals[1].length, abs=1e-6)


def test_the_outer_corner_at_the_end_of_the_long_diagonal_is_pushed_back():
    result = leaning()
    assert result.shape is Shape.LEANING
    assert [(push.corner, round(push.dx, 1), push.dy) for push in result.pushes] == [(2, -3.5, 0.0), (3, -3.5, 0.0)]
