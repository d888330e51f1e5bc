"""Putting frames together: every way is clear, tilting included, and a frame that cannot be is found."""

from __future__ import annotations

import math
import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "frame"))
from factory import make_job, make_layout, make_yard

from evenfoot.checks import Verdict
from evenfoot.frame import Entry, Frame, JointKind, Mark, Role, build_frame
from evenfoot.geom import Place, Solid
from evenfoot.joints import detail_joints, timber_solids
from evenfoot.joints.assembly import order_assembly, tilted_play

STYLES = [
    ("flush", "lap-over", "lap-under"),
    ("flush", "lap-over", "lap-over"),
    ("flush", "housing", "housing"),
    ("stacked", "bearing", "bearing"),
    ("hung", "hanger", "hanger"),
]


def framed(style="flush", joint="lap-over", post_joist="lap-over", fall=0.0):
    job = make_job(style=style, joint=joint, post_joist=post_joist, fall=fall)
    return build_frame(job, make_layout(job), make_yard(job, 4000.0))


@pytest.mark.parametrize("fall", [0.0, 0.0125])
@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_every_timber_comes_down_into_its_place_without_striking_another(style, joint, post_joist, fall):
    frame = framed(style, joint, post_joist, fall)
    joinery = detail_joints(frame)
    solids = timber_solids(frame, joinery)
    reach = math.hypot(1.0, fall)
    up = (0.0, fall / reach, 1.0 / reach)
    there: list[str] = []
    for step in joinery.steps:
        assert step.how != "tilt-in"
        for mark in step.marks:
            for lift in (160.0, 90.0, 52.0, 20.0, 3.0, 0.3):
                held = solids[mark].moved(tuple(lift * n for n in up))
                for other in there:
                    # A tenth of a mm3 is what double precision leaves of faces that slide along each other.
                    assert held.shared_with(solids[other]).volume < 0.1, (mark, other, lift)
        there += step.marks
    assert len(there) == len(frame.members)


def turned(frame: Frame, mark: str, at_line: str) -> Frame:
    """The same frame with one lap turned: the beam on ``at_line`` now lies on that joist."""
    joints = []
    for j in frame.joints:
        if j.kind is JointKind.LAP_OVER and j.upper == mark and j.lower == at_line:
            j = replace(  # noqa: PLW2901
                j,
                kind=JointKind.LAP_UNDER,
                entry=Entry.BELOW,
                upper=j.lower,
                lower=j.upper,
                at_upper=j.at_lower,
                at_lower=j.at_upper,
            )
        joints.append(j)
    return replace(frame, joints=tuple(joints))


def closed_frame():
    """Two beams and some joists of a lap-over frame; the first two joists turned oppositely at their ends."""
    frame = framed()
    beams = [m for m in frame.members if m.role is Role.BEAM]
    first, last = beams[0].mark, beams[-1].mark
    joists = [m.mark for m in frame.members if m.role is Role.JOIST][:2]
    keep = {first, last, *joists}
    joints = tuple(j for j in frame.joints if j.kind is JointKind.POST_HEAD or (j.upper in keep and j.lower in keep))
    small = replace(frame, members=tuple(m for m in frame.members if m.mark in keep), joints=joints, splices=())
    return turned(turned(small, joists[0], last), joists[1], first), joists


def test_a_joist_turned_oppositely_at_its_ends_goes_into_a_closed_frame_only_by_tilting():
    frame, joists = closed_frame()
    order = order_assembly(frame)
    assert order.ring == ()
    tilts = [s for s in order.steps if s.how == "tilt-in"]
    assert len(tilts) == 1
    (mark,) = tilts[0].marks
    assert mark in joists
    length = 2730.0 - 2 * 10.0 - 105.0
    assert tilts[0].play == pytest.approx(105.0**2 / (4.0 * length), rel=1e-9)
    placed = [m for s in order.steps for m in s.marks]
    assert sorted(placed) == sorted(m.mark for m in frame.members)


def tilted_joist(depth, length, play):
    """A joist with a lap from below at its left end and from above at its right, shoulders eased by ``play``.

    The laps are as wide as the beams (90) plus the play on both sides; its axis runs along x about its own middle.
    """
    half, wide = length / 2, 45.0 + play
    body = Solid.box((-half - 200, -40, -depth / 2), (half + 200, 40, depth / 2))
    upper = Solid.box((-half - wide, -60, 0.0), (-half + wide, 60, depth))
    lower = Solid.box((half - wide, -60, -depth), (half + wide, 60, 0.0))
    return body.without([upper, lower])


def beams(depth, length):
    """The two beams it goes between: its left end under the first, its right end over the second."""
    half = length / 2
    left = Solid.box((-half - 45, -300, -depth / 2), (-half + 45, 300, depth / 2)).without(
        [Solid.box((-half - 60, -40, -depth), (-half + 60, 40, 0.0))]
    )
    right = Solid.box((half - 45, -300, -depth / 2), (half + 45, 300, depth / 2)).without(
        [Solid.box((half - 60, -40, 0.0), (half + 60, 40, depth))]
    )
    return left, right


def strike(depth, length, play):
    """The most wood shared with the beams while the joist turns level from where both its laps are free."""
    joist, (left, right) = tilted_joist(depth, length, play), beams(depth, length)
    most = 0.0
    free = math.asin(depth / length)
    for k in range(41):
        lean = free * (1 - k / 40)
        c, s = math.cos(lean), math.sin(lean)
        held = joist.placed(Place(origin=(0.0, 0.0, 0.0), along=(c, 0.0, s), left=(0.0, 1.0, 0.0), up=(-s, 0.0, c)))
        most = max(most, held.shared_with(left).volume, held.shared_with(right).volume)
    return most


@pytest.mark.parametrize(("depth", "length"), [(105.0, 2600.0), (120.0, 1800.0), (90.0, 3600.0)])
def test_the_play_told_is_what_tilting_needs(depth, length):
    """Turned in space, step by step: with the play nothing strikes, with half of it the shoulders do."""
    play = depth**2 / (4.0 * length)
    # The rule is of second order in the lean; 6 % covers the higher ones at these slopes. Faces graze by up to 0.5 mm3.
    assert strike(depth, length, 1.06 * play) < 0.5
    assert strike(depth, length, 0.5 * play) > 50.0
    assert strike(depth, length, 0.0) > 100.0


def test_a_frame_that_cannot_be_put_together_is_found():
    """Three laps along each joist, turned over and under and over: no tilting frees them."""
    frame = framed()
    first, middle, *_ = [m.mark for m in frame.members if m.role is Role.BEAM]
    joists = [m.mark for m in frame.members if m.role is Role.JOIST][:2]
    stuck = turned(turned(frame, joists[0], middle), joists[1], first)
    assert tilted_play(stuck) == {}
    order = order_assembly(stuck)
    assert order.steps == ()
    assert set(order.ring) & set(joists)
    checks = [c for c in detail_joints(stuck).checks if c.rule == "assembly-order"]
    assert [c.verdict for c in checks] == [Verdict.FAILS]
    assert Mark(checks[0].subject) in {m.mark for m in stuck.members}
