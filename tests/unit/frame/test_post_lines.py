"""Lines of posts that the carpenter set: they are honoured, or it is said why not."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from factory import make_job, make_layout, make_yard, replace

from evenfoot.checks import Verdict
from evenfoot.errors import NoSolutionError
from evenfoot.frame import build_frame
from evenfoot.job.model import Obstacle
from evenfoot.layout import Axis

ANYWHERE = [("flush", "housing", "housing"), ("stacked", "bearing", "bearing"), ("hung", "hanger", "hanger")]
LAPPED = [("flush", "lap-over", "lap-over"), ("flush", "lap-over", "lap-under")]


def build(style, lines, **kw):
    job = make_job(style=style[0], joint=style[1], post_joist=style[2], **kw)
    job = replace(job, frame=replace(job.frame, post_lines=tuple(lines)))
    layout = make_layout(job)
    return build_frame(job, layout, make_yard(job, 2000.0, 3000.0)), layout


def places(frame):
    """Where the posts stand along the beams."""
    return sorted({p.x if frame.joist_axis is Axis.Y else p.y for p in frame.posts})


@pytest.mark.parametrize("style", ANYWHERE)
@pytest.mark.parametrize("direction_deg", [0.0, 90.0])
def test_posts_stand_where_they_were_typed(style, direction_deg):
    lines = (2411.0, 236.5, 1207.0)
    frame, _ = build(style, lines, direction_deg=direction_deg)
    assert places(frame) == [236.5, 1207.0, 2411.0]
    beams = {p.under for p in frame.posts}
    heads = [j for j in frame.joints if j.kind == "post-head"]
    assert {j.upper for j in heads} == beams
    assert not [c for c in frame.checks if c.rule.startswith("post-line") or c.rule == "post-off-its-line"]


@pytest.mark.parametrize("style", [*ANYWHERE, *LAPPED])
@pytest.mark.parametrize("direction_deg", [0.0, 90.0])
def test_the_even_places_typed_make_the_same_frame(style, direction_deg):
    even, _ = build(style, (), direction_deg=direction_deg)
    again, _ = build(style, places(even), direction_deg=direction_deg)
    assert places(again) == places(even)
    assert [(p.mark, p.under) for p in again.posts] == [(p.mark, p.under) for p in even.posts]
    assert [j.mark for j in again.joints] == [j.mark for j in even.joints]
    assert [j.at_upper for j in again.joints] == pytest.approx([j.at_upper for j in even.joints])


@pytest.mark.parametrize("style", LAPPED)
def test_lapped_posts_stand_under_the_joist_that_was_meant(style):
    _, layout = build(style, ())
    wanted = [layout.joist_lines[k] for k in (1, 3, 5)]
    frame, _ = build(style, [line + off for line, off in zip(wanted, (0.9, -0.9, 0.0), strict=True)])
    assert places(frame) == pytest.approx(wanted)
    with pytest.raises(NoSolutionError) as caught:
        build(style, [wanted[0], wanted[1] + 40.0])
    (fault,) = caught.value.faults
    assert (fault.where, fault.code) == ("frame.post_lines[1]", "post-line-off-joist")
    assert float(fault.nearest.removesuffix(" mm")) == pytest.approx(wanted[1], abs=0.05)


def test_a_line_outside_the_setback_is_refused_with_the_nearest():
    with pytest.raises(NoSolutionError) as caught:
        build(ANYWHERE[1], (100.0, 1000.0, 3600.0))
    faults = caught.value.faults
    # Frame from 25 to 3625, setback 130, post 90 wide: axes from 200 to 3450.
    assert [(f.where, f.code, f.nearest) for f in faults] == [
        ("frame.post_lines[0]", "post-line-outside", "200 mm"),
        ("frame.post_lines[2]", "post-line-outside", "3450 mm"),
    ]
    assert faults[0].allowed == "200 … 3450 mm"


def test_lines_too_far_apart_are_kept_and_told():
    frame, _ = build(ANYWHERE[1], (200.0, 1400.0, 3450.0))
    assert places(frame) == [200.0, 1400.0, 3450.0]
    told = [c for c in frame.checks if c.rule == "post-spacing"]
    assert {c.demand for c in told} == {2050.0}
    assert {c.remedy for c in told} == {"post-line-between"}
    assert all(c.verdict is Verdict.FAILS for c in told)


def test_a_post_in_the_way_of_an_obstacle_leaves_its_line_on_that_beam_alone_and_it_is_said():
    pit = Obstacle(name="pit", x=1100.0, y=1200.0, width=200.0, depth=300.0, clearance=30.0, where="site.obstacle[0]")
    frame, _ = build(ANYWHERE[1], (200.0, 1180.0, 2300.0, 3450.0), obstacles=(pit,))
    off = [c for c in frame.checks if c.rule == "post-off-its-line"]
    assert off
    # Footing 200 square and 30 clear: no axis between 970 and 1430; the nearer way out is 970.
    assert {(c.demand, c.capacity) for c in off} == {(1180.0, 970.0)}
    rows = {}
    for post in frame.posts:
        rows.setdefault(post.y, []).append(post.x)
    moved = [xs for xs in rows.values() if 970.0 in xs]
    assert len(moved) == len(off)
    assert all(sorted(xs) == [200.0, 970.0, 2300.0, 3450.0] for xs in moved)
    assert all(sorted(xs) == [200.0, 1180.0, 2300.0, 3450.0] for xs in rows.values() if xs not in moved)
    assert all(c.verdict is Verdict.NOT_CHECKED and c.reason == "obstacle-on-line" for c in off)


def test_one_line_alone_lets_the_beams_tip_and_it_is_said():
    frame, _ = build(ANYWHERE[1], (1800.0,))
    assert {c.rule for c in frame.checks if c.verdict is Verdict.FAILS} == {"two-supports"}
