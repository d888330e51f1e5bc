"""How large the faces of every piece are, as cut: what is hidden once the floor stands, what is seen, and end grain."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from evenfoot.estimate.model import Built
from evenfoot.frame import Member
from evenfoot.job import Job
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.layout import BoardPiece

_ALONG = 1e-3
"""An edge this near to the boards' direction is a long edge, not end grain [rad]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Faces:
    """Areas of faces [mm2]. ``joint`` are the sawn faces of laps and housings, hidden like ``hidden`` ones."""

    hidden: float = 0.0
    joint: float = 0.0
    seen: float = 0.0
    end: float = 0.0

    def __add__(self, other: Faces) -> Faces:
        """Return both together."""
        return Faces(
            hidden=self.hidden + other.hidden,
            joint=self.joint + other.joint,
            seen=self.seen + other.seen,
            end=self.end + other.end,
        )

    @property
    def whole(self) -> float:
        """All faces together [mm2]."""
        return self.hidden + self.joint + self.seen + self.end


def total_faces(parts: Iterable[Faces]) -> Faces:
    """Return the sum of faces."""
    whole = tuple(parts)
    return Faces(
        hidden=math.fsum(p.hidden for p in whole),
        joint=math.fsum(p.joint for p in whole),
        seen=math.fsum(p.seen for p in whole),
        end=math.fsum(p.end for p in whole),
    )


def find_faces(job: Job, built: Built) -> Iterator[Faces]:
    """Give the faces of every board piece, timber and post."""
    rows = [p.row for p in built.layout.pieces]
    outer = (min(rows), max(rows)) if rows else (0, 0)
    for piece in built.layout.pieces:
        open_edges = sum(piece.row == row for row in outer)
        yield board_faces(
            piece, thickness=job.floor.board.thickness, direction=built.layout.direction_deg, open_edges=open_edges
        )
    cuts: dict[str, list[Cut]] = {}
    for cut in built.joinery.cuts:
        cuts.setdefault(cut.member, []).append(cut)
    for member in built.frame.members:
        yield member_faces(member, cuts.get(member.mark, ()))
    for post in (cut for cut in built.posts.cuts if cut.is_cut):
        yield stick_faces(post.width, post.depth, post.length, is_seen=job.frame.post.is_seen)


def board_faces(piece: BoardPiece, *, thickness: float, direction: float, open_edges: int) -> Faces:
    """Return the faces of one board: its top is seen, and as many long edges as stand open at the floor's sides.

    A whole rectangle counts by its cut length and width, a shaped piece by its outline; ``direction`` [degrees].
    """
    if piece.is_shaped:
        top, long, ends = _outline(piece, math.radians(direction))
    else:
        top, long, ends = piece.length * piece.width, 2 * piece.length, 2 * piece.width
    edge = long * thickness
    seen_edge = edge * open_edges / 2
    return Faces(seen=top + seen_edge, hidden=top + edge - seen_edge, end=ends * thickness)


def member_faces(member: Member, cuts: Iterable[Cut]) -> Faces:
    """Return the faces of one timber with its joints cut; the sides of a seen one are seen, top and bottom hidden.

    The lean of an end cut is left out: it adds less than one part in a thousand for any fall of a floor.
    """
    sides = 2 * member.depth * member.length
    flats = 2 * member.width * member.length
    ends = 2 * member.width * member.depth
    joint = 0.0
    for cut in cuts:
        if cut.kind is CutKind.LAP:
            gone = _lap(member, cut)
        elif cut.kind is CutKind.HOUSING:
            gone = _housing(member, cut)
        else:
            continue
        sides, flats, ends, joint = sides - gone[0], flats - gone[1], ends - gone[2], joint + gone[3]
    if member.is_seen:
        return Faces(seen=sides, hidden=flats, joint=joint, end=ends)
    return Faces(hidden=sides + flats, joint=joint, end=ends)


def stick_faces(width: float, depth: float, length: float, *, is_seen: bool) -> Faces:
    """Return the faces of a plain stick [mm2], all four long ones seen or hidden."""
    around, ends = 2 * (width + depth) * length, 2 * width * depth
    return Faces(seen=around, end=ends) if is_seen else Faces(hidden=around, end=ends)


def _lap(member: Member, cut: Cut) -> tuple[float, float, float, float]:
    """Return what a notch right across a face takes from sides, flats and ends, and the new joint faces [mm2]."""
    length, walls = _extent(member, cut)
    is_flat = cut.face in (Face.TOP, Face.BOTTOM)
    across = member.width if is_flat else member.depth
    floor, cheeks = length * across, 2 * length * cut.depth
    ends = (2 - walls) * across * cut.depth
    joint = floor + walls * across * cut.depth
    return (cheeks, floor, ends, joint) if is_flat else (floor, cheeks, ends, joint)


def _housing(member: Member, cut: Cut) -> tuple[float, float, float, float]:
    """Return what a housing in a side takes, open at the top (and at the bottom when as high as the timber)."""
    length, walls = _extent(member, cut)
    is_through = cut.height >= member.depth
    back, shelf = length * cut.height, length * cut.depth
    joint = back + walls * cut.height * cut.depth + (0.0 if is_through else shelf)
    return back, shelf * (2 if is_through else 1), (2 - walls) * cut.height * cut.depth, joint


def _extent(member: Member, cut: Cut) -> tuple[float, int]:
    """Return how long a cut is inside the timber, and how many of its two end walls stand."""
    begin, finish = max(0.0, cut.begin), min(member.length, cut.finish)
    walls = (begin > 0.0) + (finish < member.length)
    return max(0.0, finish - begin), walls


def _outline(piece: BoardPiece, direction: float) -> tuple[float, float, float]:
    """Return area, length of long edges and length of end-grain edges of a piece's outline."""
    area = long = ends = 0.0
    for (x0, y0), (x1, y1) in zip(piece.outline, (*piece.outline[1:], piece.outline[0]), strict=True):
        area += (x0 * y1 - x1 * y0) / 2
        length = math.hypot(x1 - x0, y1 - y0)
        if abs(math.sin(math.atan2(y1 - y0, x1 - x0) - direction)) < _ALONG:
            long += length
        else:
            ends += length
    return area, long, ends
