"""Laws of any frame: bearing, reach, spacing, numbering."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "frame"))
from factory import make_job, make_layout, make_yard, replace

from evenfoot.errors import NoSolutionError
from evenfoot.frame import Frame, JointKind, Role, build_frame
from evenfoot.joints import detail_joints

styles = st.sampled_from(
    [
        ("flush", "lap-over", "lap-under"),
        ("flush", "lap-over", "lap-over"),
        ("flush", "housing", "housing"),
        ("stacked", "bearing", "bearing"),
        ("hung", "hanger", "hanger"),
    ]
)
jobs = st.builds(
    lambda style, width, depth, fall, direction, beams, joists, setback: (
        style,
        (float(width), float(depth)),
        fall,
        direction,
        (float(beams), float(joists), float(setback)),
    ),
    styles,
    st.integers(1500, 9000),
    st.integers(1200, 6000),
    st.sampled_from([0.0, 1 / 100, 1 / 60]),
    st.sampled_from([0.0, 90.0]),
    st.integers(700, 1900),
    st.integers(300, 700),
    st.integers(0, 250),
)


def made(given_job) -> Frame | None:
    (style, joint, post_joist), size, fall, direction, (beams, joists, setback) = given_job
    job = make_job(style=style, joint=joint, post_joist=post_joist, size=size, fall=fall, direction_deg=direction)
    spec = job.frame
    spec = replace(
        spec,
        setback=setback,
        beam=replace(spec.beam, spacing_max=beams),
        joist=replace(spec.joist, spacing_max=joists),
    )
    job = replace(job, frame=spec)
    try:
        return build_frame(job, make_layout(job), make_yard(job, 3000.0, 4000.0))
    except NoSolutionError:
        return None


@given(jobs)
@settings(max_examples=60, deadline=None)
def test_every_timber_is_borne_at_two_places_and_every_beam_stands_on_posts_or_post_joists(given_job):
    frame = made(given_job)
    if frame is None or {c.rule for c in frame.checks} & {"no-place-for-posts", "two-supports"}:
        return  # said by the frame itself
    borne: dict[str, list[float]] = {}
    for j in frame.joints:
        borne.setdefault(j.upper, []).append(j.at_upper)
    for m in frame.members:
        if m.role is not Role.BLOCK:
            places = borne.get(m.mark, [])
            assert len({round(p, 3) for p in places}) >= 2, m.mark


@given(jobs)
@settings(max_examples=60, deadline=None)
def test_true_lengths_are_the_distances_between_the_ends(given_job):
    frame = made(given_job)
    if frame is None:
        return
    for m in frame.members:
        assert math.dist(m.start, m.end) == pytest.approx(m.length, rel=1e-12)


@given(jobs)
@settings(max_examples=60, deadline=None)
def test_all_tops_lie_in_one_plane_in_a_flush_frame(given_job):
    frame = made(given_job)
    if frame is None or frame.style.value == "stacked":
        return
    for m in frame.members:
        for x, y, z in (m.start, m.end):
            assert z == pytest.approx(frame.top_at_wall - frame.fall * y, abs=1e-9), (m.mark, x)


@given(jobs)
@settings(max_examples=40, deadline=None)
def test_grid_labels_rise_and_marks_never_repeat(given_job):
    frame = made(given_job)
    if frame is None:
        return
    for axis in {g.axis for g in frame.grid}:
        positions = [g.position for g in frame.grid if g.axis is axis]
        assert positions == sorted(positions)
    marks = [m.mark for m in frame.members] + [p.mark for p in frame.posts]
    assert len(marks) == len(set(marks))


@given(jobs)
@settings(max_examples=40, deadline=None)
def test_the_order_of_assembly_sets_each_timber_once_after_what_bears_it(given_job):
    frame = made(given_job)
    if frame is None:
        return
    placed: list[str] = []
    for step in detail_joints(frame).steps:
        for mark in step.marks:
            bearers = {j.lower for j in frame.joints if j.upper == mark and j.kind is not JointKind.POST_HEAD}
            assert bearers <= set(placed)
        placed += step.marks
    assert sorted(placed) == sorted(m.mark for m in frame.members)
