"""What stands behind a mark on a drawing, and which drawn things a finding is about."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from evenfoot.checks import Check
from evenfoot.plan import Plan

MARK_FACTS = ("other", "marks", "mark")
"""Facts of a finding that may hold marks, several of them joined by commas."""


BEAM_ROWS = frozenset({"post-spacing", "no-place-for-posts", "two-supports", "post-off-its-line", "post-line-blocked"})
"""Rules whose subject counts the beams, 1 for the first, and is no mark."""


class Thing(StrEnum):
    """What a mark names. A post's mark names its footing too."""

    BEAM = "beam"
    JOIST = "joist"
    BLOCK = "block"
    POST = "post"
    BOARD = "board"
    JOINT = "joint"
    LINE = "line"


def thing_of(plan: Plan, mark: str) -> Thing | None:
    """Return what a mark names in this plan; None for a mark that is not there."""
    for member in plan.frame.members:
        if member.mark == mark:
            return Thing(member.role.value)
    if any(post.mark == mark for post in plan.frame.posts):
        return Thing.POST
    if any(piece.mark == mark for piece in plan.layout.pieces):
        return Thing.BOARD
    if any(joint.mark == mark for joint in plan.frame.joints):
        return Thing.JOINT
    return Thing.LINE if any(line.label == mark for line in plan.frame.grid) else None


def all_marks(plan: Plan) -> tuple[str, ...]:
    """Return every mark that has a card: timbers, posts, boards, joints and grid lines."""
    frame = plan.frame
    return (
        *(m.mark for m in frame.members),
        *(p.mark for p in frame.posts),
        *(p.mark for p in plan.layout.pieces),
        *(j.mark for j in frame.joints),
        *(g.label for g in frame.grid),
    )


def place_of_check(plan: Plan, check: Check) -> tuple[str, ...]:
    """Return the marks of the drawn timbers, posts and boards that a finding concerns, the foremost first.

    A finding that names timbers is shown on those, one about a joint on both of its timbers; one about all boards or
    all posts on all of them; one about the floor or the site as a whole on none.
    """
    if check.rule in BEAM_ROWS and check.subject.isdigit():
        return _beam_row(plan, int(check.subject))
    named = (check.subject, *_listed(check.place), *_told(check))
    found = dict.fromkeys(mark for name in named for mark in _drawn(plan, name))
    return tuple(found or dict.fromkeys(_group(plan, check.subject)))


def concerns(plan: Plan, check: Check, mark: str) -> bool:
    """Return whether a finding belongs on the card of a mark.

    What is found in a timber over a post is the timber's matter, not the post's; what is found at a joint belongs to
    the joint and to the timber in which it was found.
    """
    if mark == check.subject or mark in _told(check):
        return True
    joint = next((j for j in plan.frame.joints if j.mark == mark), None)
    if joint is not None:
        where = _listed(check.place)
        crossing = mark.split(".", 1)[0].rstrip("+-")
        return mark in where or (check.subject in (joint.upper, joint.lower) and crossing in where)
    return thing_of(plan, check.subject) is None and mark in place_of_check(plan, check)


def _beam_row(plan: Plan, number: int) -> tuple[str, ...]:
    """Return the beams of one row, counted from the house or from the left."""
    beams = [m for m in plan.frame.members if m.role.value == "beam"]
    across = {m.mark: m.start[1] if m.axis.value == "x" else m.start[0] for m in beams}
    rows = sorted({round(place) for place in across.values()})
    return tuple(mark for mark, place in across.items() if round(place) == rows[number - 1])


def _listed(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(",") if part.strip())


def _told(check: Check) -> tuple[str, ...]:
    facts = dict(check.facts)
    values = (facts.get(name) for name in MARK_FACTS)
    return tuple(mark for value in values if isinstance(value, str) for mark in _listed(value))


def _drawn(plan: Plan, name: str) -> Iterator[str]:
    """Yield the timbers, posts and boards that a name stands for: itself, both timbers of a joint, a row's boards."""
    thing = thing_of(plan, name)
    if thing is Thing.JOINT:
        joint = next(j for j in plan.frame.joints if j.mark == name)
        yield from (joint.upper, joint.lower)
    elif thing is Thing.LINE:
        yield from (m.mark for m in plan.frame.members if m.line == name)
    elif thing is not None:
        yield name
    elif name.startswith("b") and name[1:].isdigit():
        yield from (p.mark for p in plan.layout.pieces if p.row == int(name[1:]))


def _group(plan: Plan, subject: str) -> Iterator[str]:
    """Yield all timbers of the kind that a finding speaks of; none for the floor, the site and what is not drawn."""
    frame = plan.frame
    posts = tuple(p.mark for p in frame.posts)
    match subject:
        case "boards":
            yield from (p.mark for p in plan.layout.pieces)
        case "beams" | "joists":
            yield from (m.mark for m in frame.members if m.role.value == subject.removesuffix("s"))
        case "frame":
            yield from (m.mark for m in frame.members)
        case "posts" | "footings" | "all":
            yield from posts
        case "lap" | "hanger" | "joints":
            for joint in frame.joints:
                kind = joint.kind.value
                if kind != "post-head" and (subject == "joints" or kind.startswith(subject)):
                    yield from (joint.upper, joint.lower)
        case "splices":
            for splice in frame.splices:
                yield from (splice.first, splice.second)
