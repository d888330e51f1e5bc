"""Every timber of the frame and every board as a closed solid in its place, with all its cuts."""

from __future__ import annotations

import math
from collections.abc import Mapping

from evenfoot.frame import Frame, Mark, Member
from evenfoot.geom import Place, Solid
from evenfoot.joints.model import Cut, CutKind, Face, Joinery
from evenfoot.layout import Axis, BoardPiece

_PAST = 50.0
"""How far a cutting tool reaches past the face that it enters by [mm]."""


def timber_solids(frame: Frame, joinery: Joinery) -> Mapping[Mark, Solid]:
    """Return the solid of every timber by its mark, in the axes of the job [mm]."""
    by_member: dict[Mark, list[Cut]] = {m.mark: [] for m in frame.members}
    for cut in joinery.cuts:
        by_member[cut.member].append(cut)
    return {m.mark: timber_solid(m, by_member[m.mark]).placed(place_of(m, frame.fall)) for m in frame.members}


def timber_solid(member: Member, cuts: list[Cut]) -> Solid:
    """Return one timber with its cuts in its own axes: from its start along x, its top face at z = 0 [mm]."""
    whole = Solid.box((0.0, -member.width / 2, -member.depth), (member.length, member.width / 2, 0.0))
    return whole.without(tool for cut in cuts if (tool := _tool(member, cut)) is not None)


def board_solid(piece: BoardPiece, frame: Frame, thickness: float) -> Solid:
    """Return one board lying on the frame [mm]; its outline is in plan, its thickness square to the floor."""
    stretch = math.hypot(1.0, frame.fall)
    outline = [(x, y * stretch) for x, y in piece.outline]
    along, left, up = _floor_axes(frame.fall)
    flat = Solid.prism(outline, bottom=0.0, top=thickness)
    return flat.placed(Place(origin=(0.0, 0.0, frame.top_at_wall), along=along, left=left, up=up))


def place_of(member: Member, fall: float) -> Place:
    """Return where a timber lies: along its run, its top square to the floor; left is seen from its start."""
    along, left, up = _floor_axes(fall)
    if member.axis is Axis.X:
        return Place(origin=member.start, along=along, left=left, up=up)
    return Place(origin=member.start, along=left, left=(-1.0, 0.0, 0.0), up=up)


def _floor_axes(
    fall: float,
) -> tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]:
    """Return the axes of a floor that falls away from the house: along the wall, outward down the fall, and up."""
    reach = math.hypot(1.0, fall)
    return (1.0, 0.0, 0.0), (0.0, 1.0 / reach, -fall / reach), (0.0, fall / reach, 1.0 / reach)


def _tool(member: Member, cut: Cut) -> Solid | None:
    """Return what a cut takes away, reaching past the faces that it enters by; None for a square end."""
    half, depth = member.width / 2, member.depth
    if cut.kind is CutKind.LAP:
        low, high = (-cut.depth, _PAST) if cut.face is Face.TOP else (-depth - _PAST, -depth + cut.depth)
        begin, finish = _past_ends(member, cut)
        return Solid.box((begin, -half - _PAST, low), (finish, half + _PAST, high))
    if cut.kind is CutKind.HOUSING:
        near, far = (half - cut.depth, half + _PAST) if cut.face is Face.LEFT else (-half - _PAST, -half + cut.depth)
        begin, finish = _past_ends(member, cut)
        return Solid.box((begin, near, -cut.height), (finish, far, _PAST))
    assert cut.kind is CutKind.SQUARE_END, f"{cut.kind} has no tool"
    return None


def _past_ends(member: Member, cut: Cut) -> tuple[float, float]:
    """Return the extent of a cut, carried past an end that it reaches."""
    begin = -_PAST if cut.begin <= 0.0 else cut.begin
    return begin, member.length + _PAST if cut.finish >= member.length else cut.finish
