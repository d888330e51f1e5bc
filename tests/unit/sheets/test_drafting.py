"""The tools of the drawing board against independent geometry, closed forms and properties."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from evenfoot.errors import OutOfRangeError
from evenfoot.frame import Role
from evenfoot.ink import Line, Pen, Text
from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.plan import make_plan
from evenfoot.sheets import drawing
from evenfoot.sheets.drafting import placing
from evenfoot.sheets.drafting.chain import Station, merged, spread, thinned
from evenfoot.sheets.drafting.grain import end_grain, long_grain
from evenfoot.sheets.drafting.paper import Area, paper_named
from evenfoot.sheets.drafting.placing import Label, Placer, Spot, bounds_of, crosses
from evenfoot.sheets.drafting.scale import INCH, METRIC, Room, between, fitting, spans
from evenfoot.sheets.drafting.view import View
from evenfoot.words import Language, Speaker

coordinate = st.floats(-300, 300, allow_nan=False).map(lambda v: round(v, 2))
point = st.tuples(coordinate, coordinate)
VIEW = View(ratio=20.0, u=(-100.0, 137.0), v=(-50.0, 93.0), left=40.0, bottom=200.0)
WINDOW = box(-100.0, -50.0, 137.0, 93.0)


def test_a_view_puts_its_corner_where_it_says_and_keeps_the_ratio():
    assert VIEW.at((-100.0, -50.0)) == (40.0, 200.0)
    a, b = VIEW.at((0.0, 0.0)), VIEW.at((30.0, 40.0))
    assert math.dist(a, b) * 20.0 == pytest.approx(50.0, abs=1e-9)
    assert b[1] < a[1], "up in the world is up on paper"


@settings(max_examples=150)
@given(point, point)
def test_a_clipped_line_is_what_lies_in_the_window(a, b):
    kept = VIEW.clip_line(a, b)
    wanted = LineString([a, b]).intersection(WINDOW) if a != b else None
    if wanted is None:
        return
    length = math.dist(*kept) if kept else 0.0
    assert length == pytest.approx(wanted.length, abs=1e-5)


@settings(max_examples=150)
@given(point, point, st.tuples(coordinate, coordinate, st.floats(0.1, 200), st.floats(0.1, 200)))
def test_a_line_crosses_a_box_where_a_part_of_it_lies_inside(a, b, window):
    left, top, wide, high = window
    gap = box(left, top, left + wide, top + high).distance(LineString([a, b]))
    if gap == 0.0 or gap > 1e-5:  # nearer than that, a touch is a matter of rounding
        assert crosses(a, b, (left, top, left + wide, top + high)) is (gap == 0.0)


@given(st.lists(point, min_size=3, max_size=3, unique=True))
def test_a_clipped_triangle_has_the_area_in_the_window(points):
    triangle = Polygon(points)
    kept = VIEW.clip_area(tuple(points))
    area = Polygon(kept).area if len(kept) > 2 else 0.0
    assert area == pytest.approx(triangle.intersection(WINDOW).area, abs=1e-4)


@settings(max_examples=100)
@given(st.lists(st.floats(0, 200), min_size=1, max_size=30).map(sorted), st.floats(1, 8))
def test_spread_texts_keep_order_and_distance_and_stay_where_there_is_room(wanted, pitch):
    moved = spread(tuple(wanted), pitch, (-400.0, 600.0))
    assert all(b - a >= pitch - 1e-9 for a, b in pairwise(moved))
    if all(b - a >= pitch for a, b in pairwise(wanted)):
        assert moved == pytest.approx(wanted, abs=1e-9)


def test_spread_moves_two_texts_equally_and_no_others():
    assert spread((10.0, 11.0, 40.0), 4.0, (0.0, 100.0)) == pytest.approx((8.5, 12.5, 40.0))


def test_spread_stays_in_its_room():
    assert spread((0.5, 1.0, 1.5), 4.0, (0.0, 100.0)) == pytest.approx((0.0, 4.0, 8.0))


def test_stations_on_one_place_become_one_with_both_marks():
    stations = (Station(distance=200.0, tag="B"), Station(distance=0.0), Station(distance=200.1, tag="5"))
    assert [(s.distance, s.tag) for s in merged(stations)] == [(0.0, ""), (200.0, "B 5")]


def test_thinning_keeps_the_first_and_the_last_and_even_steps():
    stations = tuple(Station(distance=100.0 * k, tag=str(k + 1)) for k in range(31))
    assert thinned(stations, 20.0) == stations
    kept = [s.tag for s in thinned(stations, 50.0)]
    assert kept == ["1", "6", "11", "16", "21", "26", "31"]


@pytest.mark.parametrize(
    ("width", "height", "ratio"),
    [
        (3000.0, 1000.0, 10.0),
        (3000.1, 1000.0, 20.0),
        (3000.0, 2000.1, 20.0),
        (7500.0, 100.0, 25.0),
        (99_000.0, 1.0, 50.0),
    ],
)
def test_the_largest_scale_that_fits_is_taken(width, height, ratio):
    choices = tuple(s for s in METRIC if s.ratio >= 10)
    assert fitting(choices, Room(width=300.0, height=200.0), width=width, height=height, coarsest=50.0).ratio == ratio


def test_scales_are_named_as_they_are():
    for scale in METRIC:
        assert scale.name == f"1:{scale.ratio:g}"
    for scale in INCH:
        inches = sum(_fraction(part) for part in scale.name.split('"')[0].split())
        assert 12.0 / inches == pytest.approx(scale.ratio)
        assert f"(1:{scale.ratio:g})" in scale.name


def _fraction(text):
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom or 1)


@settings(max_examples=100)
@given(st.floats(100, 50_000), st.floats(1000, 9000), st.integers(2, 60))
def test_spans_cover_without_gap_and_none_is_too_long(length, capacity, count):
    stops = between(tuple(length * k / count for k in range(count + 1)))
    parts = spans(0.0, length, capacity, stops)
    assert parts[0][0] == 0.0
    assert parts[-1][1] == pytest.approx(length)
    assert all(a[1] == b[0] for a, b in pairwise(parts))
    assert all(b - a <= capacity + 1e-6 for a, b in parts)


def test_spans_are_parted_between_lines_where_they_can_be():
    stops = between((0.0, 4000.0, 8000.0, 12_000.0))
    assert spans(0.0, 12_000.0, 7000.0, stops) == ((0.0, 6000.0), (6000.0, 12_000.0))


@pytest.mark.parametrize("is_board", [False, True])
def test_rings_stay_inside_the_end_and_repeat(is_board):
    first = end_grain((10.0, 20.0), 14.0, 9.0, seed="C1-3", is_board=is_board)
    assert first == end_grain((10.0, 20.0), 14.0, 9.0, seed="C1-3", is_board=is_board)
    assert len(first) >= 4
    for ring in first:
        for x, y in ring.points:
            assert 10.0 - 1e-6 <= x <= 24.0 + 1e-6
            assert 20.0 - 1e-6 <= y <= 29.0 + 1e-6


@pytest.mark.parametrize(("width", "height"), [(80.0, 5.0), (5.0, 80.0)])
def test_long_grain_runs_along_the_timber(width, height):
    lines = long_grain((10.0, 20.0), width, height, seed="1A-D")
    assert lines
    for line in lines:
        dx, dy = abs(line.b[0] - line.a[0]), abs(line.b[1] - line.a[1])
        assert (dx > dy) is (width > height)
        assert min(line.a[0], line.b[0]) >= 10.0
        assert max(line.a[0], line.b[0]) <= 10.0 + width
        assert min(line.a[1], line.b[1]) >= 20.0
        assert max(line.a[1], line.b[1]) <= 20.0 + height


def test_a_mark_takes_the_next_spot_when_the_first_is_taken():
    placer = Placer(Area(left=0.0, top=0.0, right=100.0, bottom=100.0))
    placer.block(bounds_of(Text(at=(50.0, 50.0), text="taken")))
    label = Label(text="C2", point=(50.0, 50.0), spots=(Spot(at=(50.0, 50.0)), Spot(at=(50.0, 60.0))), size=3.3)
    placed = [s for s in placer.place(label) if isinstance(s, Text)]
    assert [t.at for t in placed] == [(50.0, 60.0)]


def test_a_mark_is_led_out_when_all_spots_are_taken_and_given_up_without_room():
    label = Label(text="C2", point=(20.0, 20.0), spots=(Spot(at=(20.0, 20.0)),), size=3.3)
    roomy = Placer(Area(left=0.0, top=0.0, right=100.0, bottom=100.0))
    roomy.block((15.0, 15.0, 25.0, 25.0))
    placed = roomy.place(label)
    (said,) = [s for s in placed if isinstance(s, Text)]
    assert (
        bounds_of(said)[0] > 25.0 or bounds_of(said)[2] < 15.0 or bounds_of(said)[1] > 25.0 or bounds_of(said)[3] < 15.0
    )
    full = Placer(Area(left=0.0, top=0.0, right=40.0, bottom=40.0))
    full.block((0.0, 0.0, 40.0, 40.0))
    assert full.place(label) == ()


def test_an_unknown_paper_is_refused_with_the_ones_that_work():
    with pytest.raises(OutOfRangeError) as caught:
        paper_named("B5")
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found, fault.nearest) == ("paper", "paper-unknown", "B5", "A3")
    assert fault.allowed == "A3, A4, letter, tabloid"
    assert paper_named("a3").name == "A3"


def test_a_label_is_led_out_rather_than_written_over_another_thing():
    area = Area(left=0.0, top=0.0, right=200.0, bottom=200.0)
    label = Label(text="r8  -761.5", point=(100.0, 100.0), spots=(Spot(at=(110.0, 102.0)),), size=4.0)
    bare = Placer(area)
    assert not [s for s in bare.place(label) if isinstance(s, Line)]
    crossed = Placer(area)
    for x in (104.0, 108.0, 112.0):
        crossed.avoid((x, 90.0), (x, 110.0), Pen.OBJECT)
    (leader,) = [s for s in crossed.place(label) if isinstance(s, Line)]
    assert leader.a == label.point


def test_a_label_looks_no_further_at_a_place_that_is_already_too_dear(monkeypatch):
    looked = []
    monkeypatch.setattr(placing, "crosses", lambda *line: looked.append(line) or crosses(*line))
    placer = Placer(Area(left=0.0, top=0.0, right=200.0, bottom=200.0))
    for k in range(40):
        placer.avoid((100.0 + 0.2 * k, 90.0), (100.0 + 0.2 * k, 110.0), Pen.OBJECT)
    bounds = (99.0, 95.0, 109.0, 105.0)
    assert placer.cost(bounds) == 40 * 3.0
    assert len(looked) == 40
    looked.clear()
    assert placer.cost(bounds, most=10.0) > 10.0
    assert len(looked) == 4


@pytest.mark.slow
def test_close_joists_make_a_label_look_at_no_more_lines_than_there_are_more_joists(monkeypatch):
    looked, placed, place = [], [], Placer.place
    monkeypatch.setattr(placing, "crosses", lambda *line: looked.append(None) or crosses(*line))
    monkeypatch.setattr(Placer, "place", lambda own, label: placed.append(label) or place(own, label))
    text = 'unit = "mm"\nstandard = "japan"\n[site]\nlevels = [[0, 0, -510], [4200, 0, -520], [4200, 2400, -560], [0, 2400, -545]]\n'
    text += "[floor]\nwidth = 4200\ndepth = 2400\n[frame.joist]\nwidth = 40\nspacing_max = {}\n"
    per_label, joists = [], []
    for apart in (450, 100):
        job = parse_job(text.format(apart))
        plan = make_plan(job, read_shop(None, standard=job.standard), read_log(None))
        looked.clear()
        placed.clear()
        drawing(plan, Speaker(Language.ENGLISH, "mm"), "A3", "apart")
        per_label.append(len(looked) / len(placed))
        joists.append(sum(m.role is Role.JOIST for m in plan.frame.members))
    assert joists[1] > 2 * joists[0]
    assert per_label[1] / per_label[0] < joists[1] / joists[0]
