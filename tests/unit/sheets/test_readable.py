"""Every sheet can be read: no text touches another, nothing is cut off, nothing is too small, all is translated."""

import re

import pytest

from evenfoot.checks import Verdict
from evenfoot.ink import Text
from evenfoot.ink.boxes import overlaps, strays
from evenfoot.ink.expand import flat
from evenfoot.ink.metrics import has_character
from evenfoot.words import Language, Speaker

PAPERS = {"A3": (420.0, 297.0), "A4": (297.0, 210.0), "letter": (279.4, 215.9), "tabloid": (431.8, 279.4)}


def _texts(page):
    return [s for s in flat(page) if isinstance(s, Text)]


SETS = [("A3", "mm")] + [
    pytest.param(paper, unit, marks=pytest.mark.slow)
    for paper in PAPERS
    for unit in ("mm", "ft", "shaku")
    if (paper, unit) != ("A3", "mm")
]


@pytest.mark.parametrize(("paper", "unit"), SETS)
def test_no_text_touches_another_and_nothing_is_cut_off(pages_of, job, language, paper, unit):
    for page in pages_of(job, language, paper, unit):
        assert [(a.text, b.text) for a, b in overlaps(page)] == [], page.code
        assert strays(page, margin=4.0) == (), page.code


@pytest.mark.parametrize("paper", PAPERS)
def test_sheets_have_the_size_that_was_asked_for(pages_of, paper):
    assert {(p.width, p.height) for p in pages_of("side-door-landing", "en", paper)} == {PAPERS[paper]}


def test_capitals_are_at_least_two_and_a_half_millimetres(pages_of, job):
    assert min(t.size for p in pages_of(job) for t in _texts(p)) * 0.765 >= 2.5


def test_every_character_is_in_the_typeface(pages_of, job, language):
    used = {c for p in pages_of(job, language) for t in _texts(p) for c in t.text}
    assert sorted(c for c in used if not has_character(c)) == []


def test_numbers_are_larger_than_words(pages_of, job):
    for page in pages_of(job):
        if page.code.startswith(("frame", "boards", "marking")):
            words = [t.size for t in _texts(page) if t.layer == "note"]
            figures = [t.size for t in _texts(page) if t.layer == "dimension"]
            assert min(figures) > max(words, default=0.0)


def test_every_sheet_carries_job_date_revision_unit_number_and_the_second_opinion(plan_of, pages_of, job):
    plan, pages = plan_of(job), pages_of(job)
    revisions = set()
    for number, page in enumerate(pages, start=1):
        said = [t.text for t in _texts(page) if t.layer == "foot"]
        assert plan.job.name in said
        assert plan.job.date.isoformat() in said
        assert f"{number}/{len(pages)}" in said
        assert any("second opinion" in t for t in said)
        revisions |= {t for t in said if re.fullmatch(r"[0-9a-f]{6}", t)}
        assert page.title.split(" ", 1)[0] == str(number)
    assert len(revisions) == 1


def test_a_changed_job_is_another_revision(plan_of):
    from dataclasses import replace

    from evenfoot.sheets.binding import cover_of
    from evenfoot.sheets.figures import Figures

    plan, figures = plan_of("library-terrace"), Figures(speaker=Speaker())
    changed = replace(plan, job=replace(plan.job, paper="A4"))
    assert cover_of(plan, figures).revision == cover_of(plan, figures).revision
    assert cover_of(plan, figures).revision != cover_of(changed, figures).revision


def test_the_first_sheet_lists_every_other(pages_of, job, language):
    pages = pages_of(job, language)
    index = " ".join(t.text for t in _texts(pages[0]) if t.layer == "index")
    for page in pages[1:]:
        title = re.split(r" \(\d|（\d", page.title.split(" ", 1)[1])[0]
        assert title in index


def test_what_is_not_ok_is_named_with_every_mark(plan_of, pages_of, job, language):
    plan = plan_of(job)
    speaker = Speaker(Language(language))
    said = "".join(t.text for p in pages_of(job, language) if p.code.startswith("checks") for t in _texts(p))
    said = re.sub(r"\s", "", said)
    open_ones = [c for c in plan.checks if c.verdict is not Verdict.OK]
    assert open_ones, "the examples hold findings"
    for check in open_ones:
        code = f"sheet-subject.{check.subject}"
        word = speaker.say(code) if speaker.knows(code) else speaker.mark(check.subject)
        assert re.sub(r"\s", "", word) in said


def test_verdicts_differ_by_shape_and_by_word(plan_of, pages_of, job):
    plan = plan_of(job)
    said = "".join(t.text for p in pages_of(job) if p.code.startswith("checks") for t in _texts(p))
    shapes = {
        Verdict.OK: "○ ok",
        Verdict.FAILS: "▲ fails",
        Verdict.OUTSIDE_RULE: "◇ outside the rule",
        Verdict.NOT_CHECKED: "□ not checked",
    }
    for verdict in {c.verdict for c in plan.checks}:
        assert shapes[verdict] in said


def test_a_shortfall_is_told_on_every_sheet(plan_of, pages_of, job):
    plan = plan_of(job)
    for page in pages_of(job):
        banner = [t.text for t in _texts(page) if t.layer == "title" and "findings" in t.text]
        assert len(banner) == (0 if plan.verdict is Verdict.OK else 1)


def test_a_plan_without_findings_bears_no_banner(plan_of):
    from dataclasses import replace

    from evenfoot.sheets import drawings

    plan = plan_of("side-door-landing")
    rooms = ("ground", "layout", "frame", "strength", "joinery", "posts", "timber", "cutting", "estimate", "programme")
    clean = replace(plan, **{room: replace(getattr(plan, room), checks=()) for room in rooms})
    pages = drawings(clean, Speaker(Language.ENGLISH, "in"), "A3")
    assert not [t for p in pages for t in _texts(p) if "findings" in t.text]
    assert any("○ Everything that was checked is enough." in t.text for t in _texts(pages[0]))


def test_japanese_sheets_hold_no_english_words(plan_of, pages_of):
    plan = plan_of("library-terrace")
    given = " ".join(
        (
            plan.job.name,
            *(c.source for c in plan.checks),
            *(o.name for o in plan.job.site.obstacles),
            *(f.mark for f in plan.estimate.fixings),
            plan.estimate.currency,
        )
    )
    known = {*re.findall(r"[A-Za-z]{3,}", given)}
    for page in pages_of("library-terrace", "ja"):
        if page.code.startswith(("checks", "cover")):
            continue  # findings are worded by the rooms that found them
        for text in _texts(page):
            words = set(re.findall(r"[A-Za-z]{3,}", text.text)) - known
            assert not words or re.fullmatch(r"[0-9a-f]{6}", text.text), (page.code, text.text)


@pytest.mark.parametrize(("count", "said"), [(2, "k1, k2: see the lists"), (60, "no room for 60 marks: see the lists")])
def test_marks_without_room_are_told_whole_or_counted_never_cut_off(plan_of, count, said):
    from evenfoot.sheets.binding import Draft, bind, cover_of
    from evenfoot.sheets.drafting.paper import paper_named
    from evenfoot.sheets.figures import Figures

    figures = Figures(speaker=Speaker())
    marks = tuple(f"k{n}" for n in range(1, count + 1))
    draft = Draft(code="frame", group="Frame", title="Frame plan", shapes=(), homeless=marks)
    (page,) = bind((draft,), cover_of(plan_of("library-terrace"), figures), paper_named("A4"), figures)
    assert any(said in t.text for t in _texts(page))
    assert overlaps(page) == ()
