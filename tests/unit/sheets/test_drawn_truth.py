"""What is drawn is what the plan says: dimensions, scale, marks, and nothing lost between sheets."""

from dataclasses import replace
from math import hypot
from xml.etree import ElementTree as ET

import pypdfium2
import pytest

from evenfoot.ink import Dimension, Polygon, Text
from evenfoot.ink.expand import flat
from evenfoot.layout import Axis
from evenfoot.press import pdf_of, svg_of
from evenfoot.units import parse_length
from evenfoot.words import Language, Speaker

UNITS = ("", "ft", "shaku", "m")


def _dimensions(page):
    return [s for s in page.shapes if isinstance(s, Dimension)]


def _texts(page):
    return [s.text for s in flat(page) if isinstance(s, Text)]


def _of(pages, code):
    return [p for p in pages if p.code == code or p.code.rsplit("-", 1)[0] == code]


def test_every_dimension_says_the_distance_it_spans(plan_of, pages_of, job):
    stretch = hypot(1.0, plan_of(job).frame.fall)
    seen = 0
    for page in pages_of(job):
        for mark in _dimensions(page):
            span = hypot(mark.b[0] - mark.a[0], mark.b[1] - mark.a[1]) * page.scale
            assert mark.distance == pytest.approx(span, abs=0.02 + mark.distance * (stretch - 1.0))
            seen += 1
    assert seen > 100


@pytest.mark.parametrize("unit", UNITS)
def test_every_dimension_reads_back_as_its_distance(plan_of, pages_of, job, unit):
    named = unit or plan_of(job).job.unit.value
    half = {"mm": 0.25, "m": 0.25, "in": 25.4 / 32, "ft": 25.4 / 32, "shaku": 10 / 66}[named]
    for page in pages_of(job, "en", "A3", unit):
        for mark in _dimensions(page):
            read = abs(float(parse_length(mark.text.lstrip("+"), unit=named)))
            assert read == pytest.approx(mark.distance, abs=half + 1e-6)


def test_running_figures_of_the_frame_are_the_grid(plan_of, pages_of, job):
    plan = plan_of(job)
    for axis, way in ((Axis.X, "across"), (Axis.Y, "up")):
        low, high = plan.layout.frame_x if axis is Axis.X else plan.layout.frame_y
        wanted = {0.0, high - low, *(g.position - low for g in plan.frame.grid if g.axis is axis)}
        drawn = [
            d
            for page in _of(pages_of(job), "frame")
            for d in _dimensions(page)
            if d.running == way and d.offset * (1 if way == "across" else -1) > 0
        ]
        for place in wanted:
            assert any(abs(d.distance - place) < 0.3 for d in drawn), (axis, place)
        for d in drawn:
            assert any(abs(d.distance - place) < 0.3 for place in wanted), (axis, d.distance)


def test_grid_marks_stand_with_their_own_figure(plan_of, pages_of, job):
    plan = plan_of(job)
    lines = {(g.axis, g.label): g.position for g in plan.frame.grid}
    for page in _of(pages_of(job), "frame"):
        tags = {s.member: s for s in page.shapes if isinstance(s, Text) and s.layer == "grid" and s.member}
        for d in _dimensions(page):
            if d.member:
                axis = Axis.X if d.running == "across" else Axis.Y
                low = plan.layout.frame_x[0] if axis is Axis.X else plan.layout.frame_y[0]
                assert d.distance == pytest.approx(lines[axis, d.member] - low, abs=0.3)
                assert d.member in tags


def test_every_timber_and_post_is_on_the_frame_plan_and_in_the_lists(plan_of, pages_of, job, language):
    plan, pages = plan_of(job), pages_of(job, language)
    speaker = Speaker(Language(language))
    on_plan = {t for p in _of(pages, "frame") for t in _texts(p)}
    in_lists = {t for code in ("timbers", "posts") for p in _of(pages, code) for t in _texts(p)}
    drawn = {s.member for p in _of(pages, "frame") for s in p.shapes if isinstance(s, Polygon)}
    for mark in (*(m.mark for m in plan.frame.members), *(p.mark for p in plan.frame.posts)):
        assert speaker.mark(mark) in on_plan, mark
        assert speaker.mark(mark) in in_lists, mark
        assert mark in drawn, mark


def test_timbers_are_drawn_to_the_scale_that_the_sheet_names(plan_of, pages_of, job):
    members = {m.mark: m for m in plan_of(job).frame.members}
    checked = 0
    for page in _of(pages_of(job), "frame"):
        for shape in page.shapes:
            if isinstance(shape, Polygon) and shape.member in members and shape.layer in {"beam", "joist", "block"}:
                xs, ys = zip(*shape.points, strict=True)
                sizes = sorted((max(xs) - min(xs), max(ys) - min(ys)))
                assert sizes[0] * page.scale == pytest.approx(members[shape.member].width, abs=0.01)
                checked += 1
        assert any(f"1:{page.scale:g}" in t for t in _texts(page))
    assert checked >= len(members)


def test_the_scale_bar_is_as_long_as_it_says(plan_of, pages_of, job):
    unit = plan_of(job).job.unit.value
    for page in pages_of(job):
        if not page.scale:
            continue
        bars = [
            s
            for s in page.shapes
            if isinstance(s, Polygon) and s.layer == "foot" and s.fill is not None and len(s.points) == 4
        ]
        bars = [s for s in bars if s.points[2][1] - s.points[0][1] == pytest.approx(1.8)]
        length = (max(p[0] for s in bars for p in s.points) - min(p[0] for s in bars for p in s.points)) * page.scale
        said = [s.text for s in page.shapes if isinstance(s, Text) and s.layer == "foot"]
        assert any(_reads(t, unit) == pytest.approx(length, abs=0.6) for t in said), said


def _reads(text, unit):
    try:
        return float(parse_length(text, unit=unit))
    except Exception:  # noqa: BLE001 - most texts are no lengths
        return -1.0


def test_a_long_floor_goes_on_over_match_lines_without_gap_or_overlap(plan_of, pages_of):
    plan = plan_of("marsh-boardwalk")
    pages = pages_of("marsh-boardwalk")
    frames = _of(pages, "frame")
    assert len(frames) > 1
    assert all(page.scale <= 50 for page in frames)
    numbers = {page.code: page.title.split(" ", 1)[0] for page in pages}
    for index, page in enumerate(frames):
        said = [t for t in _texts(page) if t.startswith("goes on")]
        near = [frames[i] for i in (index - 1, index + 1) if 0 <= i < len(frames)]
        assert sorted(said) == sorted(f"goes on: sheet {numbers[p.code]}" for p in near)
    for member in plan.frame.members:
        parts = [
            s
            for page in frames
            for s in page.shapes
            if isinstance(s, Polygon) and s.member == member.mark and s.layer == member.role.value
        ]
        length = sum(max(_size(s)) for s in parts) * frames[0].scale
        assert length == pytest.approx(hypot(member.end[0] - member.start[0], member.end[1] - member.start[1]), abs=0.1)


def _size(shape):
    xs, ys = zip(*shape.points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_post_lengths_stand_on_the_list_and_on_the_section(plan_of, pages_of):
    plan = plan_of("library-terrace")
    pages = pages_of("library-terrace")
    posts, *_ = _of(pages, "posts")
    for cut in plan.posts.cuts:
        assert f"{round(cut.length * 2) / 2:g}" in _texts(posts)
    sections = [t for code in ("section-away", "section-along") for p in _of(pages, code) for t in _texts(p)]
    shown = [c for c in plan.posts.cuts if any(t.startswith(f"{c.mark}  ") for t in sections)]
    assert len(shown) >= 6
    for cut in shown:
        assert f"{cut.mark}  {round(cut.length * 2) / 2:g}" in sections


def test_levels_of_the_stack_are_those_of_the_post(plan_of, pages_of):
    plan = plan_of("library-terrace")
    (page,) = _of(pages_of("library-terrace"), "stack")
    named = next(t for t in _texts(page) if t.startswith("levels at ")).removeprefix("levels at ")
    cut = next(c for c in plan.posts.cuts if c.mark == named)
    levels = sorted(d.distance for d in _dimensions(page) if d.running == "up")
    wanted = sorted({round(abs(layer.top), 3) for layer in cut.stack if layer.thing != "drop"} | {0.0})
    assert levels == pytest.approx(wanted, abs=0.3)


def test_running_figures_on_a_timber_are_its_cuts(plan_of, pages_of):
    plan = plan_of("library-terrace")
    drawn = [d for p in _of(pages_of("library-terrace"), "marking") for d in _dimensions(p)]
    for mark in {d.member for d in drawn if d.member}:
        cuts = plan.joinery.cuts_on(mark)
        wanted = {0.0, plan.frame.member(mark).length, *(c.begin for c in cuts), *(c.finish for c in cuts)}
        found = {d.distance for d in drawn if d.member == mark}
        for place in wanted:
            assert any(abs(place - f) < 0.3 for f in found), (mark, place)
        for f in found:
            assert any(abs(place - f) < 0.3 for place in wanted), (mark, f)


def test_timbers_drawn_as_one_are_cut_alike(plan_of, pages_of):
    plan = plan_of("library-terrace")

    def signature(mark):
        return [
            (c.kind, c.face, round(c.begin, 1), round(c.finish, 1), round(c.depth, 1))
            for c in plan.joinery.cuts_on(mark)
        ]

    marks = {m.mark for m in plan.frame.members}
    headings = [
        t.text
        for p in _of(pages_of("library-terrace"), "marking")
        for t in p.shapes
        if isinstance(t, Text) and set(t.text.split(", ")) <= marks
    ]
    groups = [h.split(", ") for h in headings if h.split(", ")[0] in marks and len(h) > 3]
    named = [m for group in groups for m in group]
    assert marks <= set(named)
    for group in groups:
        assert all(signature(m) == signature(group[0]) for m in group)


def test_every_piece_is_on_the_cutting_plan_with_its_finish(plan_of, pages_of, job):
    plan = plan_of(job)
    pages = _of(pages_of(job), "sawing")
    words = " ".join(t for p in pages for t in _texts(p))
    for section in plan.cutting.sections:
        for stick in section.sticks:
            for cut in stick.cuts:
                assert cut.mark in words
    finishes = {round(d.distance, 2) for p in pages for d in _dimensions(p)}
    for section in plan.cutting.sections:
        for stick in section.sticks:
            assert all(any(abs(cut.finish - f) < 0.3 for f in finishes) for cut in stick.cuts)


def test_svg_holds_every_text_of_the_page(pages_of, job):
    for page in pages_of(job)[:8]:
        said = sorted(t.text for t in ET.fromstring(svg_of(page)).iter("{http://www.w3.org/2000/svg}text"))
        assert said == sorted(t for t in _texts(page) if t)


@pytest.mark.slow
def test_pdf_holds_every_mark_and_every_page(plan_of, pages_of, language):
    pages = pages_of("library-terrace", language)
    document = pypdfium2.PdfDocument(pdf_of(pages, title="t"))
    assert len(document) == len(pages)
    assert [e.get_title() for e in document.get_toc()] == [p.title for p in pages]
    for page, sheet in zip(pages, document, strict=True):
        said = _squeezed(sheet.get_textpage().get_text_bounded())
        for text in _texts(page):
            for word in text.split():
                assert _squeezed(word) in said, (page.code, text)


def _squeezed(text):
    return "".join(text.split()).replace("\ufffe", "").replace("\x02", "")


@pytest.mark.slow
def test_pdf_of_a_whole_set_is_the_same_bytes_twice(plan_of, pages_of):
    from evenfoot.sheets import drawings

    plan = plan_of("side-door-landing")
    first, second = (drawings(plan, Speaker(Language.ENGLISH, "in"), "A3") for _ in range(2))
    assert pdf_of(first, title="t") == pdf_of(second, title="t")


def test_a_post_without_room_is_said_and_not_drawn(plan_of):
    from evenfoot.sheets import drawings

    plan = plan_of("library-terrace")
    first = plan.posts.cuts[0]
    none = replace(first, length=-12.0, rough_length=0.0, footing_top=first.underside + 12.0)
    changed = replace(plan, posts=replace(plan.posts, cuts=(none, *plan.posts.cuts[1:])))
    posts, *_ = _of(drawings(changed, Speaker(Language.ENGLISH, "mm"), "A3"), "posts")
    assert "no room" in _texts(posts)
    assert "-12" not in _texts(posts)


@pytest.mark.parametrize(
    ("name", "unit", "per"), [("library-terrace", "kn", 1e-3), ("side-door-landing", "lb", 0.2248089)]
)
def test_posts_carry_on_paper_what_was_reckoned(plan_of, pages_of, name, unit, per):
    plan = plan_of(name)
    texts = [t for p in _of(pages_of(name), "posts") for t in _texts(p)]
    assert any(unit in t.lower() for t in texts)
    most: dict[str, float] = {}
    for load in plan.strength.post_loads:
        most[load.mark] = max(most.get(load.mark, 0.0), load.force)
    for force in most.values():
        said = f"{force * per:.2f}".rstrip("0").rstrip(".") if unit == "kn" else f"{force * per:.0f}"
        assert said in texts
