"""Dimensions as drawn: text off the line, above or beside it, readable from below or from the right."""

from math import hypot

import pytest

from evenfoot.ink import Anchor, Circle, Dimension, Line, Page, Pen, Text
from evenfoot.ink.boxes import Box, box_of, overlaps, strays
from evenfoot.ink.expand import expand

ENDS = [((10, 50), (60, 50)), ((60, 50), (10, 50)), ((30, 80), (30, 20)), ((30, 20), (30, 80)), ((10, 10), (50, 40))]


def _dimension(a, b, **more):
    held = {"offset": 7.0, "distance": 1234.5, "text": "1234.5"} | more
    return Dimension(a=a, b=b, **held)


def _line_box(line):
    (ax, ay), (bx, by) = line.a, line.b
    length = hypot(bx - ax, by - ay) or 1.0
    nx, ny = (by - ay) / length * 0.09, -(bx - ax) / length * 0.09
    return Box(corners=((ax - nx, ay - ny), (bx - nx, by - ny), (bx + nx, by + ny), (ax + nx, ay + ny)))


@pytest.mark.parametrize("offset", [7.0, -7.0, 0.0])
@pytest.mark.parametrize("ends", ENDS)
@pytest.mark.parametrize("text", ["42", "1234.5", "12' 10 15/16\" and more than fits"])
def test_text_never_stands_on_a_line(ends, offset, text):
    shapes = expand(_dimension(*ends, offset=offset, text=text))
    (said,) = [s for s in shapes if isinstance(s, Text)]
    assert [s for s in shapes if isinstance(s, Line) and box_of(said).touches(_line_box(s))] == []


@pytest.mark.parametrize("ends", ENDS)
def test_line_runs_from_end_to_end_at_its_offset(ends):
    a, b = ends
    length = hypot(b[0] - a[0], b[1] - a[1])
    lines = [s for s in expand(_dimension(a, b)) if isinstance(s, Line) and s.pen is Pen.PENCIL]
    drawn = lines[-1]
    assert hypot(drawn.b[0] - drawn.a[0], drawn.b[1] - drawn.a[1]) == pytest.approx(length, abs=1e-9)
    assert hypot(drawn.a[0] - a[0], drawn.a[1] - a[1]) == pytest.approx(7.0, abs=1e-9)
    turn = (b[0] - a[0]) * (drawn.a[1] - a[1]) - (b[1] - a[1]) * (drawn.a[0] - a[0])
    assert turn < 0, "positive offsets stand to the left of a to b, on paper with y downwards"


@pytest.mark.parametrize("ends", ENDS)
def test_text_is_read_from_below_or_from_the_right(ends):
    (said,) = [s for s in expand(_dimension(*ends)) if isinstance(s, Text)]
    assert -90.0 < said.angle_deg <= 90.0


@pytest.mark.parametrize(("running", "offset"), [("across", 9), ("across", -9), ("up", 9), ("up", -9)])
@pytest.mark.parametrize("shift", [0.0, 3.0, -2.0])
def test_running_text_stands_beyond_its_chain(running, offset, shift):
    mark = _dimension(
        (10, 50), (40, 50) if running == "across" else (10, 90), offset=offset, running=running, shift=shift
    )
    shapes = expand(mark)
    (said,) = [s for s in shapes if isinstance(s, Text)]
    left, top, right, bottom = box_of(said).bounds
    if running == "across":
        assert (bottom < 50 - 9) if offset > 0 else (top > 50 + 9)
        assert (left + right) / 2 == pytest.approx(40 + shift, abs=0.5)
    else:
        assert (left > 10 + 9) if offset > 0 else (right < 10 - 9)
        assert (top + bottom) / 2 == pytest.approx(90 + shift, abs=0.5)
    assert [s for s in shapes if isinstance(s, Line) and box_of(said).touches(_line_box(s))] == []


def test_zero_of_a_chain_is_a_ring_and_others_are_ticks():
    zero = expand(_dimension((10, 50), (10, 50), distance=0.0, text="0", running="across"))
    other = expand(_dimension((10, 50), (30, 50), running="across"))
    assert [type(s) for s in zero if not isinstance(s, Text | Line)] == [Circle]
    assert not any(isinstance(s, Circle) for s in other)


def _page(*shapes):
    return Page(code="p", title="p", width=100, height=80, shapes=shapes)


def test_overlap_is_found_and_near_misses_are_not():
    a = Text(at=(10, 20), text="408.5", size=4.0)
    touching = Text(at=(12, 22), text="409", size=4.0)
    below = Text(at=(10, 24.2), text="410", size=4.0)
    turned = Text(at=(40, 60), text="wide and turned", angle_deg=45, size=4.0)
    beside = Text(at=(52, 60), text="below", size=4.0)
    assert overlaps(_page(a, touching)) == ((a, touching),)
    assert overlaps(_page(a, below, turned, beside)) == ()


def test_texts_inside_dimensions_count_for_overlaps():
    mark = _dimension((10, 50), (60, 50), offset=0.0)
    (said,) = [s for s in expand(mark) if isinstance(s, Text)]
    assert len(overlaps(_page(mark, Text(at=said.at, text="here", anchor=Anchor.MIDDLE)))) == 1


def test_marks_off_the_paper_are_found():
    inside = Text(at=(60, 40), text="in", anchor=Anchor.END)
    outside = Text(at=(98, 40), text="too far right")
    assert strays(_page(inside, outside, Line(a=(1, 1), b=(99, 79)))) == (outside,)
