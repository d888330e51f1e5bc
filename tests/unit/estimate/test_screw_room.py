"""Room for board screws: at joist ends, over laps, in narrow boards, where boards meet, at free ends."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import make_built, make_job, make_shop, replace

from evenfoot.checks import Verdict
from evenfoot.estimate.fixing import choose_fixings
from evenfoot.estimate.fixing.clamps import Clamp
from evenfoot.estimate.fixing.rests import Rest, find_lines
from evenfoot.frame import JointKind, Role
from evenfoot.layout import Axis

LAPS = (JointKind.LAP_OVER, JointKind.LAP_UNDER)


def checks_of(job, built=None, rule: str = "board-screws"):
    return [c for c in choose_fixings(job, make_shop(), built or make_built(job)).checks if c.rule == rule]


def test_every_crossing_is_looked_at_once():
    for style, joint, direction in (("flush", "lap-over", 0.0), ("stacked", "bearing", 90.0), ("hung", "hanger", 0.0)):
        job = make_job(style=style, joint=joint, direction_deg=direction, size=(7000.0, 2710.0), joist=(45.0, 105.0))
        built = make_built(job)
        assert sum(int(c.fact("count")) for c in checks_of(job, built)) == built.layout.screws


def test_boards_at_an_angle_are_said_not_to_be_reckoned():
    assert not checks_of(make_job(direction_deg=45.0))
    (check,) = checks_of(make_job(direction_deg=45.0), rule="board-screws-aslant")
    assert (check.verdict, check.reason) == (Verdict.NOT_CHECKED, "boards-at-an-angle")


def test_an_inner_board_needs_the_spacing_along_the_joist():
    """120 mm boards, 5 mm gaps, d 4.2: 12 d = 50.4 between two screws, (50.4 - 5)/2 = 22.7 to each edge."""
    found = checks_of(make_job())[-1]
    assert found.verdict is Verdict.OK
    job = make_job(board=(30.0, 100.0), style="stacked", joint="bearing")
    built = make_built(job)
    gap = built.layout.gap
    inner = checks_of(job, built)[-1]
    assert inner.demand == pytest.approx(12 * 4.2)
    assert inner.capacity == pytest.approx(100.0 - (12 * 4.2 - gap))


@pytest.mark.parametrize(("width", "is_ok"), [(96.5, True), (95.0, False)])
def test_both_sides_of_the_least_width(width, is_ok):
    """The least whole board is 2 x 12 d less the gap: about 95.8 mm at a gap of 5 mm."""
    job = make_job(board=(30.0, width), style="stacked", joint="bearing", overhang=150.0)
    built = make_built(job)
    built = replace(built, layout=replace(built.layout, gap=5.0))
    verdicts = {c.verdict for c in checks_of(job, built) if c.fact("width_mm") == pytest.approx(width)}
    assert (Verdict.OUTSIDE_RULE in verdicts) is not is_ok


def test_a_very_narrow_board_fails_with_one_screw_as_remedy():
    job = make_job(board=(30.0, 44.0), style="stacked", joint="bearing")
    job = replace(job, floor=replace(job.floor, board=replace(job.floor.board, rip_min=20.0)))
    failing = [c for c in checks_of(job) if c.verdict is Verdict.FAILS]
    assert failing
    assert {c.remedy for c in failing} <= {"one-screw-or-stagger", "block-under-edge-board"}
    assert failing[0].demand > failing[0].capacity


def lap_floor(overhang: float):
    job = make_job(post_joist="lap-over", overhang=overhang, board=(30.0, 60.0))
    return job, make_built(job)


def test_screws_of_the_edge_board_keep_clear_of_the_tongue_of_an_end_lap():
    """The outer board hangs 30 over the joist end and is 60 wide: no room for two screws 10 d from the end."""
    job, built = lap_floor(30.0)
    worst = checks_of(job, built)[0]
    assert worst.verdict is Verdict.FAILS
    assert worst.remedy == "screw-beside-lap"


def test_a_wide_edge_board_moves_its_screws_inward():
    job = make_job(post_joist="lap-over", board=(30.0, 180.0), overhang=30.0)
    assert {c.verdict for c in checks_of(job)} == {Verdict.OK}


def test_lines_of_a_lapped_frame_rest_on_joists_or_on_beams_let_into_them():
    job = make_job()
    built = make_built(job)
    lines = find_lines(built.layout, built.frame)
    under = {j.lower for j in built.frame.joints if j.kind is JointKind.LAP_UNDER}
    joists = [m for m in built.frame.members if m.role is Role.JOIST]
    assert lines.axis is Axis.Y
    for place, pattern in zip(lines.places, lines.patterns, strict=True):
        joist = next(m for m in joists if abs(m.start[0] - place) < 1)
        beams = [r for r in pattern if not r.is_along]
        if joist.mark in under:
            crossing = [j for j in built.frame.joints if j.lower == joist.mark and j.kind is JointKind.LAP_UNDER]
            assert len(beams) == len(crossing) > 0
            assert sum(r.high - r.low for r in pattern) == pytest.approx(joist.length)
        else:
            assert pattern == (Rest(joist.start[1], joist.end[1], is_along=True),)


def test_lines_of_a_hung_frame_rest_on_beams_between_the_joists():
    job = make_job(style="hung", joint="hanger", joist=(45.0, 105.0))
    built = make_built(job)
    lines = find_lines(built.layout, built.frame)
    beams = [m for m in built.frame.members if m.role is Role.BEAM]
    inner = lines.patterns[1]
    assert sum(not r.is_along for r in inner) == len({m.start[1] for m in beams})
    low, high = built.layout.frame_y
    assert sum(r.high - r.low for r in inner) == pytest.approx(high - low)


def test_lines_of_a_stacked_frame_rest_on_joists_only():
    job = make_job(style="stacked", joint="bearing", joist=(45.0, 105.0))
    built = make_built(job)
    lines = find_lines(built.layout, built.frame)
    assert all(rest.is_along for pattern in lines.patterns for rest in pattern)
    assert lines.beams == ()


def test_board_ends_that_meet_on_a_joist_need_half_of_it_less_half_the_gap():
    """No blocks: 90 mm joist, 5 d from its edge, half of a 3 mm gap: 45 - 21 - 1.5 = 22.5 against 10 d = 42."""
    job = make_job(size=(7000.0, 2710.0), joist=(90.0, 105.0), style="stacked", joint="bearing")
    (check,) = checks_of(job, rule="board-butt-end")
    assert (check.demand, check.capacity) == pytest.approx((42.0, 22.5))
    assert check.verdict is Verdict.OUTSIDE_RULE
    assert check.fact("informative_mm") == pytest.approx(7 * 4.2)
    assert check.fact("informative_room_mm") == pytest.approx(45 - 3 * 4.2 - 1.5)


def test_a_narrow_joist_without_a_block_fails_and_with_one_holds():
    job = make_job(size=(7000.0, 2710.0), joist=(45.0, 105.0), style="stacked", joint="bearing")
    built = make_built(job)
    (held,) = checks_of(job, built, "board-butt-end")
    assert held.verdict is Verdict.OK
    assert held.capacity == pytest.approx(22.5 + 45 - 21 - 1.5)
    members = tuple(m for m in built.frame.members if m.role is not Role.BLOCK)
    bare = replace(built, frame=replace(built.frame, members=members))
    (failing,) = checks_of(job, bare, "board-butt-end")
    assert (failing.verdict, failing.remedy) == (Verdict.FAILS, "sister-block")
    assert failing.capacity == pytest.approx(22.5 - 21 - 1.5)
    joined = sum((p.start_on_joist is not None) + (p.end_on_joist is not None) for p in built.layout.pieces)
    assert failing.fact("count") == joined


def test_a_free_end_counts_from_the_board_end_to_the_far_side_of_the_screw():
    job = make_job(joist=(45.0, 105.0), style="stacked", joint="bearing", overhang=10.0)
    (check,) = checks_of(job, rule="board-free-end")
    assert (check.demand, check.capacity) == pytest.approx((42.0, 10 + 22.5 + 22.5 - 21.0))
    assert check.verdict is Verdict.OUTSIDE_RULE
    wider = make_job(joist=(45.0, 105.0), style="stacked", joint="bearing", overhang=20.0)
    assert checks_of(wider, rule="board-free-end")[0].verdict is Verdict.OK


def test_a_free_end_at_an_angle_is_longer_by_the_slope_of_the_board():
    job = make_job(joist=(45.0, 105.0), style="stacked", joint="bearing", direction_deg=30.0)
    (check,) = checks_of(job, rule="board-free-end")
    built = make_built(job)
    reach = min(
        min(
            abs(end[0] - line)
            for line in built.layout.joist_lines
            if min(p.start[0], p.end[0]) <= line <= max(p.start[0], p.end[0])
        )
        / 0.8660254037844386
        for p in built.layout.pieces
        for end, joined in ((p.start, p.start_on_joist), (p.end, p.end_on_joist))
        if joined is None
        and any(min(p.start[0], p.end[0]) <= line <= max(p.start[0], p.end[0]) for line in built.layout.joist_lines)
    )
    assert check.capacity == pytest.approx(reach + 22.5 - 21.0, abs=1.5)


def test_the_point_of_a_board_screw_stays_inside_the_upper_tongue():
    (check,) = checks_of(make_job(), rule="screw-in-tongue")
    assert (check.demand, check.capacity, check.verdict) == (35.0, 52.5, Verdict.OK)
    shallow = make_job()
    seat = replace(shallow.frame.joints, seat=30.0)
    shallow = replace(shallow, frame=replace(shallow.frame, joints=seat))
    (check,) = checks_of(shallow, rule="screw-in-tongue")
    assert (check.capacity, check.verdict, check.remedy) == (30.0, Verdict.FAILS, "screw-beside-lap")


def test_the_clamp_of_an_end_lap_sits_half_the_other_timber_from_the_end():
    (check,) = checks_of(make_job(), rule="lap-screw-end")
    assert (check.demand, check.capacity, check.verdict) == pytest.approx((10 * 4.5, 45.0, Verdict.OK))
    (check,) = checks_of(make_job(beam=(75.0, 105.0), joist=(75.0, 105.0)), rule="lap-screw-end")
    assert check.capacity == pytest.approx(37.5)
    assert check.verdict is Verdict.OUTSIDE_RULE
    (check,) = checks_of(make_job(beam=(45.0, 105.0), joist=(45.0, 105.0)), rule="lap-screw-end")
    assert check.verdict is Verdict.FAILS
    assert check.remedy == "clamp-from-side"


def test_the_nearer_of_both_timbers_ends_counts_for_the_clamp():
    """A lap at the very corner: 45 mm to the joist's end, 37.5 mm to the beam's."""
    built = make_built(make_job(beam=(90.0, 105.0), joist=(75.0, 105.0)))
    members = {m.mark: m for m in built.frame.members}
    corner = next(j for j in built.frame.joints if j.kind in LAPS and j.is_end_of_upper and j.is_end_of_lower)
    inner = next(j for j in built.frame.joints if j.kind in LAPS and not j.is_end_of_upper and not j.is_end_of_lower)
    clamp = Clamp.at(corner, members[corner.upper], members[corner.lower])
    assert corner.kind is JointKind.LAP_OVER
    assert (clamp.to_end, clamp.narrow) == (37.5, 75.0)
    assert (clamp.upper_tongue, clamp.lower_tongue) == (52.5, 52.5)
    running_on = replace(corner, is_end_of_lower=False)
    assert Clamp.at(running_on, members[corner.upper], members[corner.lower]).to_end == 45.0
    assert Clamp.at(inner, members[inner.upper], members[inner.lower]).to_end is None
