"""Boards over joists, at an angle, past the last joist, and ripped."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace

from evenfoot.checks import Verdict
from evenfoot.strength import check_strength

UNIT = 6.0e-6
BOARDS = UNIT * 30.0 * 105.0 / 110.0


def board(rule, plan=None, **job):
    frame = make_frame(plan or Plan())
    strength = check_strength(make_job(**job), frame, heights(frame))
    return next((c for c in strength.checks if c.subject == "boards" and c.rule == rule), None)


def test_one_person_bends_one_board_as_a_simple_span():
    found = board("board-bending")
    moment = BOARDS * 110.0 * 455.0**2 / 8 + 1000.0 * 455.0 / 4
    assert found.demand == pytest.approx(moment / (105.0 * 30.0**2 / 6), rel=1e-9)
    assert found.capacity == pytest.approx(2.0 / 3 * 0.7 * 26.7, rel=1e-9)
    assert found.case == "person"
    shear = board("board-shear")
    assert shear.demand == pytest.approx(1.5 * (BOARDS * 110.0 * 455.0 / 2 + 1000.0) / 3150.0, rel=1e-9)


def test_boards_at_an_angle_span_more():
    """45 degrees: 455 over the sine of 45 degrees."""
    found = board("board-bending", direction_deg=45.0)
    assert found.fact("span_mm") == pytest.approx(455.0 / math.sin(math.radians(45.0)), rel=1e-9)
    along_x = replace(Plan(), axis="x")
    assert board("board-bending", along_x, direction_deg=90.0).fact("span_mm") == pytest.approx(455.0)
    assert board("board-bending", along_x, direction_deg=60.0).fact("span_mm") == pytest.approx(
        455.0 / math.sin(math.radians(60.0))
    )


def test_the_widest_gap_between_joists_counts():
    plan = replace(Plan(), joists=(0.0, 400.0, 910.0))
    assert board("board-bending", plan).fact("span_mm") == pytest.approx(510.0)


def test_a_board_reaching_out_is_a_cantilever():
    found = board("board-tip", overhang=(0.0, 0.0, 60.0, 80.0))
    moment = BOARDS * 110.0 * 80.0**2 / 2 + 1000.0 * 80.0
    assert found.demand == pytest.approx(moment / (105.0 * 30.0**2 / 6), rel=1e-9)
    assert board("board-tip") is None


def test_board_sag_counts_creep():
    found = board("board-sag")
    w = (BOARDS + 600e-6) * 110.0
    bending = 5 * w * 455.0**4 / (384 * 9000.0 * 105.0 * 30.0**3 / 12)
    shear = 1.2 * w * 455.0**2 / (8 * 600.0 * 105.0 * 30.0)
    assert found.demand == pytest.approx(bending + shear, rel=1e-9)
    assert found.capacity == pytest.approx(455.0 / 500.0, rel=1e-9)


def test_a_thin_board_fails_and_says_what_to_change():
    found = board("board-bending", board=(90.0, 20.0))
    assert found.verdict is Verdict.FAILS
    assert found.remedy == "stronger-board"


def test_a_board_that_may_be_ripped_too_narrow_is_said():
    assert board("ripped-board") is None
    found = board("ripped-board", closing="rip-last")
    bending = board("board-bending")
    assert found.verdict is Verdict.NOT_CHECKED
    assert found.demand == pytest.approx(105.0 * bending.ratio, rel=1e-9)
    assert found.capacity == 50.0
    assert board("ripped-board", closing="rip-last", board=(140.0, 45.0)) is None
