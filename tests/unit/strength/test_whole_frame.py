"""Whole small frames against statics done by hand, and what is said where nothing is reckoned."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, heights, make_frame, make_job, replace, timber

from evenfoot.checks import Verdict
from evenfoot.frame import Frame, JointKind
from evenfoot.strength import check_strength

UNIT = 6.0e-6
"""Wet timber [N/mm3]."""
BOARDS = UNIT * 30.0 * 105.0 / 110.0


def check(strength, subject, rule):
    found = [c for c in strength.checks if c.subject == subject and c.rule == rule]
    assert len(found) == 1, [(c.subject, c.rule) for c in strength.checks]
    return found[0]


def run(plan=None, height=0.0, **job):
    frame = make_frame(plan or Plan())
    return frame, check_strength(make_job(**job), frame, heights(frame, height))


def own(spec):
    return UNIT * spec.width * spec.depth


def total_weight(frame: Frame, job_area: float) -> float:
    timbers = sum(m.width * m.depth * m.length for m in frame.members) * UNIT
    return timbers + BOARDS * job_area


def test_a_middle_joist_is_bent_as_a_simple_span():
    """Even load long (i column) against one person: the person governs here, w L2/8 + P L/4."""
    _, strength = run()
    w = own(Plan().joist) + BOARDS * 455.0
    moment = w * 1210.0**2 / 8 + 1000.0 * 1210.0 / 4
    found = check(strength, "B1-2", "bending")
    assert found.case == "person"
    assert found.demand == pytest.approx(moment / (45.0 * 90.0**2 / 6), rel=1e-9)
    assert found.capacity == pytest.approx(2.0 / 3 * 0.7 * 26.7, rel=1e-9)
    assert found.place == "B1-B2"
    assert found.fact("percent") == round(100 * found.demand / found.capacity) == 42
    assert found.fact("at_mm") == pytest.approx(605.0)


def test_without_a_person_the_lasting_load_governs():
    _, strength = run(person=1.0)
    w = own(Plan().joist) + (BOARDS + 1800e-6) * 455.0
    found = check(strength, "B1-2", "bending")
    assert found.case == "long"
    assert found.demand == pytest.approx(w * 1210.0**2 / 8 / (45.0 * 90.0**2 / 6), rel=1e-9)
    assert found.capacity == pytest.approx(1.1 / 3 * 0.7 * 26.7, rel=1e-9)
    shear = check(strength, "B1-2", "shear")
    assert shear.demand == pytest.approx(1.5 * w * 1210.0 / 2 / (45.0 * 90.0), rel=1e-9)
    assert shear.capacity == pytest.approx(1.1 / 3 * 0.7 * 2.1, rel=1e-9)


def test_a_person_beside_the_bearing_gives_the_shear():
    _, strength = run(person=2000.0)
    w = own(Plan().joist) + BOARDS * 455.0
    found = check(strength, "B1-2", "shear")
    assert found.case == "person"
    at = 90.0  # one depth from the bearing
    assert found.demand == pytest.approx(1.5 * (w * 1210 / 2 + 2000.0 * (1210 - at) / 1210) / (45.0 * 90.0), rel=1e-9)


def test_beams_take_the_ro_column_and_stand_on_their_posts():
    """Beams on posts under the edge joists: the middle joist's reaction bends the beam at its middle."""
    _, strength = run(person=1.0)
    # Boards reach to the outer faces of the beams, half a beam past the joist's bearings.
    joist = own(Plan().joist) * 1210.0 + (BOARDS + 1300e-6) * 455.0 * (1210.0 + 105.0)
    w = own(Plan().beam)
    moment = joist / 2 * 910.0 / 4 + w * 910.0**2 / 8 - w * 22.5**2 / 2
    found = check(strength, "1A-C", "bending")
    assert found.case == "long"
    assert found.demand == pytest.approx(moment / (105.0 * 105.0**2 / 6), rel=1e-9)
    assert found.capacity == pytest.approx(1.1 / 3 * 0.7 * 26.7, rel=1e-9)


def test_sag_is_that_of_the_simple_span_that_bends_and_shears():
    _, strength = run()
    w = own(Plan().joist) + (BOARDS + 600e-6) * 455.0
    bending = 5 * w * 1210.0**4 / (384 * 9000.0 * 45.0 * 90.0**3 / 12)
    shear = 1.2 * w * 1210.0**2 / (8 * 600.0 * 45.0 * 90.0)
    # The beam under it sags too, but sag is counted from the joist's own bearings.
    sag = next(s for s in strength.sags if s.mark == "B1-2")
    assert sag.sag == pytest.approx(bending + shear, rel=1e-9)
    assert (sag.span, sag.at) == (1210.0, pytest.approx(605.0))
    found = check(strength, "B1-2", "sag")
    assert found.capacity == pytest.approx(1210.0 / 250 / 2, rel=1e-12)
    assert found.demand == sag.sag


def test_post_loads_carry_the_whole_floor():
    frame, strength = run(overhang=(20.0, 30.0, 40.0, 10.0))
    assert len(frame.posts) == 4
    # Boards reach from the outer faces of the frame and the overhangs.
    area = (955.0 + 50.0) * (1315.0 + 50.0)
    by_case = {}
    for load in strength.post_loads:
        by_case[load.case] = by_case.get(load.case, 0.0) + load.force
    assert by_case["dead"] == pytest.approx(total_weight(frame, area), rel=1e-9)
    assert by_case["long"] == pytest.approx(total_weight(frame, area) + 1300e-6 * area, rel=1e-9)
    assert set(by_case) == {"dead", "long", "person"}


def test_a_falling_floor_carries_the_load_of_its_plan():
    frame, strength = run(replace(Plan(), fall=1 / 40), overhang=(0.0, 0.0, 20.0, 20.0))
    area = 995.0 * 1315.0
    found = sum(p.force for p in strength.post_loads if p.case == "long")
    assert found == pytest.approx(total_weight(frame, area) + 1300e-6 * area, rel=1e-9)


def test_a_person_on_a_post_presses_it_by_their_weight():
    _, strength = run()
    dead = {p.mark: p.force for p in strength.post_loads if p.case == "dead"}
    person = {p.mark: p.force for p in strength.post_loads if p.case == "person"}
    assert person["P1"] == pytest.approx(dead["P1"] + 1000.0, rel=1e-6)


def test_the_whole_is_never_complete_while_sway_is_open():
    _, strength = run()
    assert not strength.is_complete
    open_ = {c.rule: c.reason for c in strength.checks if c.verdict is Verdict.NOT_CHECKED}
    assert open_["sway"] == "holding-not-said"
    assert {"post-foot", "footing-pressure"} <= set(open_)


def test_a_wood_outside_the_standard_is_said_for_every_kind_of_check():
    plan = replace(Plan(), joist=timber(45.0, 90.0, species="ipe"))
    frame = make_frame(plan)
    strength = check_strength(make_job(), frame, heights(frame))
    found = [c for c in strength.checks if c.reason == "species-not-in-standard"]
    assert [c.fact("kind_code") for c in found] == [
        f"kind.{k}" for k in ("bending", "shear", "notches", "bearing", "posts", "sag")
    ]
    assert {c.fact("found") for c in found} == {"ipe"}
    assert any(c.rule == "board-bending" for c in strength.checks)
    boards = check_strength(make_job(board_species="teak"), make_frame(Plan()), heights(frame))
    assert check(boards, "boards", "unchecked").reason == "species-not-in-standard"
    assert check(boards, "B1-2", "bending")


def test_a_joist_on_one_beam_is_a_mechanism_and_nothing_else_is_claimed():
    frame = make_frame(Plan())
    joints = tuple(j for j in frame.joints if not (j.upper == "B1-2" and j.lower == "2A-C"))
    strength = check_strength(make_job(), replace(frame, joints=joints), heights(frame))
    found = next(c for c in strength.checks if c.rule == "mechanism")
    assert (found.subject, found.verdict) == ("B1-2", Verdict.FAILS)
    assert not [c for c in strength.checks if c.rule in {"bending", "shear", "sag", "buckling"}]
    assert strength.post_loads == ()


def test_each_timber_keeps_its_three_gravest_rules_and_all_that_is_not_ok():
    _, strength = run(height=400.0)
    for mark in ("A1-2", "B1-2", "1A-C", "P1"):
        assert 0 < len([c for c in strength.checks if c.subject == mark and c.verdict is Verdict.OK]) <= 3


def test_every_check_has_clause_case_and_numbers():
    _, strength = run()
    for c in strength.checks:
        if c.ratio is not None:
            assert c.source, c.rule
            assert c.demand is not None
            assert c.ratio == pytest.approx(c.demand / c.capacity)
            assert (c.verdict is Verdict.OK) == (c.ratio <= 1.0) or c.verdict is not Verdict.OK
            if c.rule != "slenderness" and c.verdict is not Verdict.NOT_CHECKED:
                assert c.case, c.rule


def test_unconfirmed_figures_are_carried_and_named():
    _, strength = run()
    found = check(strength, "B1-2", "bending")
    assert not found.confirmed
    assert found.fact("doubts") == "hinoki ungraded F_b, dead.wet-timber"
    sag = check(strength, "B1-2", "sag")
    assert "hinoki E_0" in sag.fact("doubts")
    plan = replace(Plan(), joist=timber(45.0, 90.0, grade="e70"))
    _, graded = run(plan)
    assert check(graded, "B1-2", "bending").fact("doubts") == "dead.wet-timber"


def test_snow_is_checked_where_it_falls_with_its_own_strengths():
    _, strength = run(person=1.0, snow_depth=2000.0)
    found = check(strength, "B1-2", "bending")
    assert found.case == "snow-short"
    w = own(Plan().joist) + (BOARDS + (1800.0 + 20.0 * 200.0) * 1e-6) * 455.0
    assert found.demand == pytest.approx(w * 1210.0**2 / 8 / (45.0 * 90.0**2 / 6), rel=1e-9)
    assert found.capacity == pytest.approx(1.6 / 3 * 0.7 * 26.7, rel=1e-9)
    _, heavy = run(person=1.0, snow_depth=2000.0, is_heavy=True)
    loads = {p.case for p in heavy.post_loads}
    assert {"snow-long", "snow-short"} <= loads
    w = own(Plan().joist) + (BOARDS + (1800.0 + 0.7 * 30.0 * 200.0) * 1e-6) * 455.0
    long_share = w * 1210.0**2 / 8 / (45.0 * 90.0**2 / 6) / (1.43 / 3 * 0.7 * 26.7)
    w = own(Plan().joist) + (BOARDS + (1800.0 + 30.0 * 200.0) * 1e-6) * 455.0
    short_share = w * 1210.0**2 / 8 / (45.0 * 90.0**2 / 6) / (1.6 / 3 * 0.7 * 26.7)
    assert check(heavy, "B1-2", "bending").ratio == pytest.approx(max(long_share, short_share), rel=1e-9)


@pytest.mark.parametrize(("use", "joist", "beam"), [("balcony", 1800, 1300), ("public", 3500, 3200)])
def test_the_use_decides_the_live_load(use, joist, beam):
    frame, strength = run(person=1.0, use=use)
    w = own(Plan().joist) + (BOARDS + joist * 1e-6) * 455.0
    assert check(strength, "B1-2", "bending").demand == pytest.approx(
        w * 1210.0**2 / 8 / (45.0 * 90.0**2 / 6), rel=1e-9
    )
    area = 955.0 * 1315.0
    found = sum(p.force for p in strength.post_loads if p.case == "long")
    assert found == pytest.approx(total_weight(frame, area) + beam * 1e-6 * area, rel=1e-9)


def test_timber_wet_at_times_bears_more_and_says_that_it_is_not_confirmed():
    _, strength = run(wetness="at-times")
    found = check(strength, "B1-2", "bending")
    assert found.capacity == pytest.approx(2.0 / 3 * 0.8 * 26.7, rel=1e-9)
    assert "moisture.at-times" in found.fact("doubts")


def test_a_fifth_joint_kind_bears_by_metal_and_is_not_checked():
    plan = replace(Plan(), kind=JointKind.HANGER)
    _, strength = run(plan)
    found = next(c for c in strength.checks if c.rule == "hangers")
    assert found.verdict is Verdict.NOT_CHECKED
    assert found.reason == "hanger-value-not-entered"
    assert found.fact("places") == 6
    assert found.demand > 1000.0
    assert not [c for c in strength.checks if c.rule == "bearing"]


def test_butt_joints_are_not_checked_either():
    _, strength = run(replace(Plan(), kind=JointKind.BUTT))
    found = next(c for c in strength.checks if c.rule == "butt-joints")
    assert (found.verdict, found.reason) == (Verdict.NOT_CHECKED, "fixing-not-reckoned")


def test_bearings_that_do_not_come_to_rest_are_not_checked(monkeypatch):
    from evenfoot.solvers import contact

    monkeypatch.setattr(contact, "_ROUNDS", 0)
    _, strength = run(replace(Plan(), reach=(0.0, 1810.0)))
    found = next(c for c in strength.checks if c.rule == "contact-unsettled")
    assert (found.verdict, found.reason, found.case) == (Verdict.NOT_CHECKED, "contact-rounds", "person")
