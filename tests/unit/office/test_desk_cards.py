"""Cards of timbers: every mark on a drawing has one, and it says what the plan says."""

from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from evenfoot.checks import Check, Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.office import Request, reckon, speaker_for
from evenfoot.office.desk.card import timber_card
from evenfoot.office.desk.marks import all_marks, place_of_check, thing_of
from evenfoot.press import svg_of
from evenfoot.sheets import Figures, drawing, tables
from evenfoot.words import Language, catalogue

ROOT = Path(__file__).parents[3]
EXAMPLES = ("library-terrace", "side-door-landing", "marsh-boardwalk")
PLANS = ("boards", "frame", "ground", "sections", "sides")


@cache
def plan_of(name):
    return reckon(Request(job=ROOT / "examples" / name / "job.toml"))


@cache
def members_on(name):
    """Every ``data-member`` of the plan drawings by layer."""
    plan = plan_of(name)
    speaker = speaker_for(plan, Language.ENGLISH)
    found = set()
    for sheet in PLANS:
        for page in drawing(plan, speaker, "A3", sheet):
            groups = ET.fromstring(svg_of(page)).iter()
            found |= {g.get("data-member") for g in groups if g.get("data-member")}
    return frozenset(found)


def timbers(plan):
    return {
        *(m.mark for m in plan.frame.members),
        *(p.mark for p in plan.frame.posts),
        *(p.mark for p in plan.layout.pieces),
    }


@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_mark_on_a_plan_drawing_leads_to_a_card(name):
    plan = plan_of(name)
    assert {m for m in members_on(name) if thing_of(plan, m) is None} == set()


@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_every_timber_is_found_on_a_plan_drawing(name):
    assert timbers(plan_of(name)) <= members_on(name)


@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("language", Language)
def test_every_card_can_be_written_in_both_languages(name, language):
    plan = plan_of(name)
    speaker = speaker_for(plan, language)
    marks = all_marks(plan)
    assert len(marks) == len(set(marks))
    for mark in marks[:: max(1, len(marks) // 60)]:
        card = timber_card(plan, mark, speaker)
        assert card.lines
        assert all(line.name and line.value and "{" not in line.value for line in card.lines), card
        assert card.said == speaker.mark(mark)
        assert set(card.others) <= set(marks)


@pytest.mark.parametrize("name", EXAMPLES)
def test_findings_are_shown_on_what_is_drawn(name):
    plan = plan_of(name)
    own = timbers(plan)
    joints = {j.mark for j in plan.frame.joints}
    for check in plan.checks:
        places = place_of_check(plan, check)
        assert set(places) <= own, check
        if check.subject in own:
            assert places[0] == check.subject
        if check.subject in joints:
            assert len(places) == 2


def test_a_finding_on_all_of_a_kind_is_shown_on_all_of_them():
    plan = plan_of("library-terrace")

    def places(subject, **named):
        return place_of_check(plan, Check(subject=subject, rule="x", verdict=Verdict.OK, **named))

    assert places("boards") == tuple(p.mark for p in plan.layout.pieces)
    assert places("joists") == tuple(m.mark for m in plan.frame.members if m.role == "joist")
    assert set(places("lap")) == {m.mark for m in plan.frame.members}
    assert places("footings", place="B2") == tuple(p.mark for p in plan.frame.posts), "no post stands at B2"
    assert places("footings", place="C2") == ("C2",)
    assert places("boards", place="b3.1") == ("b3.1",)
    assert places("floor", facts=(("other", "H1-4"),), place="H3-H4") == ("H1-4",)
    assert places("b3") == ("b3.1",)
    assert places("A1.lap-over") == ("A1-4", "1A-I")
    for nowhere in ("site", "floor", "sill", "finish"):
        assert places(nowhere) == ()


def test_every_subject_that_is_no_mark_was_thought_of():
    """A new word for a part of the job must be told where it is drawn: on these timbers or nowhere."""
    nowhere = {"site", "sill", "wall", "floor", "finish", "fixings", "sway-along", "sway-out", "guard", "ledger"}
    somewhere = {"boards", "beams", "joists", "frame", "posts", "footings", "lap", "hanger", "splices"}
    told = {code.removeprefix("sheet-subject.") for code in catalogue() if code.startswith("sheet-subject.")}
    assert told == nowhere | somewhere


@pytest.mark.parametrize("name", EXAMPLES[:2])
def test_who_bears_on_whom_is_told_alike_from_both_sides(name):
    plan = plan_of(name)
    speaker = speaker_for(plan, Language.ENGLISH)
    for member in plan.frame.members:
        for joint in timber_card(plan, member.mark, speaker).joints:
            back = timber_card(plan, joint.other, speaker).joints
            (same,) = [j for j in back if j.mark == joint.mark]
            assert same.other == member.mark
            assert same.is_upper is not joint.is_upper


def test_the_marks_of_a_timber_are_its_cuts_in_order_and_end_at_its_length():
    plan = plan_of("library-terrace")
    card = timber_card(plan, "1A-I", speaker_for(plan, Language.ENGLISH))
    begins = [cut.begin_mm for cut in card.cuts]
    assert begins == sorted(begins)
    assert card.cuts[-1].finish_mm == card.length_mm == plan.frame.member("1A-I").length
    middles = [joint.at for joint in card.joints if joint.cut]
    laps = [(cut.begin_mm + cut.finish_mm) / 2 for cut in card.cuts if cut.what == "lap"]
    figures = Figures(speaker=speaker_for(plan, Language.ENGLISH))
    assert middles == [figures.cut(at) for at in laps]


def listed(plan, speaker, code):
    """The rows of one list of the workbook, each by the titles of its columns."""
    table = next(t for t in tables(plan, speaker) if t.code == code)
    return [dict(zip([c.title for c in table.columns], row, strict=True)) for row in table.rows]


def test_the_stick_told_is_the_one_of_the_sawing_sheet():
    plan = plan_of("library-terrace")
    speaker = speaker_for(plan, Language.ENGLISH)
    figures = Figures(speaker=speaker)
    rows = {row["mark"]: row for row in listed(plan, speaker, "sawing")}
    for mark in ("1A-I", "C1-4", "E2", "b7.1"):
        lines = {line.code: line.value for line in timber_card(plan, mark, speaker).lines}
        row = rows[mark]
        assert lines["stick"].startswith(f"stick {row['stick']:.0f} of ")
        told = f"{figures.length(row['stick length mm'])} long, from {figures.cut(row['from mm'])}"
        assert f"{told} to {figures.cut(row['to mm'])}" in lines["stick"]


def test_a_post_tells_its_lengths_as_the_list_of_posts_does():
    plan = plan_of("side-door-landing")
    speaker = speaker_for(plan, Language.ENGLISH)
    for row in listed(plan, speaker, "posts"):
        lines = {line.code: line.value for line in timber_card(plan, row["mark"], speaker).lines}
        assert lines["cut-length"].startswith(f"{row['cut length']} ({row['mm, 19 times in 20']} mm")
        assert lines["rough-length"] == row["rough length"]
        assert lines["head"] == row["head"]
        assert lines["foot"].startswith(row["foot high at"])


def test_what_is_found_in_a_beam_over_a_post_is_not_laid_at_the_post():
    plan = plan_of("library-terrace")
    speaker = speaker_for(plan, Language.ENGLISH)
    over = [f.rule for f in timber_card(plan, "1A-I", speaker).findings]
    under = [f.rule for f in timber_card(plan, "A1", speaker).findings]
    assert "notch-shear" in over
    assert "notch-shear" not in under
    assert "buckling" in under


def test_a_mark_that_is_not_there_is_told_with_the_nearest():
    plan = plan_of("library-terrace")
    with pytest.raises(OutOfRangeError) as caught:
        timber_card(plan, "A1-5", speaker_for(plan, Language.ENGLISH))
    (fault,) = caught.value.faults
    assert (fault.code, fault.found, fault.nearest) == ("mark-unknown", "A1-5", "A1-4")
