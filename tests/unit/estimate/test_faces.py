"""Areas of pieces against closed forms, and against prisms drawn and measured by another library."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest
from shapely.geometry import box

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import make_built, make_job, replace

from evenfoot.estimate.faces import board_faces, find_faces, member_faces, stick_faces, total_faces
from evenfoot.frame import Mark, Member, Role
from evenfoot.job import kinds
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.layout import Axis, BoardPiece


def timber(*, is_seen: bool = False) -> Member:
    return Member(
        mark=Mark("A1-3"),
        role=Role.JOIST,
        axis=Axis.Y,
        line="A",
        start=(0.0, 0.0, 0.0),
        end=(0.0, 1717.0, 0.0),
        width=45.0,
        depth=105.0,
        length=1717.0,
        species="sugi",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=is_seen,
        where="frame.joist",
    )


def lap(face: Face, begin: float, finish: float, depth: float) -> Cut:
    return Cut(
        member=Mark("A1-3"),
        kind=CutKind.LAP,
        face=face,
        begin=begin,
        finish=finish,
        depth=depth,
        height=0.0,
        angle_deg=0.0,
        joint="A1.lap-over",
    )


def prism_area(profile, width: float) -> float:
    """Surface of a prism: both profiles and the way round times its width."""
    return 2 * profile.area + profile.length * width


@pytest.mark.parametrize(
    "cuts",
    [
        [],
        [(Face.BOTTOM, 0.0, 90.0, 52.5)],
        [(Face.BOTTOM, 0.0, 90.0, 52.5), (Face.TOP, 800.0, 890.0, 33.0), (Face.BOTTOM, 1627.0, 1717.0, 52.5)],
        [(Face.TOP, 411.0, 501.0, 61.0)],
    ],
)
def test_a_lapped_timber_has_the_surface_of_its_prism(cuts):
    m = timber()
    profile = box(0, 0, m.length, m.depth)
    for face, begin, finish, depth in cuts:
        low = m.depth - depth if face is Face.TOP else 0.0
        profile = profile.difference(box(begin, low, finish, low + depth))
    faces = member_faces(m, [lap(*cut) for cut in cuts])
    assert faces.whole == pytest.approx(prism_area(profile, m.width), rel=1e-9)


def test_a_notch_in_a_side_has_the_surface_of_its_prism():
    m = timber()
    profile = box(0, 0, m.length, m.width).difference(box(300.0, 0.0, 390.0, 15.0))
    faces = member_faces(m, [lap(Face.LEFT, 300.0, 390.0, 15.0)])
    assert faces.whole == pytest.approx(prism_area(profile, m.depth), rel=1e-9)


@pytest.mark.parametrize("height", [105.0, 60.0])
def test_a_housing_adds_its_walls_and_shelf(height):
    """Counted face by face: two walls, one shelf unless it goes right through, less the wood gone from the top."""
    m, length, depth = timber(), 45.0, 15.0
    cut = replace(lap(Face.RIGHT, 300.0, 345.0, depth), kind=CutKind.HOUSING, height=height)
    plain = 2 * (45 * 105 + 45 * 1717 + 105 * 1717)
    is_through = height == 105.0
    expected = plain + 2 * depth * height - length * depth * (2 if is_through else 0)
    assert member_faces(m, [cut]).whole == pytest.approx(expected, rel=1e-12)


def test_the_faces_of_a_joint_are_told_apart():
    faces = member_faces(timber(), [lap(Face.BOTTOM, 0.0, 90.0, 52.5)])
    assert faces.joint == pytest.approx(90 * 45 + 52.5 * 45)
    assert faces.end == pytest.approx(2 * 45 * 105 - 45 * 52.5)


def test_end_cuts_change_nothing():
    end = replace(lap(Face.END, 1717.0, 1717.0, 0.0), kind=CutKind.SQUARE_END)
    assert member_faces(timber(), [end]) == member_faces(timber(), [])


def test_only_the_sides_of_a_seen_timber_are_seen():
    hidden, seen = member_faces(timber(), []), member_faces(timber(is_seen=True), [])
    assert hidden.seen == 0
    assert seen.seen == pytest.approx(2 * 105 * 1717)
    assert seen.hidden == pytest.approx(2 * 45 * 1717)
    assert seen.whole == pytest.approx(hidden.whole)


def board(outline, *, is_shaped: bool) -> BoardPiece:
    xs = [x for x, _ in outline]
    ys = [y for _, y in outline]
    return BoardPiece(
        mark="b1.1",
        row=1,
        index=1,
        outline=tuple(outline),
        start=(min(xs), sum(ys) / len(ys)),
        end=(max(xs), sum(ys) / len(ys)),
        length=max(xs) - min(xs),
        width=max(ys) - min(ys),
        is_ripped=False,
        is_shaped=is_shaped,
        start_on_joist=None,
        end_on_joist=None,
    )


def test_a_whole_board_is_a_box():
    faces = board_faces(
        board([(0, 0), (1811, 0), (1811, 117), (0, 117)], is_shaped=False), thickness=30.0, direction=0.0, open_edges=0
    )
    assert faces.whole == pytest.approx(2 * (30 * 117 + 30 * 1811 + 117 * 1811), rel=1e-12)
    assert faces.seen == pytest.approx(117 * 1811)
    assert faces.end == pytest.approx(2 * 30 * 117)


@pytest.mark.parametrize("direction", [0.0, 90.0, 31.0])
def test_a_board_cut_aslant_is_a_prism(direction):
    turn = math.radians(direction)
    flat = [(0.0, 0.0), (1500.0, 0.0), (1400.0, 117.0), (0.0, 117.0)]
    outline = [(x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in flat]
    faces = board_faces(board(outline, is_shaped=True), thickness=30.0, direction=direction, open_edges=0)
    area = (1500 + 1400) / 2 * 117
    slant = math.hypot(100, 117)
    assert faces.whole == pytest.approx(2 * area + 30 * (1500 + 1400 + 117 + slant), rel=1e-9)
    assert faces.end == pytest.approx(30 * (117 + slant), rel=1e-9)


def test_the_outer_boards_show_one_edge_each():
    job = make_job()
    built = make_built(job)
    rows = sorted({p.row for p in built.layout.pieces})
    tops = sum(p.length * p.width for p in built.layout.pieces)
    edges = sum(p.length * 30.0 for p in built.layout.pieces if p.row in (rows[0], rows[-1]))
    assert total_faces(find_faces(job, built)).seen == pytest.approx(tops + edges, rel=1e-12)


def test_posts_are_seen_all_round_or_not_at_all():
    assert stick_faces(90.0, 105.0, 311.0, is_seen=True).seen == pytest.approx(2 * 195 * 311)
    assert stick_faces(90.0, 105.0, 311.0, is_seen=False).hidden == pytest.approx(2 * 195 * 311)


def test_without_cut_joints_the_area_is_that_of_all_boxes():
    job = make_job(style="stacked", joint="bearing", joist=(45.0, 105.0))
    built = make_built(job)
    boxes = [(30.0, p.width, p.length) for p in built.layout.pieces]
    boxes += [(m.width, m.depth, m.length) for m in built.frame.members]
    boxes += [(c.width, c.depth, c.length) for c in built.posts.cuts]
    expected = sum(2 * (b * t + b * length + t * length) for b, t, length in boxes)
    assert total_faces(find_faces(job, built)).whole == pytest.approx(expected, rel=1e-12)
