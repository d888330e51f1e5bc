"""What an eye sees of solids: against pictures worked by hand, and against a fine grid of sight lines."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.geom import Eye, Solid


def length(strokes):
    return math.fsum(math.dist(s.a, s.b) for s in strokes)


def test_a_cube_from_a_corner_shows_nine_edges_all_equally_short():
    # Isometric: each edge is sqrt(2/3) of its length; three of the twelve lie behind.
    eye = Eye(azimuth_deg=45.0, elevation_deg=math.degrees(math.atan(1 / math.sqrt(2))))
    strokes = eye.edges([Solid.box((0, 0, 0), (100, 100, 100)).mesh()])
    assert len(strokes) == 9
    assert [math.dist(s.a, s.b) for s in strokes] == pytest.approx([100 * math.sqrt(2 / 3)] * 9)


def test_from_straight_above_a_hole_shows_its_rim():
    plate = Solid.box((0, 0, 0), (200, 100, 10)).without([Solid.box((50, 25, -1), (80, 60, 11))])
    strokes = Eye(azimuth_deg=90.0, elevation_deg=90.0).edges([plate.mesh()])
    assert length(strokes) == pytest.approx(2 * (200 + 100) + 2 * (30 + 35))


def test_a_near_box_hides_just_what_lies_behind_it():
    far, near = Solid.box((0, 0, 0), (300, 10, 100)), Solid.box((100, 50, -50), (180, 60, 200))
    eye = Eye(azimuth_deg=90.0, elevation_deg=0.0)
    alone = length(eye.edges([far.mesh()]))
    both = eye.edges([far.mesh(), near.mesh()])
    assert alone == pytest.approx(2 * (300 + 100))
    assert length(s for s in both if s.body == 0) == pytest.approx(alone - 2 * 80)
    assert length(s for s in both if s.body == 1) == pytest.approx(2 * (80 + 250))


def test_timbers_that_touch_keep_the_line_between_them():
    a, b = Solid.box((0, 0, 0), (100, 50, 50)), Solid.box((100, 0, 0), (200, 50, 50))
    strokes = Eye(azimuth_deg=90.0, elevation_deg=0.0).edges([a.mesh(), b.mesh()])
    assert any(math.dist(s.a, s.b) == pytest.approx(50) and s.a[0] == pytest.approx(-100) for s in strokes)


def test_where_a_point_is_seen_agrees_with_its_edges():
    eye = Eye(azimuth_deg=33.0, elevation_deg=21.0)
    strokes = eye.edges([Solid.box((10, 20, 30), (40, 70, 95)).mesh()])
    corner = eye.see((40, 70, 95))
    assert min(min(math.dist(corner, s.a), math.dist(corner, s.b)) for s in strokes) == pytest.approx(0.0, abs=1e-9)


def edges_of(low, high):
    """The twelve edges of an upright box as pairs of points."""
    for axis in range(3):
        for others in ((0, 0), (0, 1), (1, 0), (1, 1)):
            a, b = np.array(low, dtype=float), np.array(high, dtype=float)
            for k, pick in zip([k for k in range(3) if k != axis], others, strict=True):
                a[k] = b[k] = high[k] if pick else low[k]
            yield a, b


@settings(max_examples=60, deadline=None)
@given(
    boxes=st.lists(st.tuples(*[st.floats(-90, 90)] * 3, *[st.floats(5, 80)] * 3), min_size=2, max_size=4),
    azimuth=st.floats(5, 355),
    elevation=st.floats(5, 80),
)
def test_an_edge_is_drawn_exactly_where_its_sight_line_is_clear(boxes, azimuth, elevation):
    """Against plain arithmetic: a sight line from a point runs inside a box while it is inside its three slabs."""
    # No two faces in one plane: there a sight line grazes, and it is a matter of taste what is seen.
    corners = [
        ((x + 0.537 * n, y + 0.711 * n, z + 0.913 * n), (x + a + 1.371 * n, y + b + 1.713 * n, z + c + 1.193 * n))
        for n, (x, y, z, a, b, c) in enumerate((round(v) for v in box) for box in boxes)
    ]
    eye = Eye(azimuth_deg=azimuth + 0.3713, elevation_deg=elevation + 0.1931)
    toward = np.array(eye.turn[2])
    strokes = eye.edges([Solid.box(low, high).mesh() for low, high in corners])

    def inside(p):
        """How far the sight line from p toward the eye runs inside boxes."""
        most = 0.0
        for low, high in corners:
            t0, t1 = (np.array(low) - p) / toward, (np.array(high) - p) / toward
            most = max(most, np.maximum(t0, t1).min() - max(np.minimum(t0, t1).max(), 0.0))
        return most

    for n, (low, high) in enumerate(corners):
        own = [s for s in strokes if s.body == n]
        for a, b in edges_of(low, high):
            for share in (0.137, 0.618, 0.871):
                p = a + share * (b - a)
                if inside(p) < 1e-9:
                    assert min(_distance(eye.see(tuple(p)), s) for s in own) < 0.1
        for stroke in own:
            middle = tuple((u + v) / 2 for u, v in zip(stroke.a, stroke.b, strict=True))
            # Some edge of this box runs through here, and what lies before it is no thicker than a touch.
            clear = []
            for a, b in edges_of(low, high):
                sa, sb = np.array(eye.see(tuple(a))), np.array(eye.see(tuple(b)))
                share = float(np.clip((np.array(middle) - sa) @ (sb - sa) / ((sb - sa) @ (sb - sa)), 0, 1))
                if math.dist(middle, sa + share * (sb - sa)) < 1e-6:
                    clear.append(inside(a + share * (b - a)))
            assert min(clear) < 5.0, stroke


def _distance(p, stroke):
    (ax, ay), (bx, by) = stroke.a, stroke.b
    run = (bx - ax) ** 2 + (by - ay) ** 2
    t = 0.0 if run == 0 else max(0.0, min(1.0, ((p[0] - ax) * (bx - ax) + (p[1] - ay) * (by - ay)) / run))
    return math.dist(p, (ax + t * (bx - ax), ay + t * (by - ay)))
