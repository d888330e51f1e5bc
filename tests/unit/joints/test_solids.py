"""Timbers as solids: volumes by plain geometry, and joints that neither overlap nor gap."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "frame"))
from factory import make_job, make_layout, make_yard

from evenfoot.frame import JointKind, build_frame
from evenfoot.joints import CutKind, board_solid, detail_joints, timber_solids

STYLES = [
    ("flush", "lap-over", "lap-under"),
    ("flush", "lap-over", "lap-over"),
    ("flush", "housing", "housing"),
    ("stacked", "bearing", "bearing"),
    ("hung", "hanger", "hanger"),
]
FALLS = (0.0, 0.0125, 0.04)


def framed(style, joint, post_joist, fall):
    job = make_job(style=style, joint=joint, post_joist=post_joist, fall=fall)
    layout = make_layout(job)
    frame = build_frame(job, layout, make_yard(job, 4000.0))
    return frame, layout, detail_joints(frame)


@pytest.mark.parametrize("fall", FALLS)
@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_what_is_left_is_the_timber_less_its_cuts(style, joint, post_joist, fall):
    frame, _, joinery = framed(style, joint, post_joist, fall)
    solids = timber_solids(frame, joinery)
    for member in frame.members:
        left = member.width * member.depth * member.length
        for cut in joinery.cuts_on(member.mark):
            if cut.kind is CutKind.LAP:
                left -= (cut.finish - cut.begin) * cut.depth * member.width
            elif cut.kind is CutKind.HOUSING:
                left -= (cut.finish - cut.begin) * cut.depth * cut.height
        assert solids[member.mark].volume == pytest.approx(left, rel=1e-9)
        assert solids[member.mark].parts == 1


@pytest.mark.parametrize("fall", FALLS)
@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_mating_timbers_touch_and_do_not_overlap(style, joint, post_joist, fall):
    frame, _, joinery = framed(style, joint, post_joist, fall)
    solids = timber_solids(frame, joinery)
    marks = list(solids)
    reach = math.hypot(1.0, fall)
    up = (0.0, fall / reach, 1.0 / reach)
    for i, one in enumerate(marks):
        for other in marks[:i]:
            # A tenth of a mm3 is what double precision leaves of faces that lie in one plane.
            assert solids[one].shared_with(solids[other]).volume < 0.1, (one, other)
    for j in frame.joints:
        if j.kind in {JointKind.POST_HEAD, JointKind.HANGER, JointKind.BUTT}:
            continue
        upper, lower = solids[j.upper], solids[j.lower]
        pressed = upper.moved(tuple(-0.1 * n for n in up)).shared_with(lower).volume / 0.1
        # A housing as deep as the beam leaves nothing to rest on; detail_joints says so.
        is_through = j.kind is JointKind.HOUSING and j.seat_depth >= frame.member(j.lower).depth
        bearing = 0.0 if is_through else j.seat * frame.member(j.upper).width
        # Stacked beams stand plumb under their line, so that on a fall a seat lies up to 1 % off its middle.
        assert pressed == pytest.approx(bearing, rel=0.01, abs=0.01), j.mark


@pytest.mark.parametrize("fall", FALLS)
def test_boards_lie_on_the_frame(fall):
    frame, layout, joinery = framed("flush", "lap-over", "lap-over", fall)
    solids = timber_solids(frame, joinery)
    for piece in layout.pieces[:3]:
        board = board_solid(piece, frame, 30.0)
        assert all(board.shared_with(s).volume < 0.1 for s in solids.values())
        assert any(board.moved((0.0, 0.0, -0.2)).shared_with(s).volume > 1.0 for s in solids.values())
