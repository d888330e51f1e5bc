"""Labels, full-size strips and joint details: what a phone reads, what a rule measures, what is cut."""

import math

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from evenfoot.ink import Dimension, Line, Polygon, Text
from evenfoot.ink.boxes import overlaps, strays
from evenfoot.press import pdf_of
from evenfoot.sheets import labels, strips
from evenfoot.sheets.drafting.code import QUIET, square_code
from evenfoot.words import Language, Speaker

SETS = [("en", "mm", "A3"), ("ja", "shaku", "A4"), ("en", "ft", "letter")]


def speaker(language, unit):
    return Speaker(Language(language), unit)


@pytest.mark.slow
@pytest.mark.parametrize("sets", SETS)
def test_labels_and_strips_are_readable(plan_of, job, sets):
    language, unit, paper = sets
    for page in (
        *labels(plan_of(job), speaker(language, unit), paper),
        *strips(plan_of(job), speaker(language, unit), paper),
    ):
        assert [(a.text, b.text) for a, b in overlaps(page)] == [], page.code
        assert strays(page) == (), page.code
        assert min(t.size for t in page.shapes if isinstance(t, Text) and t.text) * 0.765 >= 2.5


@pytest.mark.slow
def test_every_piece_has_one_label_with_its_own_code(plan_of, job):
    plan = plan_of(job)
    pages = labels(plan, speaker("en", "mm"), "A3")
    wanted = [m.mark for m in plan.frame.members] + [c.mark for c in plan.posts.cuts if c.is_cut]
    wanted += [p.mark for p in plan.layout.pieces]
    boxes = [s.member for page in pages for s in page.shapes if isinstance(s, Polygon) and s.layer == "label"]
    assert sorted(boxes) == sorted(wanted)
    coded = {s.member for page in pages for s in page.shapes if isinstance(s, Polygon) and s.layer == "code"}
    assert coded == set(wanted)


@pytest.mark.slow
def test_labels_come_in_the_order_in_which_timbers_are_set(plan_of):
    plan = plan_of("library-terrace")
    order = {mark: step.number for step in plan.joinery.steps for mark in step.marks}
    pages = labels(plan, speaker("en", "mm"), "A3")
    boxes = [s.member for page in pages for s in page.shapes if isinstance(s, Polygon) and s.layer == "label"]
    steps = [order[mark] for mark in boxes if mark in order]
    assert steps == sorted(steps)


@pytest.mark.parametrize("mark", ["A1-4", "1A-I", "b25.1", "k12", "C2"])
def test_a_code_holds_its_mark(mark):
    """Drawn, rasterised and read by another library's own rules for finding the modules."""
    import segno

    size = 24.0
    shapes = square_code(mark, (0.0, 0.0), size)
    wanted = np.array([list(row) for row in segno.make(mark, micro=False, error="m", boost_error=False).matrix])
    count = len(wanted) + 2 * QUIET
    grid = np.zeros((count, count), dtype=int)
    for shape in shapes:
        (x0, y0), (x1, y1) = shape.points[0], shape.points[2]
        a, b, c, d = (round(v / size * count) for v in (x0, x1, y0, y1))
        assert math.isclose(x0, a * size / count, abs_tol=1e-9)
        assert d - c == 1
        grid[c, a:b] += 1
    assert (grid[QUIET:-QUIET, QUIET:-QUIET] == wanted).all()
    assert grid.sum() == wanted.sum()
    # Three corners hold the finder pattern that every reader looks for (ISO/IEC 18004, 5.3.2).
    finder = np.ones((7, 7), dtype=int)
    finder[1:6, 1:6] = 0
    finder[2:5, 2:5] = 1
    inner = grid[QUIET:-QUIET, QUIET:-QUIET]
    for corner in (inner[:7, :7], inner[:7, -7:], inner[-7:, :7]):
        assert (corner == finder).all()


@pytest.mark.slow
def test_strips_are_true_at_full_size(plan_of, job):
    plan = plan_of(job)
    pages = strips(plan, speaker("en", "mm"), "A3")
    for page in pages:
        assert page.scale == 1.0
        for shape in page.shapes:
            if isinstance(shape, Dimension):
                assert math.dist(shape.a, shape.b) == pytest.approx(shape.distance, abs=1e-6)


@pytest.mark.slow
def test_pieces_of_a_strip_join_to_the_whole(plan_of):
    plan = plan_of("library-terrace")
    pages = strips(plan, speaker("en", "mm"), "A3")
    outlines = [s for page in pages for s in page.shapes if isinstance(s, Polygon) and s.layer == "strip"]
    lengths = [s.points[1][0] - s.points[0][0] for s in outlines]
    rows, (low, high) = plan.layout.rows, plan.layout.frame_x
    assert math.fsum(lengths) == pytest.approx(max(r.far for r in rows) + high - low)
    edges = [
        s for page in pages for s in page.shapes if isinstance(s, Line) and s.layer == "strip" and s.a[0] == s.b[0]
    ]
    assert len(edges) >= 2 * len(rows) + 2 * len(plan.layout.joist_lines)


@pytest.mark.slow
def test_the_control_bar_prints_at_its_length(plan_of):
    page = strips(plan_of("library-terrace"), speaker("en", "mm"), "A4")[0]
    scale = 300 / 72
    picture = pypdfium2.PdfDocument(pdf_of((page,), title="t"))[0].render(scale=scale).to_pil()
    bars = [s for s in page.shapes if isinstance(s, Polygon) and s.layer == "control"]
    y = round((bars[0].points[0][1] + 1.25) / 25.4 * 300)
    row = np.asarray(picture.convert("L"), dtype=int)[y]
    left = round((bars[0].points[0][0] - 2.0) / 25.4 * 300)
    dark = np.flatnonzero(row[left : left + round(104 / 25.4 * 300)] < 128)
    assert isinstance(picture, Image.Image)
    # 100 mm at 300 dots an inch, within two dots for the line widths.
    assert dark[-1] - dark[0] == pytest.approx(100 / 25.4 * 300, abs=3)


@pytest.mark.slow
def test_joint_details_measure_what_the_joints_are(plan_of, pages_of, job):
    plan = plan_of(job)
    pages = [p for p in pages_of(job) if p.code.startswith("joints")]
    assert pages
    told = {round(s.distance, 3) for page in pages for s in page.shapes if isinstance(s, Dimension) and s.member}
    for joint in plan.frame.joints:
        if joint.cut_upper > 0:
            assert round(joint.cut_upper, 3) in told
    for page in pages:
        for s in page.shapes:
            if isinstance(s, Dimension):
                assert math.dist(s.a, s.b) * page.scale == pytest.approx(s.distance, abs=1e-6)
