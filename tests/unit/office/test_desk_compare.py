"""Plans side by side: every difference that is told is one, and none is kept back."""

from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from evenfoot.checks import Verdict
from evenfoot.office import speaker_for
from evenfoot.office.desk.compare import compare, variants
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.typing import change_job
from evenfoot.words import Language

ROOT = Path(__file__).parents[3]
DESK = Desk()
TERRACE = (ROOT / "examples" / "library-terrace" / "job.toml").read_text(encoding="utf-8")
NARROW = change_job(TERRACE, {"floor.width": "11尺", "frame.post.spacing_max": "4尺"})
HIGHER = change_job(TERRACE, {"floor.drop": "26"})
HEAVIER = change_job(TERRACE, {"frame.beam.depth": "120", "frame.joist.depth": "120"})


@cache
def planned(text):
    return DESK.plan(1, Texts(job=text))


def compared(before, after, language=Language.ENGLISH):
    plan = planned(after)
    return compare(planned(before), plan, speaker_for(plan, language), texts=(before, after))


def rows(comparison):
    return {row.code: row for row in comparison.rows}


def test_a_plan_beside_itself_is_the_same():
    told = compared(TERRACE, TERRACE)
    assert told.is_same
    assert {row.difference for row in told.rows} == {""}
    assert {row.is_better for row in told.rows} == {None}


@pytest.mark.parametrize("after", [NARROW, HIGHER, HEAVIER])
def test_the_other_way_round_everything_turns_about(after):
    there, back = compared(TERRACE, after), compared(after, TERRACE)
    for one, other in zip(there.rows, back.rows, strict=True):
        assert (one.before, one.after) == (other.after, other.before)
        assert one.difference.translate(str.maketrans("+−", "−+")) == other.difference
        assert one.is_better is (None if other.is_better is None else not other.is_better)
    assert [f.finding.text for f in there.gained] == [f.finding.text for f in back.lost]
    assert not there.is_same
    kinds = {"longer": "shorter", "shorter": "longer", "new": "gone", "gone": "new", "moved": "moved"}
    turned = sorted((kinds.get(c.kind, c.kind), len(c.marks)) for c in (*there.posts, *there.timbers))
    assert turned == sorted((c.kind, len(c.marks)) for c in (*back.posts, *back.timbers))


def test_every_figure_is_that_of_the_plan():
    before, after = planned(TERRACE), planned(NARROW)
    told = rows(compared(TERRACE, NARROW))
    assert told["width"].after_value - told["width"].before_value == pytest.approx(-10000 / 33, abs=1e-9)
    for plan, side in ((before, "before_value"), (after, "after_value")):
        total = plan.estimate.total
        assert getattr(told["price"], side) == pytest.approx(float(total.low + total.high) / 2)
        assert getattr(told["hours"], side) == pytest.approx(sum(w.typical for w in plan.estimate.work))
        assert getattr(told["posts"], side) == len(plan.posts.cuts)
        swing = next(c.demand for c in plan.strength.checks if c.rule == "floor-swing")
        assert getattr(told["swing"], side) == swing
        assert getattr(told["found-outside_rule"], side) == sum(c.verdict is Verdict.OUTSIDE_RULE for c in plan.checks)
        sticks = [s for section in plan.cutting.sections for s in section.sticks]
        bought = sum(s.length for s in sticks)
        used = sum(c.finish - c.begin for s in sticks for c in s.cuts) + sum(b - a for s in sticks for a, b in s.kept)
        assert getattr(told["waste"], side) == pytest.approx(100 * (bought - used) / bought)
    assert told["hours"].is_better is (told["hours"].after_value < told["hours"].before_value)
    assert told["swing"].is_better is (told["swing"].after_value > told["swing"].before_value)
    assert told["width"].is_better is None


def test_posts_tell_by_how_much_they_grew():
    told = compared(TERRACE, HIGHER)
    old = {c.mark: c.length for c in planned(TERRACE).posts.cuts}
    new = {c.mark: c.length for c in planned(HIGHER).posts.cuts}
    assert {c.kind for c in told.posts} == {"shorter"}
    seen = {}
    for change in told.posts:
        for mark in change.marks:
            seen[mark] = change.by_mm
    assert seen == pytest.approx({mark: new[mark] - old[mark] for mark in old}, abs=0.05)
    assert all(by == pytest.approx(-6.0, abs=0.01) for by in seen.values()), "6 mm lower, so 6 mm shorter"
    assert told.timbers == ()


def test_timbers_are_known_by_their_lines_whatever_their_marks():
    told = compared(TERRACE, NARROW)
    (shorter,) = [c for c in told.timbers if c.kind == "shorter"]
    assert shorter.marks == ("1A-H", "2A-H", "3A-H", "4A-H")
    assert "1A-H (once 1A-I)" in shorter.said
    assert shorter.by_mm == pytest.approx(-10000 / 33)
    assert [c.marks for c in told.timbers if c.kind == "gone"] == [("I1-4",)]
    section = compared(TERRACE, HEAVIER).timbers[0]
    assert section.kind == "section"
    assert "105 × 120 instead of 105 × 105" in section.said


def test_findings_gained_are_in_the_later_plan_alone():
    told = compared(TERRACE, NARROW)
    for changes, there, away in ((told.gained, NARROW, TERRACE), (told.lost, TERRACE, NARROW)):
        assert changes
        for change in changes:
            keys = {(c.rule, c.subject, c.verdict.value) for c in planned(away).checks}
            found = change.finding
            assert (found.rule, found.subject, found.verdict) not in keys
            assert found.verdict != "ok"
            own = {c.subject for c in planned(there).checks if c.rule == found.rule}
            assert {found.subject, *change.others} <= own


def test_keys_tell_what_was_typed():
    assert [(k.where, k.before, k.after) for k in compared(TERRACE, NARROW).keys] == [
        ("floor.width", "12尺", "11尺"),
        ("frame.post.spacing_max", "3尺", "4尺"),
    ]


@pytest.mark.parametrize("language", Language)
@pytest.mark.parametrize("after", [NARROW, HIGHER, HEAVIER])
def test_both_languages_tell_everything(after, language):
    for one, other in ((TERRACE, after), (after, TERRACE)):
        told = compared(one, other, language)
        for change in (*told.posts, *told.timbers):
            assert change.said
            assert "{" not in change.said
        assert told.note


def test_the_drawing_holds_both_plans():
    told = compared(TERRACE, NARROW)
    root = ET.fromstring(told.svg)
    layers = [g.get("data-layer") for g in root.iter("{http://www.w3.org/2000/svg}g")]
    assert {"before-floor", "before-beam", "before-joist", "before-post", "beam", "joist", "post", "floor"} <= set(
        layers
    )
    marks = {g.get("data-member") for g in root.iter("{http://www.w3.org/2000/svg}g") if g.get("data-member")}
    after = planned(NARROW)
    assert marks == {*(m.mark for m in after.frame.members), *(p.mark for p in after.frame.posts)}
    texts = {t.text for t in root.iter("{http://www.w3.org/2000/svg}text")}
    assert "1A-H" in texts
    assert "A1" not in texts, "a post that stands where it stood needs no mark"


def test_variants_stand_side_by_side_and_the_best_are_named():
    plans = [planned(text) for text in (TERRACE, NARROW, HEAVIER)]
    told = {row.code: row for row in variants(plans, speaker_for(plans[0], Language.ENGLISH))}
    assert all(len(row.said) == len(row.values) == 3 for row in told.values())
    hours = [sum(w.typical for w in plan.estimate.work) for plan in plans]
    assert told["hours"].best == tuple(k for k, value in enumerate(hours) if value == min(hours))
    swings = told["swing"].values
    assert told["swing"].best == (swings.index(max(swings)),)
    assert told["width"].best == (), "which width is best is for the client to say"
    alone = variants(plans[:1], speaker_for(plans[0], Language.ENGLISH))
    assert all(row.best == () for row in alone)
