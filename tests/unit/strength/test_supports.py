"""Bearings, posts, seats, and what would tip."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind
from evenfoot.strength import check_strength, whole
from evenfoot.strength.findings import keep_governing

UNIT = 6.0e-6
BOARDS = UNIT * 30.0 * 105.0 / 110.0


@pytest.fixture
def keep_all(monkeypatch):
    monkeypatch.setattr(whole, "keep_governing", tuple)


def run(plan=None, height=400.0, **job):
    frame = make_frame(plan or Plan())
    return frame, check_strength(make_job(**job), frame, heights(frame, height))


def only(strength, subject, rule, place):
    (found,) = [c for c in strength.checks if (c.subject, c.rule, c.place) == (subject, rule, place)]
    return found


def test_bearing_at_an_end_has_the_end_factor_of_the_weaker_wood(keep_all):
    plan = replace(Plan(), beam=timber(105.0, 105.0, species="sugi"))
    _, strength = run(plan, height=0.0, person=1.0)
    found = only(strength, "B1-2", "bearing", "B1")
    # The strip of boards past the joist's end bears on the same seat.
    load = (UNIT * 45 * 90 * 1210 + (BOARDS + 1800e-6) * 455.0 * (1210 + 105)) / 2
    assert found.demand == pytest.approx(load / (45.0 * 105.0), rel=1e-9)
    # The joist ends here (0.8 of 7.8), the beam runs through (6.0): the beam is the weaker.
    assert found.capacity == pytest.approx(1.1 / 3 * 0.7 * min(0.8 * 7.8, 6.0), rel=1e-9)
    assert found.fact("load_n") == pytest.approx(load, abs=0.5)


def test_a_post_head_presses_the_beam_across_the_grain(keep_all):
    frame, strength = run(height=400.0, person=1.0)
    found = only(strength, "1A-C", "post-head", "P1")
    force = next(p.force for p in strength.post_loads if p.mark == "P1" and p.case == "long")
    assert found.demand == pytest.approx(force / 105.0**2, rel=1e-9)
    assert found.capacity == pytest.approx(0.8 * 1.1 / 3 * 0.7 * 7.8, rel=1e-9)
    assert frame.posts[0].mark == "P1"


def test_a_post_buckles_over_twice_its_height_since_nothing_holds_its_top(keep_all):
    _, strength = run(height=1100.0, person=1.0)
    slender = 2 * 1100.0 / (105.0 / 12**0.5)
    found = only(strength, "P1", "slenderness", "P1")
    assert found.demand == pytest.approx(slender, rel=1e-9)
    assert found.capacity == 150.0
    found = only(strength, "P1", "buckling", "P1")
    force = next(p.force for p in strength.post_loads if p.mark == "P1" and p.case == "long")
    assert found.demand == pytest.approx(force / 105.0**2, rel=1e-9)
    assert found.capacity == pytest.approx((1.3 - 0.01 * slender) * 1.1 / 3 * 0.7 * 20.7, rel=1e-9)
    assert found.case == "long"


def test_a_post_too_slender_fails(keep_all):
    _, strength = run(height=2300.0)
    found = only(strength, "P1", "slenderness", "P1")
    assert found.verdict is Verdict.FAILS
    assert found.remedy == "thicker-post"


def test_a_post_that_does_not_fit_is_not_checked():
    _, strength = run(height=-20.0)
    found = [c for c in strength.checks if c.rule == "buckling-unknown"]
    assert [c.subject for c in found] == ["P1", "P2", "P3", "P4"]
    assert {(c.verdict, c.reason) for c in found} == {(Verdict.NOT_CHECKED, "post-has-no-height")}


@pytest.mark.parametrize(("height", "count"), [(599.0, 0), (600.0, 4)])
def test_from_600_mm_the_trade_ties_posts(height, count):
    _, strength = run(height=height)
    found = [c for c in strength.checks if c.rule == "tall-posts"]
    assert len(found) == (1 if count else 0)
    if found:
        assert (found[0].verdict, found[0].remedy, found[0].fact("places")) == (
            Verdict.NOT_CHECKED,
            "tie-posts",
            count,
        )


def test_a_joist_that_would_tip_names_the_hold_down_it_needs():
    """A long tip on a short joist: by levers about the second beam."""
    plan = replace(Plan(), reach=(0.0, 1810.0))
    _, strength = run(plan, height=0.0)
    found = next(c for c in strength.checks if c.rule == "tipping" and c.reason == "hold-down-not-entered")
    assert found.verdict is Verdict.NOT_CHECKED
    assert (found.case, found.remedy) == ("person", "hold-down")
    # The lightest joist needs the most: an edge joist, half the width.
    own, dead = UNIT * 45 * 90, BOARDS * (455.0 / 2 + 22.5)
    pull = (1000.0 * 600.0 - (own + dead) * 1810.0 * (905.0 - 600.0) - dead * 52.5 * 1210.0) / 1210.0
    assert found.demand == pytest.approx(pull, rel=1e-6)
    assert found.fact("places") == 3


def test_a_beam_that_would_tip_off_its_posts_fails():
    plan = replace(Plan(), posts=(0.0, 150.0))
    _, strength = run(plan, height=0.0)
    found = next(c for c in strength.checks if c.rule == "tipping" and c.verdict is Verdict.FAILS)
    assert found.place in {"P1", "P3"}
    assert found.demand > 0.0
    assert found.remedy == "hold-down"


@pytest.mark.parametrize(("depth", "verdict"), [(134.9, Verdict.FAILS), (135.0, Verdict.OK)])
def test_a_housed_joist_wants_30_mm_of_wood_under_its_seat(depth, verdict, keep_all):
    plan = replace(
        Plan(), kind=JointKind.HOUSING, cut=(0.0, 15.0), beam=timber(105.0, depth), joist=timber(45.0, 105.0)
    )
    frame = make_frame(plan)
    joints = tuple(replace(j, seat=15.0, seat_depth=105.0) if j.kind is JointKind.HOUSING else j for j in frame.joints)
    strength = check_strength(make_job(), replace(frame, joints=joints), heights(frame))
    found = only(strength, "1A-C", "seat-wood", "B1")
    assert (found.verdict, found.demand) == (verdict, 30.0)
    assert found.capacity == pytest.approx(depth - 105.0)


def test_a_seat_with_no_wood_under_it_fails():
    plan = replace(Plan(), kind=JointKind.HOUSING, cut=(0.0, 15.0), joist=timber(45.0, 105.0))
    frame = make_frame(plan)
    joints = tuple(replace(j, seat=15.0, seat_depth=105.0) if j.kind is JointKind.HOUSING else j for j in frame.joints)
    strength = check_strength(make_job(), replace(frame, joints=joints), heights(frame))
    found = next(c for c in strength.checks if c.rule == "seat-wood")
    assert (found.verdict, found.capacity, found.ratio) == (Verdict.FAILS, 0.0, None)


def test_splices_over_a_bearing_of_each_piece_pass_no_load():
    from strength_factory import Splice

    frame = make_frame(Plan())
    splice = Splice(first="A1-2", second="B1-2", over="1A-C", x=0.0, y=0.0)
    strength = check_strength(make_job(), replace(frame, splices=(splice,)), heights(frame))
    found = next(c for c in strength.checks if c.rule == "splices-borne")
    assert (found.verdict, found.fact("places")) == (Verdict.OK, 1)


def test_keeping_the_governing_drops_only_what_is_ok_and_small():
    _, strength = run(replace(Plan(), reach=(0.0, 1810.0)))
    again = keep_governing(strength.checks)
    assert [c for c in again if c.verdict is not Verdict.OK] == [
        c for c in strength.checks if c.verdict is not Verdict.OK
    ]


@pytest.mark.parametrize(("overhang", "factor"), [(142.4, 0.8), (142.6, 1.0)])
def test_an_upper_timber_bears_at_its_end_until_its_depth_lies_beyond_the_seat(overhang, factor, keep_all):
    """Seat 105, half of it is 52.5; the joist is 90 deep."""
    plan = replace(Plan(), reach=(-overhang, 1210.0 + overhang), run=(-300.0, 1210.0))
    _, strength = run(plan, height=0.0, person=1.0)
    assert only(strength, "B1-2", "bearing", "B1").fact("end_factor") == factor


@pytest.mark.parametrize(("overhang", "factor"), [(127.4, 0.8), (127.6, 1.0)])
def test_a_lower_timber_bears_at_its_end_until_its_depth_lies_beyond_the_joist(overhang, factor, keep_all):
    """The joist is 45 wide, half of it is 22.5; the beam is 105 deep."""
    plan = replace(Plan(), reach=(-300.0, 1510.0), run=(-overhang, 910.0 + overhang))
    _, strength = run(plan, height=0.0, person=1.0)
    assert only(strength, "A1-2", "bearing", "A1").fact("end_factor") == factor


@pytest.mark.parametrize(("height", "is_doubted"), [(1514.0, False), (1517.0, True)])
def test_beyond_a_slenderness_of_100_the_formula_is_named_as_unconfirmed(height, is_doubted, keep_all):
    """Twice the height over 105 / sqrt(12) passes 100 at 1515.5 mm."""
    _, strength = run(height=height, person=1.0)
    doubts = only(strength, "P1", "buckling", "P1").fact("doubts")
    assert ("eta above 100" in doubts) is is_doubted
