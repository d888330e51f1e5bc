"""What lies on the timbers: own weight, boards, live load by the width each joist carries, and one person's places."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenfoot.frame import Frame, JointKind, Member, Role
from evenfoot.job import FloorSpec
from evenfoot.strength.statics import FloatArray, Rest, Skeleton, Spot, Statics, Timber

SIDE_JOINTS = frozenset({JointKind.HOUSING, JointKind.BUTT, JointKind.HANGER})
"""Joints where the joist ends at the side of a beam whose own top carries boards."""
_SAME_LINE = 1.0
_LEAST_TIP = 20.0
"""Overhangs shorter than this are not walked on by themselves [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Share:
    """How loads reach the timbers. ``own`` is the timbers' own line load [N/mm], shape (n_elements,).

    Under 1 N/mm2 on the boards each element bears ``line`` [N/mm] and each level ``at_levels`` [N], shape (n_levels,).
    ``area`` is the floor loaded [mm2]; ``dead`` the weight of boards and blocking on it [N/mm2].
    """

    own: FloatArray
    line: FloatArray
    at_levels: FloatArray
    area: float
    dead: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """The edges of the boards in plan [mm]."""

    x: tuple[float, float]
    y: tuple[float, float]


def board_weight(floor: FloorSpec, unit_weight: float) -> float:
    """Return the weight of the boards [N/mm2 of floor], the gaps counted out; ``unit_weight`` in N/mm3."""
    board = floor.board
    return unit_weight * board.thickness * board.width / (board.width + board.gap)


def board_edges(frame: Frame, floor: FloorSpec) -> Rectangle:
    """Return where the boards reach to: the outer faces of the frame and the overhangs."""
    boxes = [_box(m) for m in frame.members if m.role in {Role.BEAM, Role.JOIST}]
    over = floor.overhang
    return Rectangle(
        x=(min(b.x[0] for b in boxes) - over.left, max(b.x[1] for b in boxes) + over.right),
        y=(min(b.y[0] for b in boxes) - over.wall, max(b.y[1] for b in boxes) + over.outer),
    )


def _box(m: Member) -> Rectangle:
    half = m.width / 2.0
    if m.axis == "x":
        return Rectangle(x=(m.start[0], m.end[0]), y=(m.start[1] - half, m.start[1] + half))
    return Rectangle(x=(m.start[0] - half, m.start[0] + half), y=(m.start[1], m.end[1]))


def share_loads(frame: Frame, floor: FloorSpec, statics: Statics, unit_weight: float) -> Share:
    """Return how loads reach the timbers: half the way to each neighbour, edges and overhangs to the last joist.

    Boards past a joist's end weigh on that end, or on the beam itself where the joist stops at its side.
    """
    edges = board_edges(frame, floor)
    skeleton = statics.skeleton
    carried = np.zeros(len(skeleton.timbers))
    at_levels = np.zeros(statics.grid.n_levels)
    ends = _side_ends(skeleton)
    for width, line in _widths(skeleton.timbers, edges):
        reach = edges.y if line[0].member.axis == "y" else edges.x
        for timber in line:
            carried[timber.number] = width * timber.level_share
        stops = [reach[0], *(edge for t in line for edge in _reach(t)), reach[1]]
        for k, timber in enumerate(line):
            shares = (1.0 if k == 0 else 0.5, 1.0 if k == len(line) - 1 else 0.5)
            gaps = (stops[2 * k + 1] - stops[2 * k], stops[2 * k + 3] - stops[2 * k + 2])
            for at, share, gap in zip((0.0, timber.member.length), shares, gaps, strict=True):
                spot = ends.get((timber.number, at > 0.0), (timber.number, at))
                at_levels[statics.level(spot)] += width * share * gap
    weights = np.array([t.member.width * t.member.depth * unit_weight for t in skeleton.timbers])
    area = (edges.x[1] - edges.x[0]) * (edges.y[1] - edges.y[0])
    blocks = sum(m.width * m.depth * m.length for m in frame.members if m.role is Role.BLOCK) * unit_weight
    return Share(
        own=weights[statics.timber],
        line=carried[statics.timber],
        at_levels=at_levels,
        area=area,
        dead=board_weight(floor, unit_weight) + blocks / area,
    )


def weighed_at_least(share: Share, statics: Statics, least: float) -> Share:
    """Return the share with its dead load raised so that joists and boards weigh ``least`` [N/mm2 of floor].

    Beams weigh what they weigh beside it.
    """
    is_joist = np.array([t.is_joist for t in statics.skeleton.timbers])[statics.timber]
    joists = float(share.own @ (statics.grid.length * is_joist)) / share.area
    return replace(share, dead=max(share.dead, least - joists))


def joist_lines(timbers: Sequence[Timber]) -> list[tuple[float, list[Timber]]]:
    """Return the place of each joist line across the joists [mm], rising, and its pieces in order."""
    lines: list[tuple[float, list[Timber]]] = []
    for timber in sorted((t for t in timbers if t.is_joist), key=lambda t: (_across(t.member), _reach(t))):
        if not lines or _across(timber.member) - lines[-1][0] > _SAME_LINE:
            lines.append((_across(timber.member), []))
        lines[-1][1].append(timber)
    return [(place, sorted(line, key=_reach)) for place, line in lines]


def _widths(timbers: Sequence[Timber], edges: Rectangle) -> list[tuple[float, list[Timber]]]:
    """Return for each joist line the width of floor that it carries [mm] and its pieces in order."""
    lines = joist_lines(timbers)
    low, high = edges.x if lines[0][1][0].member.axis == "y" else edges.y
    places = [place for place, _ in lines]
    borders = [low, *((a + b) / 2.0 for a, b in itertools.pairwise(places)), high]
    return [(borders[k + 1] - borders[k], line) for k, (_, line) in enumerate(lines)]


def _across(m: Member) -> float:
    return m.start[0] if m.axis == "y" else m.start[1]


def _reach(timber: Timber) -> tuple[float, float]:
    m = timber.member
    return (m.start[1], m.end[1]) if m.axis == "y" else (m.start[0], m.end[0])


def _side_ends(skeleton: Skeleton) -> dict[tuple[int, bool], Spot]:
    """Return for each end (False = start) of a joist that stops at a beam's side the place on that beam."""
    out: dict[tuple[int, bool], Spot] = {}
    for rest in skeleton.rests:
        if rest.joint.kind in SIDE_JOINTS and rest.lower is not None:
            is_far = rest.at > skeleton.timbers[rest.upper].member.length / 2.0
            out[rest.upper, is_far] = (rest.lower, rest.joint.at_lower)
    return out


def every_place(skeleton: Skeleton) -> tuple[Spot, ...]:
    """Return where a person is set on the joists (note 043).

    Places: each end that overhangs, over each bearing, one depth beside each bearing, and the middle of each span.
    """
    rests = skeleton.lies_on
    return tuple((t.number, at) for t in skeleton.timbers if t.is_joist for at in _places(t, rests[t.number]))


def tips(skeleton: Skeleton, spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """Return those places that are the ends of overhanging joists."""
    bearings = [[r.at for r in rests] for rests in skeleton.lies_on]
    lengths = [t.member.length for t in skeleton.timbers]
    return tuple(
        (n, at)
        for n, at in spots
        if (at == 0.0 and bearings[n][0] > _LEAST_TIP)
        or (at == lengths[n] and lengths[n] - bearings[n][-1] > _LEAST_TIP)
    )


def _places(timber: Timber, rests: Sequence[Rest]) -> list[float]:
    length, depth = timber.member.length, timber.member.depth
    bearings = [r.at for r in rests]
    out = list(bearings)
    if bearings and bearings[0] > _LEAST_TIP:
        out.append(0.0)
    if bearings and length - bearings[-1] > _LEAST_TIP:
        out.append(length)
    for a, b in itertools.pairwise(bearings):
        out.append((a + b) / 2.0)
        if b - a > 4.0 * depth:
            out += [a + depth, b - depth]
    return sorted(out)
