"""The joinery of one frame: all cuts, whether they leave wood enough, and the order of assembly."""

from __future__ import annotations

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Frame, Joint, JointKind, Mark, Member
from evenfoot.joints.assembly import order_assembly
from evenfoot.joints.cuts import cuts_of
from evenfoot.joints.model import Cut, Face, Joinery
from evenfoot.tables import joinery

_TOUCH = 1e-6


def detail_joints(frame: Frame) -> Joinery:
    """Return the cuts on every timber and the order in which the frame is put together."""
    cuts = cuts_of(frame)
    order = order_assembly(frame)
    checks = [*_wood_left(frame), *_cut_conflicts(frame, cuts)]
    if order.ring:
        checks.append(
            Check(
                subject=order.ring[0],
                rule="assembly-order",
                verdict=Verdict.FAILS,
                source=frame.member(order.ring[0]).where,
                remedy="turn-one-lap",
                facts=(("marks", ", ".join(order.ring)),),
            )
        )
    return Joinery(cuts=cuts, steps=order.steps, checks=tuple(checks))


def _wood_left(frame: Frame) -> list[Check]:
    """Return one check per joint kind and section: the thinnest wood left under a seat, against the least."""
    worst: dict[tuple[JointKind, float], tuple[float, Joint]] = {}
    for joint in frame.joints:
        if joint.kind is JointKind.HOUSING:
            left = frame.member(joint.lower).depth - joint.seat_depth
        elif joint.kind in {JointKind.LAP_OVER, JointKind.LAP_UNDER}:
            left = min(
                frame.member(joint.lower).depth - joint.cut_lower, frame.member(joint.upper).depth - joint.cut_upper
            )
        else:
            continue
        key = (joint.kind, frame.member(joint.lower).depth)
        if key not in worst or left < worst[key][0]:
            worst[key] = (left, joint)
    return [_seat_check(left, joint) for left, joint in worst.values()]


def _seat_check(left: float, joint: Joint) -> Check:
    limit = joinery.joinery_limit("wood_under_seat" if joint.kind is JointKind.HOUSING else "wood_left_in_lap")
    is_enough = left >= limit.value - _TOUCH
    return Check(
        subject=joint.lower,
        rule="wood-under-seat",
        verdict=Verdict.OK if is_enough else Verdict.FAILS,
        demand=limit.value,
        capacity=max(left, 0.0),
        unit="mm",
        source=limit.source,
        place=joint.mark,
        remedy="" if is_enough else "deeper-or-shallower",
        confirmed=limit.is_confirmed,
    )


def _cut_conflicts(frame: Frame, cuts: tuple[Cut, ...]) -> list[Check]:
    """Find cuts that run into each other, or that meet from both faces and sever the timber."""
    by_member: dict[Mark, list[Cut]] = {}
    for cut in cuts:
        if cut.depth > 0.0:
            by_member.setdefault(cut.member, []).append(cut)
    members = {m.mark: m for m in frame.members}
    out: list[Check] = []
    for mark, own in by_member.items():
        conflict = _first_conflict(own, members[mark])
        if conflict is not None:
            out.append(conflict)
    return out


def _first_conflict(cuts: list[Cut], member: Member) -> Check | None:
    for i, one in enumerate(cuts):
        for other in cuts[i + 1 :]:
            shared = min(one.finish, other.finish) - max(one.begin, other.begin)
            if shared <= _TOUCH:
                continue
            faces = {one.face, other.face}
            is_severed = faces == {Face.TOP, Face.BOTTOM} and one.depth + other.depth >= member.depth
            if len(faces) == 1 or is_severed:
                return Check(
                    subject=member.mark,
                    rule="cuts-clear-of-each-other",
                    verdict=Verdict.FAILS,
                    demand=shared,
                    unit="mm",
                    source=member.where,
                    place=one.joint,
                    remedy="move-lines-apart",
                    facts=(("other", other.joint),),
                )
    return None
