"""Cut sections: which face is pulled, what the rule allows, and what is said beyond it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind
from evenfoot.strength import check_strength

UNIT = 6.0e-6
BOARDS = UNIT * 30.0 * 105.0 / 110.0
SQUARE = timber(105.0, 105.0)
FLUSH = Plan(
    joists=(0.0, 455.0, 910.0),
    beams=(52.5, 1157.5),
    posts=(0.0, 910.0),
    reach=(0.0, 1210.0),
    run=(-52.5, 962.5),
    kind=JointKind.LAP_OVER,
    cut=(52.5, 52.5),
    joist=SQUARE,
    beam=SQUARE,
)


def run(plan, height=0.0, **job):
    frame = make_frame(plan)
    return check_strength(make_job(**job), frame, heights(frame, height))


def of(strength, subject, *rules):
    return [c for c in strength.checks if c.subject == subject and c.rule in rules]


def test_every_half_lapped_end_is_outside_the_rule_and_named():
    strength = run(FLUSH)
    for joist in "ABC":
        (found,) = of(strength, f"{joist}1-2", "end-notch-depth")
        assert found.verdict is Verdict.OUTSIDE_RULE
        assert (found.demand, found.capacity) == (52.5, pytest.approx(35.0))
        assert found.ratio == pytest.approx(1.5)
        assert found.place == f"{joist}1, {joist}2"
        assert found.remedy == "cure-notch"
        assert set(found.fact("cures").split()) == {
            "post-under-both",
            "shallower-seat",
            "screws-across-grain",
            "deeper-timber",
        }
        assert found.fact("deeper_mm") == pytest.approx(3 * 52.5)
        assert found.fact("side_code") == "side.underside"


def test_no_check_claims_ok_for_a_section_beyond_the_rule():
    strength = run(FLUSH)
    assert not of(strength, "B1-2", "end-notch", "notch-bending", "notch-shear")
    for c in of(strength, "B1-2", "bending", "shear"):
        at = c.fact("at_mm")
        assert 105.0 <= at <= 1105.0, "whole sections lie clear of the laps"


@pytest.mark.parametrize(("notch", "verdict"), [(35.0, Verdict.OK), (35.001, Verdict.OUTSIDE_RULE)])
def test_a_seat_of_a_third_is_checked_and_a_hair_more_is_outside(notch, verdict):
    strength = run(replace(FLUSH, cut=(notch, 105.0 - notch)), person=1.0)
    found = of(strength, "B1-2", "end-notch", "end-notch-depth")
    assert {c.verdict for c in found} == {verdict}


def test_shear_at_a_shallow_end_notch_is_that_of_the_rule():
    strength = run(replace(FLUSH, cut=(30.0, 75.0)), person=1.0)
    w = UNIT * 105.0**2 + (BOARDS + 1800e-6) * 455.0
    found = of(strength, "B1-2", "end-notch")[0]
    # Shear just inside the bearing (52.5 from the end), the far end carries half of all.
    shear = w * 1210.0 / 2 - w * 52.5
    rest = 105.0 * 75.0
    assert found.case == "long"
    assert found.demand == pytest.approx(1.5 * shear / (rest**2 / 105.0**2), rel=1e-9)
    assert found.capacity == pytest.approx(1.1 / 3 * 0.7 * 2.1, rel=1e-9)


def test_a_beam_cut_from_above_between_posts_is_pressed_there_and_bears_with_what_is_left():
    strength = run(replace(FLUSH, cut=(30.0, 60.0)), person=1.0)
    joist = UNIT * 105.0**2 * 1210.0 + (BOARDS + 1300e-6) * 455.0 * 1210.0
    w = UNIT * 105.0**2
    moment = joist / 2 * 910.0 / 4 + w * 910.0**2 / 8 - w * 52.5**2 / 2
    found = next(c for c in of(strength, "1A-C", "notch-bending") if c.place == "B1")
    assert found.verdict is Verdict.OK
    assert found.fact("side_code") == "side.top"
    assert found.demand == pytest.approx(moment / (105.0 * 45.0**2 / 6), rel=1e-9)


def test_a_beam_cut_from_above_over_an_inner_post_is_pulled_there():
    """Over an inner post the top is in tension: beyond a third nothing is claimed, within it 0.45 Z0 bears."""
    plan = replace(FLUSH, joists=(0.0, 455.0, 910.0, 1365.0, 1820.0), posts=(0.0, 910.0, 1820.0), run=(-52.5, 1872.5))
    strength = run(plan, person=1.0)
    found = next(c for c in of(strength, "1A-E", "notch-depth"))
    assert found.verdict is Verdict.OUTSIDE_RULE
    assert found.place == "C1"
    assert found.fact("pull_percent") > 1
    shallow = run(replace(plan, cut=(75.0, 30.0)), person=1.0)
    # Two spans with a load at each middle: 3/16 P L over the post, and the beam's own weight.
    inner = next(c for c in shallow.checks if c.subject == "1A-E" and c.rule == "notch-bending" and c.place == "C1")
    load = (UNIT * 105.0**2 * 1210.0 + (BOARDS + 1300e-6) * 455.0 * 1210.0) / 2
    moment = 3 / 16 * load * 910.0 + UNIT * 105.0**2 * 910.0**2 / 8
    assert inner.demand == pytest.approx(moment / (0.45 * 105.0 * 75.0**2 / 6), rel=0.08)


def test_turning_the_lap_moves_the_notch_to_the_top_past_a_set_back_post():
    plan = replace(FLUSH, under=(0, 2), post_shift=130.0)
    strength = run(plan)
    (found,) = of(strength, "A1-2", "end-notch-depth")
    assert found.verdict is Verdict.OUTSIDE_RULE
    assert found.fact("side_code") == "side.top"
    assert found.place == "A1, A2"
    # And the beam now has the underside notch over the joist that carries it.
    (beam,) = of(strength, "1A-C", "end-notch-depth")
    assert beam.fact("side_code") == "side.underside"


def test_a_post_under_both_timbers_leaves_the_lower_one_unpulled():
    strength = run(replace(FLUSH, under=(0, 2), post_shift=0.0))
    assert not of(strength, "A1-2", "end-notch-depth", "notch-depth")


def test_housings_on_both_sides_of_a_beam_take_their_width():
    plan = replace(FLUSH, kind=JointKind.HOUSING, cut=(0.0, 15.0), reach=(52.5, 1157.5))
    one = run(plan, person=1.0)
    found = next(c for c in one.checks if c.rule == "notch-bending" and c.place == "B1")
    joist = UNIT * 105.0**2 * 1105.0 + (BOARDS + 1300e-6) * 455.0 * 1105.0
    strip = (BOARDS + 1300e-6) * 455.0 * 52.5
    w = UNIT * 105.0**2
    moment = (joist / 2 + strip) * 910.0 / 4 + w * 910.0**2 / 8 - w * 52.5**2 / 2
    assert found.demand == pytest.approx(moment / ((105.0 - 15.0) * 105.0**2 / 6), rel=1e-6)
    frame = make_frame(plan)
    again = tuple(replace(j, mark=f"{j.mark}+") for j in frame.joints if j.lower == "1A-C" and j.upper == "B1-2")
    both = check_strength(make_job(person=1.0), replace(frame, joints=frame.joints + again), heights(frame, 0.0))
    found = next(c for c in both.checks if c.rule == "notch-bending" and c.place == "B1")
    assert found.fact("notch_mm") == 30.0


def test_all_findings_at_laps_have_a_place():
    strength = run(replace(FLUSH, under=(1,)))
    for c in strength.checks:
        if "notch" in c.rule:
            assert c.place
            assert c.case


def test_a_second_bearing_beside_the_notch_relieves_the_upper_end():
    """A post close under the joist itself: the load no longer has to pass its end notch."""
    frame = make_frame(FLUSH)
    head = next(j for j in frame.joints if j.kind is JointKind.POST_HEAD)
    extra = replace(head, mark="Q1.post-head", upper="B1-2", lower="Q1", at_upper=150.0)
    place = replace(frame.posts[0], mark="Q1", under="B1-2")
    propped = replace(frame, joints=(*frame.joints, extra), posts=(*frame.posts, place))
    strength = check_strength(make_job(), propped, heights(propped, 0.0))
    (found,) = of(strength, "B1-2", "end-notch-depth")
    assert found.place == "B2"


def test_a_pull_of_next_to_nothing_is_none():
    """A lap right over a post, half a timber from the joist's end: a person on that end pulls 2 % only."""
    strength = run(replace(FLUSH, under=(0, 2), post_shift=0.0))
    assert not [c for c in strength.checks if c.subject == "A1-2" and c.verdict is Verdict.OUTSIDE_RULE]
    far = replace(FLUSH, under=(0, 2), post_shift=0.0, beams=(400.0, 900.0))
    pulled = of(run(far), "A1-2", "notch-depth")
    assert pulled
    assert pulled[0].fact("pull_percent") >= 5


def test_a_notch_beyond_the_rule_that_fails_on_its_bare_section_fails():
    """Beyond the rule nothing is passed, but what the net section alone cannot bear is a failure and said as one."""
    plan = replace(FLUSH, joists=(0.0, 700.0, 1400.0, 2100.0), posts=(700.0, 1400.0), run=(-52.5, 2152.5))
    strength = run(plan)
    found = next(c for c in of(strength, "1A-D", "bare-bending") if c.place == "B1")
    assert found.verdict is Verdict.FAILS
    (outside,) = of(strength, "1A-D", "notch-depth")
    assert "B1" in outside.place
    # The outer joist with a person on its end, and the beam's own weight, over the post.
    half = UNIT * 105.0**2 * 1210.0 / 2 + BOARDS * (350.0 + 52.5) * 1210.0 / 2
    lever = 700.0
    # The person stands on the joist's end, 52.5 past the beam: the beam takes a little more than the person.
    person = 1000.0 * (1105.0 + 52.5) / 1105.0
    moment = (half + person) * lever + UNIT * 105.0**2 * 752.5**2 / 2
    assert found.demand == pytest.approx(moment / (105.0 * 52.5**2 / 6), rel=1e-6)
    assert found.capacity == pytest.approx(2.0 / 3 * 0.7 * 26.7, rel=1e-9)


def test_a_bare_section_that_holds_proves_nothing_and_is_not_said():
    strength = run(FLUSH)
    assert not [c for c in strength.checks if c.rule in {"bare-bending", "bare-shear"}]


@pytest.mark.parametrize(("person", "is_pulled"), [(2250.0, False), (2330.0, True)])
def test_a_pull_counts_from_a_twentieth_of_the_whole_section(person, is_pulled):
    """A person on the last 52.5 mm past the post: P x 52.5 against 5 % of 12.46 N/mm2 x 192937.5 mm3."""
    strength = run(replace(FLUSH, under=(0, 2), post_shift=0.0), person=person)
    found = of(strength, "A1-2", "notch-depth")
    assert bool(found) is is_pulled
    if found:
        assert found[0].fact("pull_percent") == 5


def test_a_half_lapped_end_carries_the_european_notch_figure_beside_its_limit():
    """EN 1995-1-1, 6.5.2, by hand: alpha 0.5, x half the beam's width, k_n 5, square corner."""
    h, alpha, x = 105.0, 0.5, 52.5
    opening = (alpha * (1 - alpha)) ** 0.5 + 0.8 * x / h * (1 / alpha - alpha**2) ** 0.5
    kv = 5.0 / (h**0.5 * opening)
    plan = replace(
        Plan(),
        beams=(52.5, 1157.5),
        run=(-52.5, 962.5),
        kind=JointKind.LAP_OVER,
        cut=(52.5, 52.5),
        joist=timber(105.0, 105.0),
        beam=timber(105.0, 105.0),
    )
    frame = make_frame(plan)
    strength = check_strength(make_job(), frame, heights(frame))
    ends = [c for c in strength.checks if c.rule == "end-notch-depth"]
    assert {c.subject for c in ends} == {"A1-2", "B1-2", "C1-2"}
    for check in ends:
        assert check.verdict is Verdict.OUTSIDE_RULE
        assert check.fact("kv_percent") == round(100 * kv)
        assert check.fact("limit_mm") == pytest.approx(35.0)
        assert check.fact("side_code") == "side.underside"
        assert 0 < check.fact("en_percent") < 100
    cures = str(ends[0].fact("cures")).split()
    assert cures == ["post-under-both", "shallower-seat", "screws-across-grain", "deeper-timber"]
