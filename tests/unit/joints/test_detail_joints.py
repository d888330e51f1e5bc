"""Cuts and assembly of a frame."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "frame"))
from factory import make_job, make_layout, make_yard, replace

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind, build_frame
from evenfoot.joints import CutKind, Face, detail_joints
from evenfoot.layout import Axis

STYLES = [
    ("flush", "lap-over", "lap-under"),
    ("flush", "lap-over", "lap-over"),
    ("flush", "housing", "housing"),
    ("stacked", "bearing", "bearing"),
    ("hung", "hanger", "hanger"),
]


def frame_of(style, joint, post_joist, **kw):
    job = make_job(style=style, joint=joint, post_joist=post_joist, **kw)
    return build_frame(job, make_layout(job), make_yard(job, 4000.0))


@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_nothing_rests_on_air(style, joint, post_joist):
    frame = frame_of(style, joint, post_joist)
    placed: set[str] = set()
    steps = detail_joints(frame).steps
    for step in steps:
        for mark in step.marks:
            assert all(j.lower in placed for j in frame.joints if j.upper == mark and j.kind is not JointKind.POST_HEAD)
        placed.update(step.marks)
    assert placed == {m.mark for m in frame.members}
    assert sum(len(s.marks) for s in steps) == len(placed)
    assert [s.number for s in steps] == list(range(1, len(steps) + 1))


def test_a_lap_frame_goes_together_in_three_lifts():
    frame = frame_of("flush", "lap-over", "lap-under")
    steps = detail_joints(frame).steps
    assert [s.how for s in steps] == ["set-on-feet", "lower-over-laps", "lower-into-laps"]
    assert set(steps[0].marks) == {p.under for p in frame.posts}


def test_the_cuts_of_one_joist_are_worked_by_hand():
    # 105 timbers at half depth; frame 3600 x 2710, beams at 52.5 and 2657.5 of the joist and two between.
    frame = frame_of("flush", "lap-over", "lap-over")
    cuts = [c for c in detail_joints(frame).cuts_on("A1-4") if c.kind is CutKind.LAP]
    assert [(c.face, c.depth) for c in cuts] == [(Face.BOTTOM, 52.5)] * 4
    middles = [52.5, 52.5 + 2605 / 3, 52.5 + 2 * 2605 / 3, 2657.5]
    assert [c.begin for c in cuts] == pytest.approx([m - 52.5 for m in middles])
    assert [c.finish for c in cuts] == pytest.approx([m + 52.5 for m in middles])


@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES[:2])
def test_wood_removed_at_each_lap_is_one_full_crossing(style, joint, post_joist):
    # Where two equal timbers share one space, the two cuts together remove exactly that space once.
    frame = frame_of(style, joint, post_joist)
    cuts = detail_joints(frame).cuts
    for j in frame.joints:
        if j.kind not in (JointKind.LAP_OVER, JointKind.LAP_UNDER):
            continue
        own = [c for c in cuts if c.joint == j.mark]
        volume = sum((c.finish - c.begin) * c.depth * frame.member(c.member).width for c in own)
        assert volume == pytest.approx(105.0**3)


def test_a_housing_is_cut_in_the_face_that_the_joist_stands_against():
    for direction, axis in ((0.0, Axis.X), (90.0, Axis.Y)):
        frame = frame_of("flush", "housing", "housing", direction_deg=direction)
        housings = [c for c in detail_joints(frame).cuts if c.kind is CutKind.HOUSING]
        assert housings
        for c in housings:
            beam = frame.member(c.member)
            assert beam.axis is axis
            joint = next(j for j in frame.joints if j.mark == c.joint)
            joist = frame.member(joint.upper)
            away = (joist.start[1] - beam.start[1]) if axis is Axis.X else (beam.start[0] - joist.start[0])
            assert c.face is (Face.LEFT if away > 0 else Face.RIGHT)
            assert (c.depth, c.height) == (15.0, 105.0)


def test_a_housing_in_an_equal_beam_leaves_no_seat_and_fails():
    checks = detail_joints(frame_of("flush", "housing", "housing")).checks
    assert [(c.rule, c.verdict, c.capacity, c.demand) for c in checks] == [
        ("wood-under-seat", Verdict.FAILS, 0.0, 30.0)
    ]


@pytest.mark.parametrize(("beam_depth", "verdict"), [(134.9, Verdict.FAILS), (135.0, Verdict.OK)])
def test_thirty_mm_under_a_seat_is_the_limit(beam_depth, verdict):
    job = make_job(joint="housing", post_joist="housing")
    job = replace(job, frame=replace(job.frame, beam=replace(job.frame.beam, depth=beam_depth)))
    frame = build_frame(job, make_layout(job), make_yard(job))
    assert [c.verdict for c in detail_joints(frame).checks] == [verdict]


def test_a_ring_of_laps_is_named():
    frame = frame_of("flush", "lap-over", "lap-over")

    # Turn A1 so that the joist A carries beam 1, while A still waits for beam 4 and beam 1 carries all others:
    # and turn D4 so that joist D carries beam 4, but D lies on beam 1. 1 waits for A, A for 4, 4 for D, D for 1.
    def turned(j):
        if j.mark in ("A1.lap-over", "D4.lap-over"):
            return replace(
                j, upper=j.lower, lower=j.upper, at_upper=j.at_lower, at_lower=j.at_upper, kind=JointKind.LAP_UNDER
            )
        return j

    frame = replace(frame, joints=tuple(turned(j) for j in frame.joints))
    joinery = detail_joints(frame)
    assert joinery.steps == ()
    check = next(c for c in joinery.checks if c.rule == "assembly-order")
    assert check.verdict is Verdict.FAILS
    assert sorted(str(check.fact("marks")).split(", ")) == ["1A-G", "4A-G", "A1-4", "D1-4"]
