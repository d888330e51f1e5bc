"""What lay_boards gives: rows from the seen edge, joists from the frame faces, joints, moved outlines, refusals."""

import math
from pathlib import Path
from runpy import run_path
from types import SimpleNamespace

import pytest

from evenfoot.errors import NoSolutionError, OutOfRangeError
from evenfoot.job.kinds import Closing
from evenfoot.layout import Axis, board_span, even_centres, fit_stock, lay_boards

floors = SimpleNamespace(**run_path(str(Path(__file__).with_name("floors.py"))))
L_SHAPE = ((0.0, 0.0), (6000.0, 0.0), (6000.0, 2000.0), (3000.0, 2000.0), (3000.0, 4000.0), (0.0, 4000.0))


def lay(outline, *lengths, trim=0.0, **changes):
    yard = floors.yard(*lengths, width=changes.get("width", 105.0), end_trim=trim)
    return lay_boards(floors.job(outline, **changes), yard)


def rules(layout):
    return [(c.rule, c.verdict.value) for c in layout.checks]


def test_boards_along_the_wall_are_numbered_from_the_outer_edge():
    layout = lay(floors.rectangle(3700.0, 1509.0, x=10.0, y=20.0), 4000.0, gap=3.0)
    first, last = layout.pieces[0], layout.pieces[-1]
    assert first.outline == ((10.0, 1424.0), (3710.0, 1424.0), (3710.0, 1529.0), (10.0, 1529.0))
    assert last.outline == ((10.0, 20.0), (3710.0, 20.0), (3710.0, 125.0), (10.0, 125.0))
    assert (first.start, first.end) == ((10.0, 1476.5), (3710.0, 1476.5))
    assert (first.mark, last.mark) == ("b1.1", "b14.1")
    assert (layout.rows[0].near, layout.rows[0].far, layout.rows[-1].far) == (0.0, 105.0, 1509.0)
    assert (first.length, first.width) == (3700.0, 105.0)


def test_boards_away_from_the_house_are_numbered_from_the_left():
    layout = lay(floors.rectangle(1509.0, 3700.0), 4000.0, gap=3.0, direction_deg=90.0)
    first = layout.pieces[0]
    assert first.outline == ((105.0, 0.0), (105.0, 3700.0), (0.0, 3700.0), (0.0, 0.0))
    assert (first.start, first.end) == ((52.5, 0.0), (52.5, 3700.0))
    assert layout.pieces[-1].outline[0] == (1509.0, 0.0)
    assert layout.joist_axis is Axis.X


def test_the_rip_lies_at_the_house():
    layout = lay(floors.rectangle(3000.0, 1180.0), 4000.0, closing=Closing.RIP_LAST)
    assert [row.width for row in layout.rows] == [105.0] * 10 + [80.0]
    assert [piece.is_ripped for piece in layout.pieces] == [False] * 10 + [True]
    assert layout.pieces[-1].outline[0] == (0.0, 0.0)


@pytest.mark.parametrize(
    ("direction", "axis"),
    [(0.0, Axis.Y), (45.0, Axis.Y), (-45.0, Axis.Y), (45.1, Axis.X), (-46.0, Axis.X), (90.0, Axis.X)],
)
def test_joists_run_across_the_boards_as_near_as_can_be(direction, axis):
    assert lay(floors.rectangle(3000.0, 2000.0), 4000.0, direction_deg=direction).joist_axis is axis


def test_joists_stand_flush_with_the_frame_faces_at_even_centres():
    layout = lay(floors.rectangle(4000.0, 3000.0, x=100.0, y=5.0), 4000.0, overhang=(0.0, 25.0, 30.0, 20.0))
    assert layout.frame_x == (130.0, 4080.0)
    assert layout.frame_y == (5.0, 2980.0)
    assert (layout.joist_lines[0], layout.joist_lines[-1]) == (152.5, 4057.5)
    gaps = [b - a for a, b in zip(layout.joist_lines, layout.joist_lines[1:], strict=False)]
    assert gaps == pytest.approx([layout.joist_spacing] * len(gaps))
    assert len(gaps) == math.ceil(3905.0 / 450.0)


def test_boards_away_from_the_house_lie_on_joists_across():
    layout = lay(floors.rectangle(3000.0, 2000.0), 4000.0, direction_deg=90.0, overhang=(10.0, 30.0, 0.0, 0.0))
    assert (layout.joist_lines[0], layout.joist_lines[-1]) == (32.5, 1947.5)


def test_a_fall_lengthens_what_runs_outward():
    """A 3-4-5 slope: 4 m of plan are 5 m of floor."""
    outward = lay(floors.rectangle(1509.0, 4000.0), 6000.0, gap=3.0, direction_deg=90.0, fall=0.75)
    assert outward.pieces[0].length == 5000.0
    along = lay(floors.rectangle(3000.0, 1509.0 * 0.8), 6000.0, gap=3.0, fall=0.75)
    assert along.counts.rows == 14
    assert along.gap == pytest.approx(3.0, abs=1e-9)
    assert along.rows[-1].far == pytest.approx(1509.0, abs=1e-9)
    assert along.pieces[0].width == pytest.approx(105.0)
    assert along.pieces[0].outline[2][1] - along.pieces[0].outline[1][1] == pytest.approx(84.0)


def test_joints_stand_on_joists_with_the_end_gap_centred():
    layout = lay(floors.rectangle(7000.0, 1000.0), 4000.0, end_gap=4.0)
    left, right = layout.pieces[:2]
    line = layout.joist_lines[left.end_on_joist]
    assert left.end_on_joist == right.start_on_joist
    assert (left.start_on_joist, right.end_on_joist) == (None, None)
    assert (left.end[0], right.start[0]) == (line - 2.0, line + 2.0)
    assert left.length + right.length == pytest.approx(7000.0 - 4.0)


def test_joints_across_a_falling_floor_stand_on_their_joists_too():
    layout = lay(floors.rectangle(1000.0, 7000.0), 4000.0, direction_deg=90.0, fall=0.02, end_gap=4.0)
    left, right = layout.pieces[:2]
    stretch = math.hypot(1.0, 0.02)
    assert (left.end[1] + right.start[1]) / 2 == pytest.approx(layout.joist_lines[left.end_on_joist], abs=1e-9)
    assert (right.start[1] - left.end[1]) * stretch == pytest.approx(4.0, abs=1e-9)


def test_end_trims_count_against_the_stock():
    assert len(lay(floors.rectangle(4000.0, 545.0), 4000.0).pieces) == 5
    assert len(lay(floors.rectangle(4000.0, 545.0), 4000.0, trim=1.0).pieces) == 10


def test_angled_boards_are_cut_along_their_joists():
    layout = lay(floors.rectangle(6000.0, 5000.0), 3000.0, direction_deg=30.0, end_gap=4.0)
    joined = [p for p in layout.pieces if p.end_on_joist is not None]
    assert joined
    for piece in joined:
        line = layout.joist_lines[piece.end_on_joist]
        on_cut = [x for x, _ in piece.outline if abs(x - line + 2.0) < 1e-6]
        assert len(on_cut) == 2
        assert piece.is_shaped
        assert piece.end[0] == pytest.approx(line - 2.0, abs=1e-6)


@pytest.mark.parametrize("direction", [-60.0, -75.0, 60.0, 75.0])
def test_steep_boards_name_the_joists_that_they_end_on(direction):
    layout = lay(floors.rectangle(3000.0, 6000.0), 2500.0, direction_deg=direction, end_gap=4.0)
    joined = [p for p in layout.pieces if p.end_on_joist is not None]
    assert joined
    for piece in joined:
        assert abs(piece.end[1] - layout.joist_lines[piece.end_on_joist]) == pytest.approx(2.0, abs=1e-6)


def test_an_l_shaped_floor_has_rows_of_two_lengths():
    layout = lay(L_SHAPE, 6000.0)
    lengths = {piece.length for piece in layout.pieces if not piece.is_shaped}
    assert lengths == {3000.0, 6000.0}
    assert layout.frame_x == (30.0, 5970.0)


def test_a_row_across_a_notch_is_two_boards():
    notched = ((0.0, 0.0), (5000.0, 0.0), (5000.0, 2000.0), (3500.0, 2000.0), (3500.0, 900.0), (1500.0, 900.0),
               (1500.0, 2000.0), (0.0, 2000.0))  # fmt: skip
    layout = lay(notched, 6000.0)
    first = [piece for piece in layout.pieces if piece.row == 1]
    assert [(p.mark, p.length, p.start[0]) for p in first] == [("b1.1", 1500.0, 0.0), ("b1.2", 1500.0, 3500.0)]


def test_a_board_that_an_edge_runs_through_is_ripped_and_shaped():
    layout = lay(((0.0, 0.0), (6000.0, 0.0), (6000.0, 1050.0), (3000.0, 1050.0), (3000.0, 1509.0), (0.0, 1509.0)),
                 6000.0, gap=3.0)  # fmt: skip
    (cut,) = [piece for piece in layout.pieces if piece.is_shaped]
    assert cut.is_ripped
    assert cut.width == 105.0


def test_whole_boards_at_a_corner_are_no_rips():
    """Boards at 45 degrees end in triangles, cut across but not along."""
    layout = lay(floors.rectangle(4000.0, 3000.0), 6000.0, direction_deg=45.0)
    assert not any(piece.is_ripped for piece in layout.pieces)
    assert all(piece.is_shaped for piece in layout.pieces)


def test_every_crossing_is_counted():
    layout = lay(floors.rectangle(4000.0, 1509.0), 6000.0, gap=3.0)
    assert layout.counts.crossings == 14 * len(layout.joist_lines)
    jointed = lay(floors.rectangle(7000.0, 1509.0), 4000.0, gap=3.0)
    assert jointed.counts.crossings == 14 * (len(jointed.joist_lines) + 1)
    assert jointed.counts.joints == 14


def test_move_outline_moves_the_outer_edge_and_says_by_how_much():
    layout = lay(floors.rectangle(3000.0, 1500.0, y=7.0), 4000.0, gap=3.0, closing=Closing.MOVE_OUTLINE)
    assert layout.outline == floors.rectangle(3000.0, 1509.0, y=7.0)
    assert layout.frame_y == (7.0, 1486.0)
    (check,) = [c for c in layout.checks if c.rule == "outline-moved-out"]
    assert check.demand == pytest.approx(9.0)
    assert (check.fact("from_mm"), check.fact("to_mm")) == (1500.0, 1509.0)


def test_move_outline_moves_the_right_edge_of_boards_away_from_the_house():
    layout = lay(floors.rectangle(1520.0, 3000.0), 4000.0, gap=3.0, direction_deg=90.0, closing=Closing.MOVE_OUTLINE)
    assert layout.outline == floors.rectangle(1509.0, 3000.0)
    assert ("outline-moved-in", "ok") in rules(layout)


def test_move_outline_says_nothing_when_nothing_moves():
    layout = lay(floors.rectangle(3000.0, 1509.0), 4000.0, gap=3.0, closing=Closing.MOVE_OUTLINE)
    assert not [rule for rule, _ in rules(layout) if rule.startswith("outline")]


def test_an_outline_without_an_edge_along_the_boards_cannot_move():
    layout = lay(floors.rectangle(3000.0, 1500.0), 4000.0, direction_deg=45.0, closing=Closing.MOVE_OUTLINE)
    assert ("outline-cannot-move", "fails") in rules(layout)
    assert layout.outline == floors.rectangle(3000.0, 1500.0)


def test_moving_keeps_the_other_corners_where_they_were():
    slanted = ((0.1, 0.3), (4000.7, 0.3), (3500.0, 1500.0), (500.0, 1500.0))
    layout = lay(slanted, 6000.0, gap=3.0, closing=Closing.MOVE_OUTLINE, fall=0.0125)
    assert layout.outline[:2] == slanted[:2]
    assert (layout.outline[2][1] - 0.3) * math.hypot(1.0, 0.0125) == pytest.approx(1509.0, abs=1e-9)


@pytest.mark.parametrize(
    ("outline", "code", "where", "found"),
    [
        (
            ((0.0, 0.0), (2000.0, 2000.0), (2000.0, 0.0), (0.0, 2000.0)),
            "outline-not-simple",
            "floor.outline",
            "4 corners",
        ),
        (floors.rectangle(3000.0, 2000.0)[::-1], "outline-not-simple", "floor.outline", "4 corners"),
        (floors.rectangle(60.0, 2000.0), "no-frame-between-overhangs", "floor.overhang", "-90 mm"),
        (floors.rectangle(3000.0, 110_000.0 * 21), "too-many-boards", "floor.outline", "21000"),
        (floors.rectangle(3e6, 20_000.0), "too-many-boards", "floor.outline", None),
    ],
)
def test_impossible_outlines_are_refused_at_once(outline, code, where, found):
    with pytest.raises(NoSolutionError) as refused:
        lay(outline, 4000.0)
    assert (refused.value.fault.code, refused.value.fault.where) == (code, where)
    if found is not None:
        assert refused.value.fault.found == found


def test_joists_that_would_touch_are_refused():
    with pytest.raises(NoSolutionError) as refused:
        lay(floors.rectangle(3000.0, 2000.0), 4000.0, spacing_max=45.0)
    fault = refused.value.fault
    assert (fault.code, fault.where, fault.found) == ("joists-too-close", "frame.joist.spacing_max", "45 mm")


def test_even_centres_never_pass_the_widest_spacing_and_never_waste_a_bay():
    assert even_centres(first=0.0, last=900.0, spacing_max=300.0).bays == 3
    assert even_centres(first=0.0, last=900.0001, spacing_max=300.0).bays == 4
    assert even_centres(first=0.0, last=3.0 * 0.1, spacing_max=0.1).bays == 3


@pytest.mark.parametrize(
    ("first", "last", "spacing", "code"),
    [(5.0, 5.0, 300.0, "no-room-for-joists"), (0.0, 900.0, 0.0, "spacing-not-positive")],
)
def test_even_centres_refuse_what_has_none(first, last, spacing, code):
    with pytest.raises(OutOfRangeError) as refused:
        even_centres(first=first, last=last, spacing_max=spacing)
    assert refused.value.fault.code == code


@pytest.mark.parametrize("angle", [0.0, -10.0, 90.1])
def test_a_board_along_its_joists_spans_nothing(angle):
    with pytest.raises(OutOfRangeError) as refused:
        board_span(spacing=450.0, angle_deg=angle)
    assert (refused.value.fault.code, refused.value.fault.where) == ("board-along-joist", "angle_deg")


def test_the_layout_knows_how_far_its_boards_span():
    square = lay(floors.rectangle(3000.0, 2000.0), 4000.0)
    assert square.board_span == square.joist_spacing
    for direction in (30.0, -30.0, 60.0, -60.0):
        angled = lay(floors.rectangle(3000.0, 2000.0), 4000.0, direction_deg=direction)
        assert angled.board_span == pytest.approx(angled.joist_spacing / math.cos(math.radians(30.0)))


def test_no_stock_is_refused_with_what_there_is():
    with pytest.raises(NoSolutionError) as refused:
        fit_stock(5000.0, stock=(3000.0, 4000.0), end_trim=10.0)
    assert (refused.value.fault.code, refused.value.fault.found) == ("board-beyond-stock", "5000 mm")
    assert refused.value.fault.allowed == "3980 mm"
