"""Every different joint in true shape: both timbers held apart, and each from the side with what is cut from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from evenfoot.frame import Entry, Joint, JointKind, Member
from evenfoot.geom import Solid
from evenfoot.ink import Anchor, Dimension, Fill, Line, Pen, Polygon, Text, text_width
from evenfoot.layout import Axis
from evenfoot.plan import Standing, standing
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.grain import long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD, Area
from evenfoot.sheets.drafting.scale import Room, Scale, fitting, scales
from evenfoot.sheets.drafting.scene import Piece, picture
from evenfoot.sheets.drafting.view import Point
from evenfoot.sheets.lists.flow import Draw, Flow, Shape, Style

HIGH = 62.0
"""Height of one row of drawings [mm]."""
PICTURE = 78.0
"""Width of the picture in space [mm]."""
WIDEST = 124.0
"""Width that the side of one timber takes at most [mm]."""
BESIDE = 26.0
"""Paper at both sides of a timber for its dimensions [mm]."""
APART = 1.3
"""How far the upper timber is held off, as a share of its depth."""
BREAK = 3.0
"""How far the end of a piece that goes on is broken zigzag [mm]."""
REACH = 1.2
"""How much of a timber is shown either side of the joint, as a share of the wider section."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """Joints that are made alike; the first is drawn."""

    joints: tuple[Joint, ...]

    @property
    def first(self) -> Joint:
        """The joint that is drawn."""
        return self.joints[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """What is cut from the side of one timber as drawn: from its top or underside, ``depth`` deep at its place [mm]."""

    member: Member
    at: float
    width: float
    depth: float
    is_top: bool
    pocket: float = 0.0
    """Height of a housing let into the side [mm]; 0 where the cut goes right across."""


def details(bench: Bench) -> tuple[Detail, ...]:
    """Return the joints of the frame grouped by how they are made, in the order in which they first appear."""
    frame = bench.plan.frame
    groups: dict[object, list[Joint]] = {}
    for joint in frame.joints:
        upper = frame.member(joint.upper)
        lower = None if joint.kind is JointKind.POST_HEAD else frame.member(joint.lower)
        key = (
            joint.kind,
            joint.entry,
            round(joint.cut_upper * 2),
            round(joint.cut_lower * 2),
            (upper.width, upper.depth),
            lower and (lower.width, lower.depth),
            joint.is_end_of_upper,
            joint.is_end_of_lower and lower is not None,
        )
        groups.setdefault(key, []).append(joint)
    return tuple(Detail(joints=tuple(group)) for group in groups.values())


def scale_for(bench: Bench) -> Scale:
    """Return the one scale at which the side of every timber at a joint fits."""
    deepest = max(m.depth for m in bench.plan.frame.members)
    widest = max(m.width for m in bench.plan.frame.members)
    room = Room(width=_side_room(bench) - BESIDE, height=HIGH - 24.0)
    long = widest + 2 * REACH * max(deepest, widest)
    return fitting(scales(bench.figures), room, width=long, height=deepest, coarsest=float("inf"))


def _side_room(bench: Bench) -> float:
    """Return the width for the side of one timber: two stand beside the picture [mm]."""
    return min(WIDEST, (bench.area.width - PICTURE - 8.0) / 2)


def joint_flow(bench: Bench, flow: Flow, scale: Scale) -> None:
    """Write every different joint: where it is, how it goes together, what is cut."""
    flow.paragraph(bench.say("sheet-note.joint-details"), Style(after=2.0))
    things = {(t.thing == "post", t.mark): t for t in standing(bench.plan)}
    for detail in details(bench):
        joint = detail.first
        name = bench.say(f"sheet-joint.{joint.kind.value}")
        flow.heading(bench.say("sheet.joints-alike", joint=name, count=len(detail.joints)), keep=HIGH + 8.0)
        marks = tuple(dict.fromkeys(j.mark.split(".", 1)[0].rstrip("+-") for j in detail.joints))
        flow.paragraph(bench.figures.some(marks), Style(size=FIGURE, after=1.0))
        flow.figure(HIGH, _drawer(bench, joint, things, scale))
        flow.gap(2.0)


def _drawer(bench: Bench, joint: Joint, things: dict[tuple[bool, str], Standing], scale: Scale) -> Draw:
    return lambda x, y: tuple(_row(bench, joint, things, (x, y), scale))


def _row(
    bench: Bench,
    joint: Joint,
    things: dict[tuple[bool, str], Standing],
    corner: tuple[float, float],
    scale: Scale,
) -> Iterator[Shape]:
    x, y = corner
    pieces = _apart(bench, joint, things)
    shapes, _ = picture(pieces, Area(left=x, top=y, right=x + PICTURE, bottom=y + HIGH))
    yield from shapes
    for k, notch in enumerate(_notches(bench, joint)):
        yield from _side(bench, notch, (x + PICTURE + 4.0 + k * (_side_room(bench) + 4.0), y), scale)


def _apart(bench: Bench, joint: Joint, things: dict[tuple[bool, str], Standing]) -> list[Piece]:
    """Return the two timbers near the joint, the upper one held off the way that it comes in."""
    is_post = joint.kind is JointKind.POST_HEAD
    upper, lower = bench.plan.frame.member(joint.upper), things.get((is_post, joint.lower))
    size = max(upper.depth, upper.width) * (1.0 + REACH)
    x, y = joint.x, joint.y
    top = upper.start[2] + (upper.end[2] - upper.start[2]) * joint.at_upper / max(upper.length, 1.0)
    near = Solid.box((x - size, y - size, top - 3.2 * size), (x + size, y + size, top + size))
    off = _held_off(joint, upper)
    out = [
        Piece(
            solid=things[False, joint.upper].solid.shared_with(near).moved((off[0], off[1], 0.0)),
            layer=upper.role.value,
            mark=upper.mark,
            pen=Pen.OBJECT,
            name=bench.figures.mark(upper.mark),
            raised=off[2],
        )
    ]
    if lower is not None:
        out.append(
            Piece(
                solid=lower.solid.shared_with(near),
                layer=lower.thing,
                mark=lower.mark,
                pen=Pen.OBJECT,
                name=bench.figures.mark(lower.mark),
            )
        )
    return [p for p in out if not p.solid.is_empty]


def _held_off(joint: Joint, upper: Member) -> tuple[float, float, float]:
    """Return how far the upper timber is held off: upwards, or along its run where it comes in from the side."""
    reach = APART * upper.depth
    if joint.entry is not Entry.SIDE:
        return (0.0, 0.0, reach)
    sign = 1.0 if joint.at_upper < upper.length / 2 else -1.0
    return (sign * reach, 0.0, 0.0) if upper.axis is Axis.X else (0.0, sign * reach, 0.0)


def _notches(bench: Bench, joint: Joint) -> Iterator[Notch]:
    """Yield what is cut from the upper and from the lower timber."""
    if joint.kind is JointKind.POST_HEAD:
        return
    frame = bench.plan.frame
    upper, lower = frame.member(joint.upper), frame.member(joint.lower)
    if joint.cut_upper > 0.0:
        yield Notch(member=upper, at=joint.at_upper, width=lower.width, depth=joint.cut_upper, is_top=False)
    if joint.cut_lower > 0.0:
        pocket = upper.depth if joint.kind is JointKind.HOUSING else 0.0
        yield Notch(
            member=lower, at=joint.at_lower, width=upper.width, depth=joint.cut_lower, is_top=True, pocket=pocket
        )


def _side(bench: Bench, notch: Notch, corner: tuple[float, float], scale: Scale) -> Iterator[Shape]:
    """Yield the side of one timber around its cut, with what is cut away shaded and measured."""
    member, ratio = notch.member, scale.ratio
    reach = REACH * max(member.depth, member.width)
    low, high = notch.at - notch.width / 2, notch.at + notch.width / 2
    begin, finish = max(0.0, low - reach), min(member.length, high + reach)
    low, high = max(low, 0.0), min(high, member.length)
    left = corner[0] + 14.0
    top = corner[1] + 16.0
    deep = member.depth / ratio

    def at(place: float) -> float:
        return left + (place - begin) / ratio

    yield Text(
        at=(corner[0], corner[1] + WORD),
        text=f"{bench.figures.mark(member.mark)}  {bench.figures.section(member.width, member.depth)}",
        size=FIGURE,
        is_bold=True,
        layer="joint",
    )
    outline = _outline(at(begin), at(finish), top, deep, ends=(begin > 0.0, finish < member.length))
    yield Polygon(points=outline, pen=Pen.OBJECT, fill=Fill.PAPER, layer=member.role.value, member=member.mark)
    yield from long_grain((at(begin), top), at(finish) - at(begin), deep, seed=member.mark)
    tall = (notch.pocket or notch.depth) / ratio
    y = top if notch.is_top else top + deep - tall
    gone = ((at(low), y), (at(high), y), (at(high), y + tall), (at(low), y + tall))
    cut = Polygon(points=gone, pen=Pen.OBJECT, fill=Fill.SHADE, layer="cut", member=member.mark)
    yield cut
    yield Line(a=gone[0], b=gone[2], layer="cut", member=member.mark)
    yield Line(a=gone[1], b=gone[3], layer="cut", member=member.mark)
    drawn = replace(notch, width=high - low)
    yield from _measured(bench, drawn, (at(low), at(high)), (y, tall, top, top + deep))


def _outline(x0: float, x1: float, top: float, deep: float, *, ends: tuple[bool, bool]) -> tuple[Point, ...]:
    """Return the side of a timber; an end that goes on is broken off in a zigzag."""
    third = deep / 3
    right = [(x1, top), (x1, top + deep)]
    if ends[1]:
        right[1:1] = [(x1 + BREAK, top + third), (x1 - BREAK, top + 2 * third)]
    left = [(x0, top + deep), (x0, top)]
    if ends[0]:
        left[1:1] = [(x0 - BREAK, top + 2 * third), (x0 + BREAK, top + third)]
    return (*right, *left)


def _measured(
    bench: Bench, notch: Notch, across: tuple[float, float], up: tuple[float, float, float, float]
) -> Iterator[Shape]:
    """Yield width and depth of a cut: its sides ``across`` paper; ``up``: its top, height, the timber's top, foot."""
    figures, (a, b), (y, tall, top, foot) = bench.figures, across, up
    mark, height = notch.member.mark, notch.pocket or notch.depth
    said = figures.cut(notch.width)
    wide = text_width(said, FIGURE) + 3.0
    right = b + 10.0 + (wide if wide > b - a else 0.0)
    yield Dimension(a=(a, y), b=(b, y), offset=5.0 + y - top, distance=notch.width, text=said, size=FIGURE, member=mark)
    text = figures.cut(height)
    deep = Dimension(a=(right, y), b=(right, y + tall), offset=0.5, distance=height, text=text, size=FIGURE)
    yield replace(deep, member=mark)
    for place in (y, y + tall):
        yield Line(a=(b + 1.0, place), b=(right - 0.5, place), pen=Pen.PENCIL, layer="dimension")
    if notch.pocket:
        let_in = bench.say("sheet.let-in", depth=figures.cut(notch.depth))
        yield Text(at=(b, foot + 6.0), text=let_in, size=WORD, anchor=Anchor.END, layer="joint")
