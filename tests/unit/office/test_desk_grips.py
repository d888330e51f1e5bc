"""What can be dragged on a plan: where it lies on the paper, and what a drag writes into the job."""

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.job import files, kinds
from evenfoot.office import Request, reckon, speaker_for
from evenfoot.office.desk.grips import drag_changes, grips_of, names_of
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.typing import change_job
from evenfoot.press import svg_of
from evenfoot.sheets import drawing, on_screen
from evenfoot.units import parse_length
from evenfoot.words import Language

ROOT = Path(__file__).parents[3]
EXAMPLES = ("library-terrace", "side-door-landing", "marsh-boardwalk")


def text_of(name):
    return (ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8")


@cache
def plan_of(name):
    return reckon(Request(job=ROOT / "examples" / name / "job.toml"))


@cache
def planned(text):
    return Desk().plan(1, Texts(job=text))


def pages(plan, name):
    speaker = speaker_for(plan, Language.ENGLISH)
    yield from drawing(plan, speaker, "A3", name)
    yield from (shown.page for shown in on_screen(plan, speaker, name))


def real_corners(root, group):
    """Corners of the polygons of a group in mm on the floor, by the figures that the drawing carries."""
    scale, x0, y0 = (float(root.get(f"data-{key}")) for key in ("scale", "x0", "y0"))
    for polygon in group.iter("{http://www.w3.org/2000/svg}polygon"):
        points = [tuple(map(float, pair.split(","))) for pair in polygon.get("points").split()]
        yield [((x - x0) * scale, (y0 - y) * scale) for x, y in points]


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("sheet", ["frame", "ground", "boards"])
def test_a_point_of_the_paper_is_found_on_the_floor(name, sheet):
    """Footings and boards read off the SVG alone lie where the plan has them, to the hundredth of a mm of paper."""
    plan = plan_of(name)
    posts = {p.mark: (p.x, p.y) for p in plan.frame.posts}
    boards = {p.mark: p for p in plan.layout.pieces}
    seen = set()
    for page in pages(plan, sheet):
        root = ET.fromstring(svg_of(page))
        near = 0.0051 * page.scale
        for group in root.iter("{http://www.w3.org/2000/svg}g"):
            mark, layer = group.get("data-member"), group.get("data-layer")
            for corners in real_corners(root, group):
                xs, ys = zip(*corners, strict=True)
                if (
                    layer in {"footing", "post"}
                    and sheet != "boards"
                    and len(corners) == 4
                    and max(xs) - min(xs) > 50.0
                ):
                    whole = abs((max(xs) - min(xs)) - (max(ys) - min(ys))) < 2 * near
                    if not whole:
                        continue
                    middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
                    assert middle == pytest.approx(posts[mark], abs=near)
                    seen.add(mark)
                if layer == "board" and mark in boards and sheet == "boards":
                    assert max(ys) <= max(y for _, y in boards[mark].outline) + near
                    assert min(xs) >= min(x for x, _ in boards[mark].outline) - near
                    seen.add(mark)
    assert len(seen) > (len(boards) if sheet == "boards" else len(posts)) / 2, "some lie across the edge of a sheet"


def test_a_drawing_that_is_no_plan_has_no_floor_coordinates():
    page = drawing(
        plan_of("library-terrace"), speaker_for(plan_of("library-terrace"), Language.ENGLISH), "A3", "sides"
    )[0]
    assert "data-x0" not in svg_of(page)


@pytest.mark.parametrize(
    ("side", "by", "box"),
    [
        ("right", 130.0, (0.0, 130.0, 0.0, 0.0)),
        ("left", -70.0, (-70.0, 0.0, 0.0, 0.0)),
        ("outer", 215.0, (0.0, 0.0, 0.0, 215.0)),
        ("house", 8.0, (0.0, 0.0, 8.0, 0.0)),
    ],
)
def test_a_dragged_edge_lies_where_it_was_left_and_the_others_stay(side, by, box):
    text = text_of("marsh-boardwalk")
    before = planned(text)
    grip = next(g for g in grips_of(before, speaker_for(before, Language.ENGLISH)) if g.id == side)
    changes = drag_changes(text, before, kind="edge", name=side, to_mm=grip.at_mm + by)
    after = files.parse_job(change_job(text, changes)).floor.outline
    edges = [
        f([p[axis] for p in corners])
        for corners in (before.job.floor.outline, after)
        for axis in (0, 1)
        for f in (min, max)
    ]
    moved = [new - old for old, new in zip(edges[:4], edges[4:], strict=True)]
    assert moved == pytest.approx(box, abs=0.26), "to half of the half millimetre that is typed"


def test_a_drag_is_typed_in_the_unit_of_the_job():
    for name, typed in (("side-door-landing", "9' 2 1/2\""), ("library-terrace", "2806.5")):
        plan = plan_of(name)
        x0 = min(x for x, _ in plan.job.floor.outline)
        changes = drag_changes(text_of(name), plan, kind="edge", name="right", to_mm=x0 + 2806.7)
        assert changes == {"floor.width": typed}


@pytest.mark.parametrize("is_clockwise", [False, True])
def test_a_floor_typed_by_its_corners_keeps_them(is_clockwise):
    corners = [(0, 12), (3640, 12), (3640, 2740), (0, 2740)]
    rows = ", ".join(f"[{x}, {y}]" for x, y in (corners[::-1] if is_clockwise else corners))
    text = text_of("library-terrace").replace('width = "12尺"\ndepth = "9尺"\nwall_gap = 12\n', f"outline = [{rows}]\n")
    plan = planned(text)
    changed = change_job(text, drag_changes(text, plan, kind="edge", name="outer", to_mm=2900.0))
    typed = tomllib.loads(changed)["floor"]["outline"]
    assert sorted(map(tuple, typed)) == [(0, 12), (0, 2900), (3640, 12), (3640, 2900)]
    assert len(plan.job.floor.outline) == len(files.parse_job(changed).floor.outline) == 4


def test_whole_boards_catch_the_outer_edge():
    plan = plan_of("library-terrace")
    outer = next(g for g in grips_of(plan, speaker_for(plan, Language.ENGLISH)) if g.id == "outer")
    board = plan.job.floor.board
    first = min(y for _, y in plan.job.floor.outline)
    for count in (10, 24, 30):
        assert any(
            abs(stop - (first + count * board.width + (count - 1) * board.gap)) < 1e-9 for stop in outer.stops_mm
        )
    assert all(outer.range_mm[0] <= stop <= outer.range_mm[1] for stop in outer.stops_mm)


def test_what_cannot_be_dragged_is_told():
    plan = plan_of("library-terrace")
    with pytest.raises(OutOfRangeError) as caught:
        drag_changes(text_of("library-terrace"), plan, kind="edge", name="roof", to_mm=1.0)
    assert caught.value.faults[0].code == "grip-unknown"


@pytest.mark.parametrize("language", Language)
def test_every_mark_has_a_name_to_be_read_out(language):
    plan = plan_of("library-terrace")
    names = names_of(plan, speaker_for(plan, language))
    assert names["1A-I"] == {"en": "beam 1A-I", "ja": "大引 1い-り"}[language]
    assert names["b1.1"].endswith("b1.1")


def test_a_dragged_line_of_posts_is_where_it_was_left_and_its_beams_span_that_far():
    """From the drag to the strength: the longest bay of the beams is the one that the drag made."""
    text = text_of("marsh-boardwalk")
    plan = planned(text)
    grips = [g for g in grips_of(plan, speaker_for(plan, Language.ENGLISH)) if g.kind == "posts"]
    assert [g.axis for g in grips] == ["y"] * len(grips)
    assert [g.at_mm for g in grips] == pytest.approx(sorted({p.y for p in plan.frame.posts}))
    assert not grips[0].is_bound
    changes = drag_changes(text, plan, kind="posts", name="1", to_mm=grips[0].at_mm + 120.0)
    after = planned(change_job(text, changes))
    ys = sorted({p.y for p in after.frame.posts})
    assert ys == pytest.approx([grips[0].at_mm + 120.0, grips[1].at_mm], abs=0.26)
    spans = {s.span for s in after.strength.sags if after.frame.member(s.mark).role == "beam"}
    assert max(spans) == pytest.approx(ys[1] - ys[0], rel=0.001), "a beam lies level, so true and plan length agree"
    assert {s.span for s in plan.strength.sags} != spans


def test_lapped_posts_stop_at_joists_alone():
    plan = plan_of("library-terrace")
    grips = [g for g in grips_of(plan, speaker_for(plan, Language.ENGLISH)) if g.kind == "posts"]
    assert all(g.is_bound and set(g.stops_mm) <= set(plan.layout.joist_lines) for g in grips)
    second = grips[1]
    to = max(stop for stop in second.stops_mm if stop < second.at_mm)
    text = text_of("library-terrace")
    after = planned(change_job(text, drag_changes(text, plan, kind="posts", name="2", to_mm=to)))
    lines = sorted({p.x for p in after.frame.posts})
    assert lines[1] == pytest.approx(to)
    assert len(lines) == len(grips)


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "ft", "shaku"])
def test_lines_of_posts_survive_typing_in_every_unit(unit):
    """Half a millimetre, a sixteenth of an inch and a rin all say which joist is meant."""
    plan = plan_of("library-terrace")
    turned = replace(plan, job=replace(plan.job, unit=kinds.Unit(unit)))
    to = plan.layout.joist_lines[1]
    typed = drag_changes(text_of("library-terrace"), turned, kind="posts", name="1", to_mm=to)["frame.post_lines"]
    read = [float(parse_length(part, unit=unit)) for part in typed.split(",")]
    meant = sorted([to, *sorted({p.x for p in plan.frame.posts})[1:]])
    assert read == pytest.approx(meant, abs=0.8)
