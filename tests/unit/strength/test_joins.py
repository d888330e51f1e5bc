"""Fixings on the load path: open without a maker's value, checked with one."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from strength_factory import Plan, Splice, heights, make_frame, make_job, replace
from test_stability import Holding, job_with

from evenfoot.checks import Verdict
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.job.holding import Guard, Ledger
from evenfoot.strength import check_strength
from evenfoot.strength.joins import check_guard, check_ledger
from evenfoot.strength.standards import practice_for

FOOT, INCH, POUND = 304.8, 25.4, 4.4482216152605


def run(job, plan=None, height=400.0, splices=()):
    frame = replace(make_frame(plan or Plan()), splices=splices)
    return check_strength(job, frame, heights(frame, height))


def only(strength, rule):
    (check,) = [c for c in strength.checks if c.rule == rule]
    return check


HUNG = replace(Plan(), kind=JointKind.HANGER)


def test_a_hanger_is_open_until_its_maker_has_spoken():
    strength = run(job_with(), HUNG)
    load = only(strength, "hangers").demand
    assert not strength.is_complete
    fine = only(run(job_with(makers={"hanger": load * 1.001}), HUNG), "hangers-bear")
    short = only(run(job_with(makers={"hanger": load * 0.999}), HUNG), "hangers-bear")
    assert (fine.verdict, short.verdict) == (Verdict.OK, Verdict.FAILS)
    assert fine.demand == load
    assert (fine.source, short.remedy) == ("makers", "stronger-hanger")


def test_a_lap_that_would_lift_is_checked_against_what_holds_it_down():
    plan = replace(Plan(), reach=(-900.0, 1210.0))
    tips = [c for c in run(job_with(), plan).checks if c.rule == "tipping"]
    (pull,) = [c for c in tips if c.verdict is Verdict.NOT_CHECKED]
    again = run(job_with(makers={"hold_down": 2 * pull.demand}), plan)
    assert only(again, "hold-down-bears").ratio == pytest.approx(0.5, rel=1e-12)
    assert [c.verdict for c in again.checks if c.rule == "tipping"] == [Verdict.FAILS], "feet still do not pull"


def test_a_splice_beside_a_bearing_passes_the_load_of_its_far_piece():
    """The second piece lies on one post and hangs on the first: the splice passes half of the load on its span."""
    plan = replace(Plan(), joists=(0.0, 455.0), posts=(0.0, 455.0))
    frame = make_frame(plan)
    assert frame.splices == ()
    one = run(job_with(), plan, splices=(Splice(first="A1-2", second="B1-2", over="1A-B", x=0.0, y=0.0),))
    assert only(one, "splices-borne").verdict is Verdict.OK


WIND = {"uplift": 0.0025}


def test_wind_that_lifts_more_than_the_weight_asks_for_heads_and_feet():
    strength = run(job_with(loads=WIND))
    head, foot = only(strength, "post-head-pulled"), only(strength, "post-foot-pulled")
    dead = {p.mark: p.force for p in strength.post_loads if p.case == "dead"}
    long = {p.mark: p.force for p in strength.post_loads if p.case == "long"}
    pulls = {m: 0.0025 * (long[m] - dead[m]) / 1300e-6 - 0.6 * dead[m] for m in dead}
    assert head.demand == foot.demand == pytest.approx(max(pulls.values()), rel=1e-9)
    assert head.verdict is Verdict.NOT_CHECKED
    makers = {"post_head": 2 * head.demand, "post_foot": 0.5 * head.demand}
    again = run(job_with(loads=WIND, makers=makers))
    assert only(again, "post-head-pulled-bears").verdict is Verdict.OK
    assert only(again, "post-foot-pulled-bears").verdict is Verdict.FAILS


def test_feet_may_stand_where_something_else_holds_the_floor():
    held = {"along": Holding.BUILDING, "out": Holding.BUILDING}
    assert only(run(job_with(held=held)), "feet-stand").verdict is Verdict.OK
    assert only(run(job_with()), "post-foot").verdict is Verdict.NOT_CHECKED
    concrete = {"along": Holding.POSTS_IN_CONCRETE, "out": Holding.POSTS_IN_CONCRETE}
    assert only(run(job_with(held=concrete)), "posts-embedded").reason == "embedding-not-reckoned"


GUARD = Guard(
    height=1100.0,
    spacing=1150.0,
    width=85.0,
    depth=95.0,
    species="hinoki",
    strength_grade="ungraded",
    lever=130.0,
    top_fixing=60.0,
    push=None,
)


def guarded(standard="japan", push=None, use="dwelling", **makers):
    job = replace(job_with(makers=makers, use=use), guard=replace(GUARD, push=push))
    return replace(job, standard=kinds.Standard(standard))


def test_a_guard_post_bends_under_the_rail_between_posts():
    job = guarded()
    practice = practice_for(job)
    bending, fixing = check_guard(practice, job)
    push = 0.6 * 1150.0
    assert bending.demand == pytest.approx(push * 1160.0 / (85.0 * 95.0**2 / 6.0), rel=1e-9)
    assert bending.capacity == pytest.approx(2.0 / 3.0 * 0.7 * 26.7, rel=1e-9)
    assert fixing.demand == pytest.approx(push * 1160.0 / 130.0 + push, rel=1e-9)
    assert (fixing.verdict, fixing.reason) == (Verdict.NOT_CHECKED, "guard-value-not-entered")
    assert not bending.confirmed


def test_a_typed_push_wins_and_a_makers_value_closes_the_fixing():
    job = guarded(push=500.0, guard_post=6000.0)
    bending, fixing = check_guard(practice_for(job), job)
    assert bending.demand == pytest.approx(500.0 * 1160.0 / (85.0 * 95.0**2 / 6.0), rel=1e-9)
    assert fixing.ratio == pytest.approx((500.0 * 1160.0 / 130.0 + 500.0) / 6000.0, rel=1e-9)
    assert fixing.rule == "guard-fixing-bears"


def test_there_is_no_check_of_a_guard_where_there_is_none():
    assert check_guard(practice_for(make_job()), make_job()) == ()


def ledgered(fixing, spacing_in, standard="north-america"):
    job = replace(make_job(), standard=kinds.Standard(standard))
    ledger = Ledger(fixing=fixing, spacing=spacing_in * INCH, end=3 * INCH)
    return replace(job, frame=replace(job.frame, ledger=ledger))


def test_the_worked_ledger_comes_out_through_the_check():
    """Ledger of 15 ft, joists of 13 ft: 15 lag screws at 12.43 in, 9 bolts; spacing at most 13 and 24 in."""
    lags = check_ledger(ledgered(kinds.LedgerFixing.LAG_HALF, 13.0), length=180 * INCH, joist_spans=[13 * FOOT])[0]
    assert (lags.verdict, lags.fact("count")) == (Verdict.OK, 15)
    assert lags.fact("even_mm") / INCH == pytest.approx(12.43, abs=0.005)
    wide = check_ledger(ledgered(kinds.LedgerFixing.LAG_HALF, 13.1), length=180 * INCH, joist_spans=[13 * FOOT])[0]
    assert (wide.verdict, wide.remedy, wide.fact("count")) == (Verdict.FAILS, "closer-fixings", 15)
    bolts = check_ledger(ledgered(kinds.LedgerFixing.BOLT_HALF, 24.0), length=180 * INCH, joist_spans=[13 * FOOT])[0]
    assert (bolts.verdict, bolts.fact("count")) == (Verdict.OK, 9)


def test_beyond_its_table_nothing_is_claimed_of_a_ledger():
    long = check_ledger(ledgered(kinds.LedgerFixing.LAG_HALF, 8.0), length=5000.0, joist_spans=[19 * FOOT])[0]
    assert (long.verdict, long.reason) == (Verdict.NOT_CHECKED, "ledger-span-unknown")
    japan = check_ledger(ledgered(kinds.LedgerFixing.LAG_HALF, 8.0, "japan"), length=5000.0, joist_spans=[3000.0])[0]
    assert japan.reason == "ledger-table-elsewhere"
    short = check_ledger(ledgered(kinds.LedgerFixing.LAG_HALF, 8.0), length=100.0, joist_spans=[3000.0])[0]
    assert short.reason == "ledger-too-short"
    assert check_ledger(make_job(), length=5000.0, joist_spans=[3000.0]) == ()


@pytest.mark.parametrize(
    ("standard", "use", "push"),
    [
        ("japan", "dwelling", 0.6 * 1150.0),
        ("europe", "dwelling", 0.5 * 1150.0),
        ("europe", "balcony", 0.5 * 1150.0),
        ("europe", "public", 1.0 * 1150.0),
        ("north-america", "dwelling", 200 * POUND),
        ("north-america", "public", max(200 * POUND, 50 * POUND / FOOT * 1150.0)),
    ],
)
def test_each_standard_has_its_own_push_on_a_guard(standard, use, push):
    """Half the last printed digit of 890 N and 0.73 N/mm in North America."""
    job = guarded(standard, use=use)
    _, fixing = check_guard(practice_for(job), job)
    assert fixing.fact("push_n") == pytest.approx(push, rel=0.005)
    factor = 1.5 if standard == "europe" else 1.0
    assert fixing.demand == pytest.approx(factor * fixing.fact("push_n") * (1160.0 / 130.0 + 1.0), rel=2e-3)


def test_a_far_spaced_public_guard_in_north_america_takes_the_line_load():
    job = guarded("north-america", use="public")
    job = replace(job, guard=replace(job.guard, spacing=1830.0))
    _, fixing = check_guard(practice_for(job), job)
    assert fixing.fact("push_n") == pytest.approx(50 * POUND / FOOT * 1830.0, rel=0.005)
