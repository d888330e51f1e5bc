"""How loads find their timbers, and where a person is set."""

from __future__ import annotations

import sys
from itertools import chain
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace

from evenfoot.frame import JointKind, Member, Role
from evenfoot.strength import check_strength, loads
from evenfoot.strength.cuts import Side, find_cuts
from evenfoot.strength.standards import Japan
from evenfoot.strength.statics import draw_skeleton, list_pieces, set_nodes

UNIT = 6.0e-6
WIDE = Plan(joists=(0.0, 300.0, 900.0, 1250.0), posts=(0.0, 600.0, 1250.0), run=(-22.5, 1272.5))


def practice():
    spec = make_job().loads
    return Japan(use=spec.use, wetness=spec.wetness, snow_depth=0.0, is_heavy_snow_area=False, person=1000.0)


def statics_of(plan):
    frame = make_frame(plan)
    woods = {piece: practice().wood(piece) for piece in chain(*list_pieces(frame))}
    skeleton = draw_skeleton(frame, woods, heights(frame))
    return frame, skeleton, set_nodes(skeleton, loads.every_place(skeleton))


def test_each_joist_carries_half_the_way_to_its_neighbours_and_the_overhang():
    frame, skeleton, statics = statics_of(WIDE)
    floor = make_job(overhang=(0.0, 0.0, 40.0, 15.0)).floor
    share = loads.share_loads(frame, floor, statics, UNIT)
    per_joist = {t.member.mark: share.line[statics.timber == t.number][0] for t in skeleton.timbers if t.is_joist}
    # From the board edge (22.5 outer face and 40 overhang left, 22.5 and 15 right).
    assert per_joist["A1-2"] == pytest.approx(62.5 + 150.0)
    assert per_joist["B1-2"] == pytest.approx(150.0 + 300.0)
    assert per_joist["C1-2"] == pytest.approx(300.0 + 175.0)
    assert per_joist["D1-2"] == pytest.approx(175.0 + 37.5)


@pytest.mark.parametrize("kind", [JointKind.BEARING, JointKind.HANGER])
def test_all_of_the_floor_is_carried(kind):
    frame, _, statics = statics_of(replace(WIDE, kind=kind, reach=(52.5, 1157.5)))
    share = loads.share_loads(frame, make_job(overhang=(10.0, 20.0, 40.0, 15.0)).floor, statics, UNIT)
    carried = float((share.line * statics.grid.length).sum() + share.at_levels.sum())
    width, depth = 1250.0 + 45.0 + 55.0, 1210.0 + 105.0 + 30.0
    assert share.area == pytest.approx(width * depth, rel=1e-12)
    assert carried == pytest.approx(share.area, rel=1e-12)


def test_boards_over_a_beam_weigh_on_the_beam_where_joists_stop_at_its_side():
    plan = replace(WIDE, kind=JointKind.HANGER, reach=(52.5, 1157.5))
    frame, skeleton, statics = statics_of(plan)
    share = loads.share_loads(frame, make_job().floor, statics, UNIT)
    beam = next(t for t in skeleton.timbers if t.member.mark == "1A-D")
    nodes = range(statics.first_node[beam.number], statics.first_node[beam.number + 1])
    on_beam = sum(share.at_levels[statics.grid.level[n]] for n in nodes)
    assert on_beam == pytest.approx((1250.0 + 45.0) * 105.0, rel=1e-12)


def test_blocking_weighs_as_if_spread_over_the_floor():
    frame, _, statics = statics_of(WIDE)
    sample = frame.members[-1]
    block: Member = replace(sample, mark="k1", role=Role.BLOCK, length=255.0)
    blocked = replace(frame, members=(*frame.members, block))
    floor = make_job().floor
    bare = loads.share_loads(frame, floor, statics, UNIT)
    more = loads.share_loads(blocked, floor, statics, UNIT)
    assert (more.dead - bare.dead) * more.area == pytest.approx(45.0 * 90.0 * 255.0 * UNIT, rel=1e-9)


def test_a_person_is_set_on_tips_bearings_middles_and_beside_bearings():
    _, skeleton, _ = statics_of(replace(Plan(), reach=(-210.0, 1330.0)))
    walk = loads.every_place(skeleton)
    joist = next(t.number for t in skeleton.timbers if t.member.mark == "B1-2")
    at = [place for number, place in walk if number == joist]
    assert at == [0.0, 210.0, 300.0, 815.0, 1330.0, 1420.0, 1540.0]
    assert {n for n, _ in walk} == {t.number for t in skeleton.timbers if t.is_joist}


def test_joists_in_pieces_between_three_beams_share_the_boards_over_the_middle_one():
    """Boards over the middle beam weigh on it half from each side; all of the floor is carried once."""
    plan = replace(WIDE, kind=JointKind.HANGER, beams=(0.0, 1000.0, 2210.0), reach=(52.5, 2157.5))
    frame = make_frame(plan)
    members, joints = [], []
    for m in frame.members:
        if m.role is not Role.JOIST:
            members.append(m)
            continue
        for mark, low, high in ((f"{m.mark[0]}1-2", 52.5, 947.5), (f"{m.mark[0]}2-3", 1052.5, 2157.5)):
            ends = {"start": (m.start[0], low, 0.0), "end": (m.end[0], high, 0.0)}
            members.append(replace(m, mark=mark, length=high - low, **ends))
            for beam, at in ((low, 0.0), (high, high - low)):
                line = {52.5: 0, 947.5: 1, 1052.5: 1, 2157.5: 2}[beam]
                joint = next(j for j in frame.joints if j.upper == m.mark and j.lower.startswith(str(line + 1)))
                joints.append(replace(joint, mark=f"{joint.mark}{low}", upper=mark, at_upper=at))
    heads = [j for j in frame.joints if j.kind is JointKind.POST_HEAD]
    cut = replace(frame, members=tuple(members), joints=(*joints, *heads))
    strength = check_strength(make_job(person=1.0), cut, heights(cut))
    area = (1250.0 + 45.0) * (2210.0 + 105.0)
    by_case = [sum(p.force for p in strength.post_loads if p.case == case) for case in ("dead", "long")]
    assert by_case[1] - by_case[0] == pytest.approx(1300e-6 * area, rel=1e-9)
    woods = {piece: practice().wood(piece) for piece in chain(*list_pieces(cut))}
    statics = set_nodes(draw_skeleton(cut, woods, heights(cut)), ())
    share = loads.share_loads(cut, make_job().floor, statics, UNIT)
    middle = next(t for t in statics.skeleton.timbers if t.member.mark.startswith("2A"))
    nodes = range(statics.first_node[middle.number], statics.first_node[middle.number + 1])
    assert sum(share.at_levels[statics.grid.level[n]] for n in nodes) == pytest.approx(1295.0 * 105.0, rel=1e-9)
    assert strength.is_complete is False


@pytest.mark.parametrize(("overhang", "is_walked"), [(20.0, False), (20.2, True)])
def test_an_overhang_is_walked_on_from_20_mm(overhang, is_walked):
    _, skeleton, _ = statics_of(replace(Plan(), reach=(-overhang, 1210.0)))
    at = [place for _, place in loads.every_place(skeleton)]
    assert (0.0 in at) is is_walked


@pytest.mark.parametrize(("span", "count"), [(360.0, 3), (361.0, 5)])
def test_beside_bearings_counts_in_spans_over_four_depths(span, count):
    _, skeleton, _ = statics_of(replace(Plan(), beams=(0.0, span), reach=(0.0, span)))
    joist = next(t.number for t in skeleton.timbers if t.is_joist)
    assert len([n for n, _ in loads.every_place(skeleton) if n == joist]) == count


def test_a_cut_is_as_long_as_the_timber_that_crosses():
    plan = replace(Plan(), kind=JointKind.LAP_OVER, cut=(30.0, 60.0), reach=(-300.0, 1510.0), run=(-300.0, 1210.0))
    _, skeleton, _ = statics_of(plan)
    found = [c for c in find_cuts(skeleton) if c.joint.mark == "B1.lap-over"]
    by_side = {c.side: (c.low, c.at, c.high, c.notch, c.is_end_notch) for c in found}
    assert by_side[Side.UNDERSIDE] == (300.0 - 52.5, 300.0, 300.0 + 52.5, 30.0, False)
    assert by_side[Side.TOP] == (755.0 - 22.5, 755.0, 755.0 + 22.5, 60.0, False)
