"""How a dimension is drawn, once for every writer: lines, ticks and a text that never stands on a line."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin

from evenfoot.ink.marks import CLEAR, JOG, Anchor, Circle, Dimension, Line, Page, Pen, Point, Polygon, Shape, Text
from evenfoot.ink.metrics import DESCENT, text_width

TICK = 0.9
"""Half the length of a tick, along each axis [mm]."""
START_GAP = 1.0
"""Clear space between the thing measured and its extension line [mm]."""
ZERO = 0.8
"""Radius of the ring that marks the zero of a running chain [mm]."""


def flat(page: Page) -> tuple[Line | Polygon | Circle | Text, ...]:
    """Return the marks of a page with every dimension expanded."""
    return tuple(plain for shape in page.shapes for plain in expand(shape))


def expand(shape: Shape) -> tuple[Line | Polygon | Circle | Text, ...]:
    """Return what is really drawn for one mark; everything but a dimension is itself."""
    if not isinstance(shape, Dimension):
        return (shape,)
    return _running(shape) if shape.running else _plain(shape)


def _pencil(mark: Dimension, a: Point, b: Point) -> Line:
    return Line(a=a, b=b, pen=Pen.PENCIL, layer=mark.layer, member=mark.member)


def _tick(mark: Dimension, at: Point, along: Point) -> Line:
    """Return the oblique stroke across the line, as a chisel would nick it."""
    dx, dy = along
    lean = (dx - dy, dy + dx)
    return Line(
        a=(at[0] - TICK * lean[0], at[1] - TICK * lean[1]),
        b=(at[0] + TICK * lean[0], at[1] + TICK * lean[1]),
        pen=Pen.OBJECT,
        layer=mark.layer,
        member=mark.member,
    )


def _extension(mark: Dimension, point: Point, out: Point) -> tuple[Line, ...]:
    reach = abs(mark.offset)
    if reach <= START_GAP:
        return ()
    near = (point[0] + out[0] * START_GAP, point[1] + out[1] * START_GAP)
    far = (point[0] + out[0] * reach, point[1] + out[1] * reach)
    return (_pencil(mark, near, far),)


def _upright(angle: float) -> float:
    """Return the reading angle [degrees] turned so that the text is read from below or from the right."""
    turned = (angle + 180.0) % 360.0 - 180.0
    if turned > 90.0 + 1e-6:
        return turned - 180.0
    if turned <= -90.0 + 1e-6:
        return turned + 180.0
    return turned


def _plain(mark: Dimension) -> tuple[Line | Text, ...]:
    (ax, ay), (bx, by) = mark.a, mark.b
    span = hypot(bx - ax, by - ay)
    assert span > 0, "a dimension spans something"
    along = ((bx - ax) / span, (by - ay) / span)
    side = 1.0 if mark.offset >= 0 else -1.0
    # Paper has y downwards, so the left of a to b is (dy, -dx).
    out = (along[1] * side, -along[0] * side)
    reach = abs(mark.offset)
    a = (ax + out[0] * reach, ay + out[1] * reach)
    b = (bx + out[0] * reach, by + out[1] * reach)
    text = _beside(mark, a, b, span)
    return (
        *_extension(mark, mark.a, out),
        *_extension(mark, mark.b, out),
        _pencil(mark, a, b),
        _tick(mark, a, along),
        _tick(mark, b, along),
        text,
    )


def _beside(mark: Dimension, a: Point, b: Point, span: float) -> Text:
    """Return the text above its line; a text wider than its span stands past the second end instead."""
    angle = _upright(degrees(atan2(-(b[1] - a[1]), b[0] - a[0])))
    turn = radians(angle)
    reading, up = (cos(turn), -sin(turn)), (-sin(turn), -cos(turn))
    lift = CLEAR + DESCENT * mark.size
    width = text_width(mark.text, mark.size)
    fits = width + 2 * TICK + 0.6 <= span
    anchor, base = Anchor.MIDDLE, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if not fits:
        is_forward = (b[0] - a[0]) * reading[0] + (b[1] - a[1]) * reading[1] > 0
        push = TICK + CLEAR
        base = (
            b[0] + reading[0] * push * (1 if is_forward else -1),
            b[1] + reading[1] * push * (1 if is_forward else -1),
        )
        anchor = Anchor.START if is_forward else Anchor.END
    at = (base[0] + up[0] * lift, base[1] + up[1] * lift)
    return _text(mark, at, anchor, angle)


def _text(mark: Dimension, at: Point, anchor: Anchor, angle: float) -> Text:
    return Text(
        at=at, text=mark.text, size=mark.size, anchor=anchor, angle_deg=angle, layer=mark.layer, member=mark.member
    )


def _running(mark: Dimension) -> tuple[Line | Circle | Text, ...]:
    """Return one station of a running chain: extension line, tick (or the ring of the zero), leader and text.

    The chain runs along x or y of the paper; ``offset`` is positive upwards (for a chain along x) or to the
    right (for a chain along y), and the text runs outwards from the chain line.
    """
    bx, by = mark.b
    is_flat = mark.running == "across"
    along: Point = (1.0, 0.0) if is_flat else (0.0, 1.0)
    sign = 1.0 if mark.offset >= 0 else -1.0
    out: Point = (0.0, -sign) if is_flat else (sign, 0.0)
    reach = abs(mark.offset)
    foot = (bx + out[0] * reach, by + out[1] * reach)
    bend = (foot[0] + along[0] * mark.shift + out[0] * JOG, foot[1] + along[1] * mark.shift + out[1] * JOG)
    end = (bend[0] + out[0] * CLEAR, bend[1] + out[1] * CLEAR)
    half = (0.765 / 2) * mark.size
    if is_flat:
        at, angle = (end[0] + half, end[1]), 90.0
        anchor = Anchor.START if sign > 0 else Anchor.END
    else:
        at, angle = (end[0], end[1] + half), 0.0
        anchor = Anchor.START if sign > 0 else Anchor.END
    head: Line | Circle = _tick(mark, foot, along)
    if mark.distance == 0:
        head = Circle(centre=foot, r=ZERO, pen=Pen.OBJECT, layer=mark.layer, member=mark.member)
    return (*_extension(mark, mark.b, out), head, _pencil(mark, foot, bend), _text(mark, at, anchor, angle))
