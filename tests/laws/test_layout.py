"""Laws of every layout: boards never overlap, stay inside, close their run, fit the stock, stagger, and move with the floor."""

import itertools
import math
from pathlib import Path
from runpy import run_path
from types import SimpleNamespace

import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenfoot.geom import is_simple
from evenfoot.job.kinds import Closing
from evenfoot.layout import RunWish, close_run, even_centres, lay_boards

floors = SimpleNamespace(**run_path(str(Path(__file__).parents[1] / "unit" / "layout" / "floors.py")))
TINY = 1e-6

lengths = st.floats(600.0, 9000.0).map(lambda x: round(x, 1))
rules = st.sampled_from(list(Closing))


@st.composite
def wishes(draw):
    width = draw(st.floats(60.0, 200.0))
    low = draw(st.floats(0.0, 6.0))
    gap = low + draw(st.floats(0.0, 4.0))
    high = gap + draw(st.floats(0.0, 5.0))
    rip = draw(st.floats(1.0, width))
    return RunWish(width=width, gap=gap, gap_min=low, gap_max=high, closing=draw(rules), rip_min=rip)


@st.composite
def outlines(draw):
    """Rectangles, L and U shapes, and stars that are anything but convex."""
    width, depth = draw(lengths), draw(lengths)
    kind = draw(st.sampled_from(["rectangle", "l", "u", "star"]))
    if kind == "rectangle":
        return floors.rectangle(width, depth)
    if kind == "l":
        a, b = draw(st.floats(0.2, 0.8)), draw(st.floats(0.2, 0.8))
        return ((0.0, 0.0), (width, 0.0), (width, depth * b), (width * a, depth * b), (width * a, depth), (0.0, depth))
    if kind == "u":
        a, b, c = draw(st.floats(0.15, 0.4)), draw(st.floats(0.6, 0.85)), draw(st.floats(0.2, 0.8))
        return ((0.0, 0.0), (width, 0.0), (width, depth), (width * b, depth), (width * b, depth * c),
                (width * a, depth * c), (width * a, depth), (0.0, depth))  # fmt: skip
    radii = draw(st.lists(st.floats(0.35, 1.0), min_size=5, max_size=9))
    return tuple(
        (width * r * math.cos(math.tau * i / len(radii)), depth * r * math.sin(math.tau * i / len(radii)) + depth)
        for i, r in enumerate(radii)
    )


@st.composite
def jobs(draw, shapes=outlines()):  # noqa: B008 - a strategy, not a mutable value
    direction = draw(st.sampled_from([0.0, 0.0, 90.0, 90.0, 45.0, -45.0, 30.0, -70.0, 12.5]))
    job = floors.job(
        draw(shapes),
        direction_deg=direction,
        fall=draw(st.sampled_from([0.0, 0.0125, 0.1])),
        closing=draw(rules),
        end_gap=draw(st.sampled_from([0.0, 3.0, 6.0])),
        overhang=draw(st.sampled_from([(0.0, 0.0, 0.0, 0.0), (0.0, 30.0, 25.0, 20.0)])),
        spacing_max=draw(st.sampled_from([300.0, 450.0, 600.0])),
    )
    return job, floors.yard(*draw(st.sampled_from([(4000.0,), (1800.0, 2400.0), (3000.0, 4000.0)])), end_trim=10.0)


def shapes_of(layout):
    return shapely.polygons([shapely.linearrings(piece.outline) for piece in layout.pieces])


@given(st.floats(1.0, 30_000.0), wishes())
@settings(max_examples=300, deadline=None)
def test_runs_close_exactly(extent, wish):
    run = close_run(extent=extent, wish=wish)
    total = math.fsum(run.widths) + (run.count - 1) * run.gap
    assert math.isclose(total, run.extent, rel_tol=1e-12, abs_tol=1e-9)
    assert wish.closing is Closing.MOVE_OUTLINE or run.extent == extent
    assert run.gap >= 0.0
    assert all(0.0 < width <= wish.width + TINY for width in run.widths)
    if run.is_met and run.count > 1:
        assert wish.gap_min - 1e-5 <= run.gap <= wish.gap_max + 1e-5
    if run.is_met and wish.closing in {Closing.RIP_LAST, Closing.RIP_BOTH}:
        assert min(run.widths) >= wish.rip_min - 1e-5
    if wish.closing in {Closing.EVEN_GAP, Closing.MOVE_OUTLINE} and run.is_met:
        assert all(math.isclose(width, wish.width, abs_tol=TINY) for width in run.widths)


@given(st.floats(200.0, 10_000.0), wishes())
@settings(max_examples=200, deadline=None)
def test_an_even_gap_is_met_whenever_any_count_of_boards_would_do(extent, wish):
    wish = RunWish(width=wish.width, gap=wish.gap, gap_min=wish.gap_min, gap_max=wish.gap_max,
                   closing=Closing.EVEN_GAP, rip_min=1.0)  # fmt: skip
    run = close_run(extent=extent, wish=wish)
    gaps = {n: (extent - n * wish.width) / (n - 1) for n in range(2, int(extent / wish.width) + 2)}
    good = [abs(gap - wish.gap) for gap in gaps.values() if wish.gap_min <= gap <= wish.gap_max]
    if good:
        assert run.is_met
        assert abs(run.gap - wish.gap) <= min(good) + TINY


@given(st.floats(-500.0, 500.0), st.floats(10.0, 50_000.0), st.floats(150.0, 900.0))
def test_even_centres_are_even_and_as_few_as_can_be(first, extent, widest):
    centres = even_centres(first=first, last=first + extent, spacing_max=widest)
    assert centres.lines[0] == first
    assert centres.lines[-1] == first + extent
    assert centres.spacing <= widest * (1 + 1e-9)
    assert centres.bays == 1 or extent / (centres.bays - 1) > widest
    assert all(abs(b - a - centres.spacing) < 1e-8 for a, b in itertools.pairwise(centres.lines))


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_boards_never_overlap_and_stay_inside(made):
    layout = lay_boards(*made)
    boards = shapes_of(layout)
    assert shapely.is_valid(boards).all()
    whole = shapely.Polygon(layout.outline)
    assert shapely.difference(boards, whole.buffer(1e-5)).size == len(boards)
    assert shapely.area(shapely.difference(boards, whole)).max() < 1e-2
    tree = shapely.STRtree(boards)
    left, right = tree.query(boards)
    pairs = left < right
    assert (shapely.area(shapely.intersection(boards[left[pairs]], boards[right[pairs]])) < 1e-2).all()


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_every_place_is_under_a_board_or_in_a_gap(made):
    """Boards grown by half the widest gap cover the whole outline, scraps aside."""
    layout = lay_boards(*made)
    assume(all(check.rule != "scraps-left-out" for check in layout.checks))
    job = made[0]
    skew = max(abs(math.cos(math.radians(job.floor.board.direction_deg))), math.sin(math.radians(45.0)))
    reach = max(layout.gap, job.floor.board.end_gap / skew) + 1e-3
    covered = shapely.union_all(
        shapely.buffer(shapes_of(layout), reach / 2 + 1e-3, join_style="mitre", mitre_limit=20.0)
    )
    bare = shapely.Polygon(layout.outline).buffer(-reach).difference(covered)
    assert bare.area < 1.0


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_pieces_fit_the_stock_and_joints_are_never_in_line(made):
    job, yard = made
    layout = lay_boards(job, yard)
    longest = yard.longest(species="sugi", width=105.0, depth=30.0)
    rules_found = {check.rule for check in layout.checks}
    if "boards-beyond-stock" not in rules_found:
        assert max(piece.length for piece in layout.pieces) <= longest + 1e-5
    joints = {row.number: set() for row in layout.rows}
    for piece in layout.pieces:
        for joist in (piece.start_on_joist, piece.end_on_joist):
            if joist is not None:
                joints[piece.row].add(joist)
    in_line = any(joints[a] & joints[b] for a, b in itertools.pairwise(sorted(joints)))
    assert in_line == ("joints-in-line" in rules_found)


@given(jobs())
@settings(max_examples=60, deadline=None)
def test_pieces_are_what_they_say(made):
    """Marks are single and in order, sizes equal the outline on the slope, counts equal what is there."""
    job, yard = made
    layout = lay_boards(job, yard)
    assert [(p.row, p.index) for p in layout.pieces] == sorted({(p.row, p.index) for p in layout.pieces})
    assert len({p.mark for p in layout.pieces}) == len(layout.pieces)
    turn, stretch = math.radians(job.floor.board.direction_deg), math.hypot(1.0, job.floor.fall)
    for piece in layout.pieces:
        along = [x * math.cos(turn) + y * stretch * math.sin(turn) for x, y in piece.outline]
        across = [y * stretch * math.cos(turn) - x * math.sin(turn) for x, y in piece.outline]
        assert math.isclose(max(along) - min(along), piece.length, abs_tol=TINY)
        assert math.isclose(max(across) - min(across), piece.width, abs_tol=TINY)
        assert piece.width <= 105.0 + TINY
    counts = layout.counts
    assert counts.rows == len(layout.rows)
    assert counts.pieces == len(layout.pieces)
    assert counts.joist_bays == counts.joist_lines - 1 == len(layout.joist_lines) - 1
    assert math.isclose(counts.board_length, sum(p.length for p in layout.pieces))
    starts = sum(p.start_on_joist is not None for p in layout.pieces)
    assert counts.joints == starts


@given(jobs(shapes=st.tuples(lengths, lengths).map(lambda s: floors.rectangle(*s))))
@settings(max_examples=40, deadline=None)
def test_crossings_of_a_rectangle_are_pieces_that_touch_a_joist(made):
    layout = lay_boards(*made)
    assume(layout.direction_deg in {0.0, 90.0})
    place = 0 if layout.direction_deg == 0.0 else 1
    slack = made[0].floor.board.end_gap / 2 + TINY
    touched = 0
    for piece in layout.pieces:
        low, high = piece.start[place], piece.end[place]
        joined = {j for j in (piece.start_on_joist, piece.end_on_joist) if j is not None}
        touched += sum(
            low - TINY <= line <= high + TINY or (i in joined and low - slack <= line <= high + slack)
            for i, line in enumerate(layout.joist_lines)
        )
    assert layout.screws == touched


@given(jobs(), st.floats(-5000.0, 5000.0), st.floats(0.0, 5000.0))
@settings(max_examples=40, deadline=None)
def test_moving_the_outline_moves_the_layout(made, dx, dy):
    job, yard = made
    moved = floors.job(
        tuple((x + dx, y + dy) for x, y in job.floor.outline),
        direction_deg=job.floor.board.direction_deg,
        fall=job.floor.fall,
        closing=job.floor.board.closing,
        end_gap=job.floor.board.end_gap,
        overhang=(
            job.floor.overhang.wall, job.floor.overhang.outer, job.floor.overhang.left, job.floor.overhang.right
        ),
        spacing_max=job.frame.joist.spacing_max,
    )  # fmt: skip
    here, there = lay_boards(job, yard), lay_boards(moved, yard)
    assert [row.width for row in there.rows] == approx([row.width for row in here.rows])
    assert len(here.pieces) == len(there.pieces)
    assert math.isclose(sum(shapely.area(shapes_of(here))), sum(shapely.area(shapes_of(there))), rel_tol=1e-9)
    shift = dx if here.joist_axis == "y" else dy
    assert [line - shift for line in there.joist_lines] == approx(list(here.joist_lines))
    ends = [(p.start[0] - dx, p.start[1] - dy) for p in there.pieces]
    if len(job.floor.outline) == 4:
        assert [c for end in ends for c in end] == approx([c for p in here.pieces for c in p.start])


def approx(values):
    import pytest

    return pytest.approx(values, abs=1e-6)


@given(jobs())
@settings(max_examples=25, deadline=None)
def test_the_same_job_gives_the_same_layout(made):
    assert lay_boards(*made) == lay_boards(*made)


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=3, max_size=8, unique=True))
@settings(max_examples=300, deadline=None)
def test_simple_outlines_are_those_that_a_second_opinion_calls_valid(corners):
    points = tuple((float(x), float(y)) for x, y in corners)
    assert is_simple(points) == (shapely.Polygon(points).is_valid and shapely.Polygon(points).area > 0.0)
