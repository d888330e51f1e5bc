"""The frame as geometry: lines, joints, posts and marks."""

from __future__ import annotations

import math
import random
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
import itertools

from factory import make_job, make_layout, make_yard, replace

from evenfoot.checks import Verdict
from evenfoot.errors import NoSolutionError
from evenfoot.frame import Frame, JointKind, Role, build_frame
from evenfoot.frame.build import crowded
from evenfoot.job.model import Obstacle, WallOffset
from evenfoot.layout import Axis

STYLES = [
    ("flush", "lap-over", "lap-under"),
    ("flush", "lap-over", "lap-over"),
    ("flush", "lap-under", "lap-under"),
    ("flush", "housing", "housing"),
    ("flush", "butt", "butt"),
    ("stacked", "bearing", "bearing"),
    ("hung", "hanger", "hanger"),
]


def build(style: str, joint: str, post_joist: str, **kw) -> Frame:
    job = make_job(style=style, joint=joint, post_joist=post_joist, **kw)
    return build_frame(job, make_layout(job), make_yard(job, 2000.0, 3000.0))


def point_at(frame: Frame, mark: str, distance: float) -> tuple[float, float]:
    m = frame.member(mark)
    share = distance / m.length
    return (m.start[0] + share * (m.end[0] - m.start[0]), m.start[1] + share * (m.end[1] - m.start[1]))


@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
@pytest.mark.parametrize("direction_deg", [0.0, 90.0])
def test_every_joint_lies_on_both_its_timbers(style, joint, post_joist, direction_deg):
    frame = build(style, joint, post_joist, fall=1 / 80, direction_deg=direction_deg)
    posts = {p.mark: p for p in frame.posts}
    assert frame.joints
    for j in frame.joints:
        upper = point_at(frame, j.upper, j.at_upper)
        # An end joint sits at the face of the beam, at most half its width from the beam's axis.
        reach = 55.0 if j.kind in (JointKind.HOUSING, JointKind.BUTT, JointKind.HANGER) else 1e-6
        assert math.dist(upper, (j.x, j.y)) <= reach
        if j.lower in posts:
            assert (posts[j.lower].x, posts[j.lower].y) == pytest.approx((j.x, j.y))
        else:
            assert point_at(frame, j.lower, j.at_lower) == pytest.approx((j.x, j.y))


@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_marks_are_unique(style, joint, post_joist):
    frame = build(style, joint, post_joist)
    marks = [m.mark for m in frame.members] + [p.mark for p in frame.posts]
    assert len(marks) == len(set(marks))
    joint_marks = [j.mark for j in frame.joints]
    assert len(joint_marks) == len(set(joint_marks))


@pytest.mark.parametrize(("style", "joint", "post_joist"), STYLES)
def test_no_post_face_stands_nearer_the_edge_than_the_setback_where_it_is_free_to_move(style, joint, post_joist):
    job = make_job(style=style, joint=joint, post_joist=post_joist)
    layout = make_layout(job)
    frame = build_frame(job, layout, make_yard(job))
    for p in frame.posts:
        if joint != "lap-under":  # where every joist stands on posts, the outer joists do too
            assert p.x - p.width / 2 >= layout.frame_x[0] + job.frame.setback - 1e-9
            assert p.x + p.width / 2 <= layout.frame_x[1] - job.frame.setback + 1e-9
        if style == "stacked" or "lap-under" in (joint, post_joist):
            assert p.y - p.depth / 2 >= layout.frame_y[0] + job.frame.setback - 1e-9
            assert p.y + p.depth / 2 <= layout.frame_y[1] - job.frame.setback + 1e-9


def test_turning_the_boards_turns_the_frame_and_nothing_else():
    along = build("flush", "lap-over", "lap-under", size=(3000.0, 3000.0))
    job = make_job(size=(3000.0, 3000.0), direction_deg=90.0)
    o = job.floor.overhang
    turned = replace(o, wall=o.left, outer=o.right, left=o.wall, right=o.outer)
    spec = job.frame.post
    job = replace(job, floor=replace(job.floor, overhang=turned))
    job = replace(job, frame=replace(job.frame, post=replace(spec, width=spec.depth, depth=spec.width)))
    across = build_frame(job, make_layout(job), make_yard(job, 2000.0, 3000.0))
    assert sorted(round(m.length, 6) for m in along.members) == sorted(round(m.length, 6) for m in across.members)
    assert sorted((round(p.x, 6), round(p.y - 10, 6)) for p in along.posts) == sorted(
        (round(p.y - 10, 6), round(p.x, 6)) for p in across.posts
    )


def test_stack_of_levels_is_worked_by_hand():
    # Sill 0, drop 20, board 30: top of frame -50. Flush: underside of a 105 joist -155.
    flush = build("flush", "lap-over", "lap-under")
    assert flush.top_at_wall == -50.0
    assert {round(p.underside, 6) for p in flush.posts} == {-155.0}
    # Stacked: joist 105 and beam 105 below it.
    assert {round(p.underside, 6) for p in build("stacked", "bearing", "bearing").posts} == {-260.0}


def test_a_fall_lowers_every_post_head_by_its_distance_from_the_wall():
    fall = 1 / 80
    s = math.sqrt(1 + fall**2)
    frame = build("stacked", "bearing", "bearing", fall=fall)
    assert frame.top_at_wall == pytest.approx(-20.0 - 30.0 * s)
    for p in frame.posts:
        assert p.underside == pytest.approx(-20.0 - 240.0 * s - fall * p.y)
    joist = next(m for m in frame.members if m.axis is Axis.Y and m.role is Role.JOIST)
    assert joist.length == pytest.approx(2710.0 * s)
    assert joist.start[2] - joist.end[2] == pytest.approx(2710.0 * fall)


def test_post_joists_carry_the_beams_and_the_others_lie_on_them():
    frame = build("flush", "lap-over", "lap-under")
    on_posts = {p.under for p in frame.posts}
    for j in frame.joints:
        if j.kind is JointKind.LAP_UNDER:
            assert j.lower in on_posts
            assert frame.member(j.upper).role is Role.BEAM
        elif j.kind is JointKind.LAP_OVER:
            assert j.upper not in on_posts
            assert frame.member(j.upper).role is Role.JOIST


def test_a_lap_fills_the_depth_of_both_timbers():
    frame = build("flush", "lap-over", "lap-under")
    for j in frame.joints:
        if j.kind in (JointKind.LAP_OVER, JointKind.LAP_UNDER):
            assert frame.member(j.upper).depth - j.cut_upper == j.seat_depth == j.cut_lower


@pytest.mark.parametrize("longest", [1520.0, 2000.0, 3000.0])
def test_pieces_of_a_long_line_fit_the_stock_and_meet_over_supports(longest):
    job = make_job(style="stacked", joint="bearing", size=(9000.0, 1500.0), direction_deg=90.0)
    yard = make_yard(job, longest)
    frame = build_frame(job, make_layout(job), yard)
    assert frame.splices
    assert max(m.length for m in frame.members) <= longest - 2 * yard.end_trim + 1e-9
    supports = {p.mark for p in frame.posts} | {m.mark for m in frame.members if m.role is Role.BEAM}
    assert all(s.over in supports for s in frame.splices)
    lengths: dict[str, float] = {}
    for m in frame.members:
        if m.role is Role.JOIST:
            lengths[m.line] = lengths.get(m.line, 0.0) + m.length
    assert {round(v, 6) for v in lengths.values()} == {8960.0}


def test_neighbouring_joists_are_not_spliced_over_the_same_beam_where_another_will_do():
    job = make_job(style="stacked", joint="bearing", size=(9000.0, 1500.0), direction_deg=90.0)
    frame = build_frame(job, make_layout(job), make_yard(job, 4000.0))
    by_line: dict[str, set[float]] = {}
    for s in frame.splices:
        by_line.setdefault(frame.member(s.first).line, set()).add(round(s.x, 3))
    lines = [by_line[k] for k in sorted(by_line, key=int)]
    assert all(a.isdisjoint(b) for a, b in itertools.pairwise(lines))


def test_posts_keep_clear_of_an_obstacle():
    drain = Obstacle(name="drain", x=1150.0, y=80.0, width=200.0, depth=200.0, clearance=30.0, where="site.obstacle[0]")
    for style, joint, post_joist in STYLES:
        if joint == "lap-under":
            continue  # every joist stands on posts there: nothing may move
        frame = build(style, joint, post_joist, obstacles=(drain,))
        for p in frame.posts:
            dx = max(drain.x - p.x, 0.0, p.x - drain.x - drain.width)
            dy = max(drain.y - p.y, 0.0, p.y - drain.y - drain.depth)
            assert max(dx, dy) >= 130.0 - 1e-6, (style, joint, p.mark)


def test_a_floor_that_is_all_obstacle_says_so():
    pond = Obstacle(name="pond", x=-1e4, y=-1e4, width=3e4, depth=3e4, clearance=0.0, where="site.obstacle[0]")
    frame = build("stacked", "bearing", "bearing", obstacles=(pond,))
    assert frame.posts == ()
    assert {(c.rule, c.verdict) for c in frame.checks} == {("no-place-for-posts", Verdict.FAILS)}


def test_a_setback_wider_than_the_floor_is_refused_with_the_largest_that_fits():
    with pytest.raises(NoSolutionError) as error:
        build("stacked", "bearing", "bearing", size=(3000.0, 300.0))
    fault = error.value.fault
    # Frame 280 deep, so 140 from each face to the middle; 130 + half of 105 wanted.
    assert (fault.where, fault.code, fault.found, fault.allowed, fault.nearest) == (
        "frame.setback",
        "frame-too-small",
        "182.5 mm",
        "140 mm",
        "87.5 mm",
    )


def test_an_l_shaped_floor_is_refused_at_its_place():
    job = make_job()
    outline = ((0.0, 0.0), (3000.0, 0.0), (3000.0, 1000.0), (1000.0, 1000.0), (1000.0, 2000.0), (0.0, 2000.0))
    layout = replace(make_layout(job), outline=outline)
    with pytest.raises(NoSolutionError) as error:
        build_frame(job, layout, make_yard(job))
    assert (error.value.fault.where, error.value.fault.code) == ("floor.outline", "frame-needs-rectangle")


def test_a_wall_that_stands_in_the_floor_is_found():
    job = make_job()
    wall = (WallOffset(x=500.0, out=4.0, where="site.wall[0]"), WallOffset(x=2500.0, out=13.5, where="site.wall[1]"))
    job = replace(job, site=replace(job.site, wall=wall))
    check = build_frame(job, make_layout(job), make_yard(job)).checks[-1]
    assert (check.rule, check.verdict, check.source) == ("clear-of-wall", Verdict.FAILS, "site.wall[1]")
    assert check.fact("by_mm") == pytest.approx(3.5)


def test_a_footing_that_would_stand_in_the_wall_is_told():
    # Hung frame: first beam axis 10 + 52.5 from the wall, footing 200 square: 37.5 mm in the wall.
    check = build("hung", "hanger", "hanger").checks[-1]
    assert (check.rule, check.verdict) == ("footing-in-wall", Verdict.NOT_CHECKED)
    assert check.fact("by_mm") == pytest.approx(37.5)
    assert check.fact("count") == 4
    # Stacked: first post axis 10 + 130 + 52.5 from the wall, clear of it.
    assert "footing-in-wall" not in {c.rule for c in build("stacked", "bearing", "bearing").checks}


def test_a_floor_that_leaves_its_beams_one_support_says_so():
    # Three joists; the setback keeps posts off the outer two, so every beam would ride on the middle one.
    job = make_job(size=(1500.0, 1200.0))
    joist = replace(job.frame.joist, spacing_max=678.0)
    job = replace(job, frame=replace(job.frame, joist=joist, setback=8.0))
    frame = build_frame(job, make_layout(job), make_yard(job))
    assert [(c.rule, c.verdict) for c in frame.checks if c.rule == "two-supports"] == [("two-supports", Verdict.FAILS)]
    on_the_edge = replace(job, frame=replace(job.frame, setback=0.0))
    checks = build_frame(on_the_edge, make_layout(on_the_edge), make_yard(on_the_edge)).checks
    assert "two-supports" not in {c.rule for c in checks}


def test_no_splice_leaves_an_end_piece_on_one_post():
    # Beams 4006 long from sticks of 3970 clean: a splice over the first post, 174 from the end, would do by length alone.
    job = make_job(joint="housing", post_joist="housing", size=(4046.0, 1200.0))
    joist = replace(job.frame.joist, width=45.0, spacing_max=300.0)
    beam = replace(job.frame.beam, spacing_max=700.0)
    job = replace(job, frame=replace(job.frame, joist=joist, beam=beam, setback=129.0))
    frame = build_frame(job, make_layout(job), make_yard(job, 3000.0, 4000.0))
    assert frame.splices
    assert max(m.length for m in frame.members) <= 3970.0
    for splice in frame.splices:
        for mark in (splice.first, splice.second):
            heads = {j.lower for j in frame.joints if j.upper == mark and j.kind is JointKind.POST_HEAD}
            assert len(heads) >= 2, mark


def test_posts_that_an_obstacle_drives_into_each_other_are_told():
    job = make_job(style="stacked", joint="bearing", post_joist="bearing", size=(3640.0, 2730.0))
    frame = build_frame(job, make_layout(job), make_yard(job, 4000.0))
    assert not [c for c in frame.checks if c.rule == "posts-apart"]
    one = frame.posts[0]
    near = replace(one, mark="Z9", x=one.x + one.width - 0.5)
    clear = replace(one, mark="Z8", x=one.x + one.width + 0.5)
    assert [(c.subject, dict(c.facts)["other"], c.verdict.value) for c in crowded((one, near))] == [
        ("Z9", one.mark, "fails")
    ]
    assert crowded((one, clear)) == []


@pytest.mark.parametrize("seed", range(4))
def test_crowded_posts_are_those_of_trying_every_pair(seed):
    job = make_job(style="stacked", joint="bearing", post_joist="bearing", size=(3640.0, 2730.0))
    posts = build_frame(job, make_layout(job), make_yard(job, 4000.0)).posts
    rng = random.Random(seed)
    moved = tuple(
        replace(p, x=rng.uniform(0, 900), y=rng.uniform(0, 700), width=rng.choice((90.0, 105.0, 140.0))) for p in posts
    )
    told = [(c.subject, c.fact("other")) for c in crowded(moved)]
    assert told
    assert told == [
        (one.mark, other.mark)
        for k, one in enumerate(moved)
        for other in moved[:k]
        if abs(one.x - other.x) < (one.width + other.width) / 2 and abs(one.y - other.y) < (one.depth + other.depth) / 2
    ]
