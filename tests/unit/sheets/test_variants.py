"""Other floors than the examples: boards at angles, other styles, small and large; drawn from changed jobs."""

from dataclasses import replace
from functools import cache
from math import hypot
from pathlib import Path

import pytest

from evenfoot.ink import Dimension, Polygon, Text
from evenfoot.ink.boxes import overlaps, strays
from evenfoot.ink.expand import flat
from evenfoot.job import kinds, read_job, read_log, read_shop
from evenfoot.plan import make_plan
from evenfoot.sheets import drawings
from evenfoot.words import Language, Speaker

JOB = Path(__file__).parents[3] / "examples" / "library-terrace" / "job.toml"


@cache
def _drawn(*, direction=0.0, style="", joint="", size=None):
    job = read_job(JOB)
    floor, frame = job.floor, job.frame
    floor = replace(floor, board=replace(floor.board, direction_deg=direction))
    if size:
        (w, d), low = size, 12.0
        floor = replace(floor, outline=((0.0, low), (w, low), (w, low + d), (0.0, low + d)))
    if style:
        frame = replace(frame, style=kinds.Style(style))
    if joint:
        kind = kinds.Joint(joint)
        frame = replace(frame, joints=replace(frame.joints, joist=kind, post_joist=kind))
    plan = make_plan(replace(job, floor=floor, frame=frame), read_shop(None, standard=job.standard), read_log(None))
    return plan, drawings(plan, Speaker(Language.ENGLISH, "mm"), "A3")


def _of(pages, code):
    return [p for p in pages if p.code == code or p.code.rsplit("-", 1)[0] == code]


VARIANTS = [
    {"direction": 45.0},
    {"direction": 30.0},
    {"direction": -60.0},
    {"direction": 90.0},
    {"style": "stacked", "joint": "bearing"},
    {"joint": "housing"},
    {"joint": "lap-over"},
    {"style": "hung", "joint": "hanger"},
    {"size": (900.0, 700.0)},
    {"size": (9000.0, 6300.0)},
]


@pytest.mark.parametrize("variant", VARIANTS, ids=str)
def test_any_floor_is_drawn_without_touching_texts_and_with_all_its_marks(variant):
    plan, pages = _drawn(**variant)
    for page in pages:
        assert [(a.text, b.text) for a, b in overlaps(page)] == [], page.code
        assert strays(page, margin=4.0) == (), page.code
    said = {s.text for p in _of(pages, "frame") for s in flat(p) if isinstance(s, Text)}
    assert {m.mark for m in plan.frame.members} <= said
    assert {p.mark for p in plan.frame.posts} <= said


@pytest.mark.parametrize("direction", [0.0, 30.0, 45.0, -45.0])
def test_row_figures_are_where_the_boards_meet_the_left_edge(direction):
    plan, pages = _drawn(direction=direction)
    stretch = hypot(1.0, plan.frame.fall)
    left = min(x for x, _ in plan.layout.outline)
    outer = max(y for _, y in plan.layout.outline)
    (page,) = _of(pages, "boards")
    found = _rows(page, "up")
    checked = 0
    for piece in plan.layout.pieces:
        on_edge = [y for x, y in piece.outline if abs(x - left) < 0.01]
        if str(piece.row) in found and len(on_edge) > 1:
            assert found[str(piece.row)] == pytest.approx(stretch * (outer - max(on_edge)), abs=0.05)
            checked += 1
    assert checked > 5


@pytest.mark.parametrize("direction", [90.0, 60.0, -60.0])
def test_row_figures_are_where_the_boards_meet_the_outer_edge(direction):
    plan, pages = _drawn(direction=direction)
    left = min(x for x, _ in plan.layout.outline)
    outer = max(y for _, y in plan.layout.outline)
    (page,) = _of(pages, "boards")
    found = _rows(page, "across")
    checked = 0
    for piece in plan.layout.pieces:
        on_edge = [x for x, y in piece.outline if abs(y - outer) < 0.01]
        if str(piece.row) in found and len(on_edge) > 1:
            near = min(on_edge) if direction > 0 else max(on_edge)
            assert found[str(piece.row)] == pytest.approx(near - left, abs=0.05)
            checked += 1
    assert checked > 5


def _rows(page, way):
    """Row numbers with the real distance at which they are marked."""
    tags = [s for s in page.shapes if isinstance(s, Text) and s.layer == "grid"]
    out = {}
    for mark in page.shapes:
        if isinstance(mark, Dimension) and mark.running == way:
            for tag in tags:
                place = tag.at[0] if way == "across" else tag.at[1]
                wanted = (mark.b[0] if way == "across" else mark.b[1]) + mark.shift + 0.765 * mark.size / 2
                if (tag.angle_deg == 90.0) is (way == "across") and abs(place - wanted) < 0.01:
                    out[tag.text] = mark.distance
    return out


def test_the_timber_that_lies_on_top_is_drawn_through():
    plan, pages = _drawn(joint="lap-over")
    (page,) = _of(pages, "frame")
    marks = {j.mark for j in plan.frame.joints if j.kind.value == "lap-over"}
    assert marks <= {s.member for s in page.shapes if isinstance(s, Polygon) and s.layer == "joint"}


def test_a_section_cuts_each_board_where_it_lies():
    plan, pages = _drawn(direction=0.0)
    (page,) = _of(pages, "section-away")
    thickness = plan.job.floor.board.thickness
    drawn = {s.member: s for s in page.shapes if isinstance(s, Polygon) and s.layer == "board"}
    for piece in plan.layout.pieces:
        ys = [y for _, y in piece.outline]
        xs, vs = zip(*drawn[piece.mark].points, strict=True)
        assert (max(xs) - min(xs)) * page.scale == pytest.approx(max(ys) - min(ys), abs=0.01)
        fall = plan.frame.fall * (max(ys) - min(ys))
        assert (max(vs) - min(vs)) * page.scale == pytest.approx(thickness + fall, abs=0.01)


@pytest.mark.slow
def test_a_thousand_square_metres_stay_on_paper():
    _, pages = _drawn(size=(32_000.0, 31_000.0))
    for page in pages:
        assert overlaps(page) == (), page.code
        assert strays(page, margin=4.0) == (), page.code
