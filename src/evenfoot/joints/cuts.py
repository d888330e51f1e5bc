"""The cuts that joints leave on each timber, measured from its named end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from evenfoot.frame import Frame, Joint, JointKind, Mark, Member
from evenfoot.joints.model import Cut, CutKind, Face
from evenfoot.layout import Axis


def cuts_of(frame: Frame) -> tuple[Cut, ...]:
    """Return every cut on every timber, timber by timber, from its named end on.

    A lap is cut over the full width of the timber that crosses; a housing as deep as the joist is high.
    Both ends of every timber are squared.
    """
    members = {m.mark: m for m in frame.members}
    found: dict[Mark, list[Cut]] = {mark: _ends(m) for mark, m in members.items()}
    for joint in frame.joints:
        for cut in _of_joint(joint, members):
            found[cut.member].append(cut)
    return tuple(c for mark in found for c in sorted(found[mark], key=lambda c: (c.begin, c.finish, c.face)))


def _ends(member: Member) -> list[Cut]:
    places = ((Face.START, 0.0), (Face.END, member.length))
    return [
        Cut(
            member=member.mark,
            kind=CutKind.SQUARE_END,
            face=face,
            begin=at,
            finish=at,
            depth=0.0,
            height=0.0,
            angle_deg=0.0,
            joint="",
        )
        for face, at in places
    ]


def _of_joint(joint: Joint, members: Mapping[Mark, Member]) -> Iterator[Cut]:
    if joint.kind in {JointKind.LAP_OVER, JointKind.LAP_UNDER}:
        upper, lower = members[joint.upper], members[joint.lower]
        if joint.cut_upper > 0.0:
            yield _lap(joint, upper, Face.BOTTOM, lower.width)
        if joint.cut_lower > 0.0:
            yield _lap(joint, lower, Face.TOP, upper.width)
    elif joint.kind is JointKind.HOUSING and joint.cut_lower > 0.0:
        upper, lower = members[joint.upper], members[joint.lower]
        begin, finish = _across(joint.at_lower, upper.width, lower)
        yield Cut(
            member=lower.mark,
            kind=CutKind.HOUSING,
            face=side_toward(lower, upper),
            begin=begin,
            finish=finish,
            depth=joint.cut_lower,
            height=upper.depth,
            angle_deg=0.0,
            joint=joint.mark,
        )


def _lap(joint: Joint, member: Member, face: Face, width: float) -> Cut:
    is_upper = face is Face.BOTTOM
    begin, finish = _across(joint.at_upper if is_upper else joint.at_lower, width, member)
    return Cut(
        member=member.mark,
        kind=CutKind.LAP,
        face=face,
        begin=begin,
        finish=finish,
        depth=joint.cut_upper if is_upper else joint.cut_lower,
        height=0.0,
        angle_deg=0.0,
        joint=joint.mark,
    )


def _across(middle: float, width: float, member: Member) -> tuple[float, float]:
    return max(0.0, middle - width / 2), min(member.length, middle + width / 2)


def side_toward(member: Member, other: Member) -> Face:
    """Return the side face of ``member`` that ``other`` stands against, seen from its start looking along it."""
    if member.axis is Axis.X:
        return Face.LEFT if other.start[1] + other.end[1] > member.start[1] + member.end[1] else Face.RIGHT
    return Face.LEFT if other.start[0] + other.end[0] < member.start[0] + member.end[0] else Face.RIGHT
