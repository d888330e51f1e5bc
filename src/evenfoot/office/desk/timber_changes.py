"""Which posts and timbers are not what they were between two plans, alike ones in one sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import hypot, inf
from typing import Any, TypeVar

from evenfoot.plan import Plan
from evenfoot.sheets import Figures

SAME_PLACE = 50.0
"""Posts, and lines of timbers, nearer than this are one and the same in both plans [mm]."""
FELT = 0.05
"""Lengths that differ by less are the same length [mm]."""

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberChange:
    """One sentence on posts or timbers that are not what they were, ``marks`` as the plan that has them calls them.

    ``kind`` is ``longer``, ``shorter``, ``moved``, ``section``, ``new`` or ``gone``; ``by_mm`` what a length, or the
    depth of a section, grew by, or how far a timber moved; of new and gone ones the length of the first.
    """

    kind: str
    marks: tuple[str, ...]
    said: str
    by_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Change:
    kind: str
    mark: str
    label: str
    by: float
    facts: tuple[tuple[str, str], ...]


def post_changes(before: Plan, after: Plan, figures: Figures) -> tuple[TimberChange, ...]:
    """Return every post that is longer, shorter, moved, new or gone; posts are known by where they stand.

    One that has its mark but not its place has moved.
    """
    old, new = list(before.posts.cuts), list(after.posts.cuts)
    found: list[_Change] = []
    for one, other in _matched(old, new, lambda a, b: _near(hypot(a.x - b.x, a.y - b.y))):
        found += _length((one.mark, other.mark), (one.length, other.length), figures)
    for one, other in _matched(old, new, lambda a, b: 0.0 if a.mark == b.mark else inf):
        move = (("x", _signed(other.x - one.x, figures)), ("y", _signed(other.y - one.y, figures)))
        facts = (*move, ("before", figures.cut(one.length)), ("after", figures.cut(other.length)))
        label, by = figures.mark(other.mark), other.length - one.length
        found.append(_Change(kind="moved", mark=other.mark, label=label, by=by, facts=facts))
    found += [_alone("new", cut.mark, cut.length, figures) for cut in new]
    found += [_alone("gone", cut.mark, cut.length, figures) for cut in old]
    return tuple(_told("post", found, figures))


def timber_changes(before: Plan, after: Plan, figures: Figures) -> tuple[TimberChange, ...]:
    """Return the timbers of the frame that changed in length or section, are new or gone.

    A timber is known by its use and the line that it lies on, and among several on one line by where it begins,
    whatever its mark. Those left over are the same timbers on other lines, the nearest first, while there are any.
    """
    old, new = list(before.frame.members), list(after.frame.members)
    found: list[_Change] = []
    for one, other in _matched(old, new, _apart):
        marks = (one.mark, other.mark)
        if (one.width, one.depth) != (other.width, other.depth):
            was, now = figures.section(one.width, one.depth), figures.section(other.width, other.depth)
            facts, by = (("before", was), ("after", now)), other.depth - one.depth
            found.append(_Change(kind="section", mark=other.mark, label=_label(marks, figures), by=by, facts=facts))
        found += _length(marks, (one.length, other.length), figures)
    for one, other in _matched(old, new, _turned):
        across = 1 if one.axis == "x" else 0
        by = other.start[across] - one.start[across]
        label = figures.speaker.say(
            "desk-compare.by", mark=_label((one.mark, other.mark), figures), by=_signed(by, figures)
        )
        found.append(_Change(kind="moved", mark=other.mark, label=label, by=by, facts=()))
        found += _length((one.mark, other.mark), (one.length, other.length), figures)
    found += [_alone("new", m.mark, m.length, figures) for m in new]
    found += [_alone("gone", m.mark, m.length, figures) for m in old]
    return tuple(_told("timber", found, figures))


def _matched(
    old: list[Thing], new: list[Thing], apart: Callable[[Thing, Thing], float]
) -> Iterator[tuple[Thing, Thing]]:
    """Yield the pairs that are one thing, each new one with the nearest old one, and take both out of their lists."""
    for other in tuple(new):
        one = min(old, key=lambda candidate: apart(candidate, other), default=None)
        if one is not None and apart(one, other) < inf:
            old.remove(one)
            new.remove(other)
            yield one, other


def _near(distance: float) -> float:
    return distance if distance <= SAME_PLACE else inf


def _apart(one: Any, other: Any) -> float:  # noqa: ANN401 - timbers of the frame, whose room this one does not import
    """Return how far from each other two timbers of one use on one line begin [mm]; else infinity."""
    if (one.role, one.axis) != (other.role, other.axis):
        return inf
    across, along = (1, 0) if one.axis == "x" else (0, 1)
    if abs(one.start[across] - other.start[across]) > SAME_PLACE:
        return inf
    return abs(float(one.start[along]) - float(other.start[along]))


def _turned(one: Any, other: Any) -> float:  # noqa: ANN401 - as above
    """Return how far apart the lines of two timbers of one use and section lie [mm]; else infinity."""
    if (one.role, one.axis, one.width, one.depth) != (other.role, other.axis, other.width, other.depth):
        return inf
    across = 1 if one.axis == "x" else 0
    return abs(float(one.start[across]) - float(other.start[across]))


def _length(marks: tuple[str, str], lengths: tuple[float, float], figures: Figures) -> list[_Change]:
    by = lengths[1] - lengths[0]
    if abs(by) <= FELT:
        return []
    facts = (("before", figures.cut(lengths[0])), ("after", figures.cut(lengths[1])), ("by", figures.cut(abs(by))))
    kind = "longer" if by > 0 else "shorter"
    return [_Change(kind=kind, mark=marks[1], label=_label(marks, figures), by=by, facts=facts)]


def _alone(kind: str, mark: str, length: float, figures: Figures) -> _Change:
    label = figures.speaker.say("desk-compare.long", mark=figures.mark(mark), length=figures.cut(length))
    return _Change(kind=kind, mark=mark, label=label, by=length, facts=())


def _label(marks: tuple[str, str], figures: Figures) -> str:
    """Return the mark of a thing, with the one that it had before."""
    was, now = figures.mark(marks[0]), figures.mark(marks[1])
    return now if was == now else figures.speaker.say("desk-compare.once", now=now, was=was)


def _signed(mm: float, figures: Figures) -> str:
    return f"{'+' if mm >= 0 else '−'}{figures.length(abs(mm))}"


def _told(what: str, found: list[_Change], figures: Figures) -> Iterator[TimberChange]:
    """Yield one sentence for all that changed alike."""
    alike: dict[object, list[_Change]] = {}
    for change in found:
        alike.setdefault((change.kind, change.facts), []).append(change)
    comma = figures.speaker.say("sheet.comma")
    for group in alike.values():
        first = group[0]
        facts: dict[str, str] = dict(first.facts)
        said = figures.speaker.say(
            f"desk-compare.{what}-{first.kind}", marks=comma.join(c.label for c in group), **facts
        )
        yield TimberChange(kind=first.kind, marks=tuple(c.mark for c in group), said=said, by_mm=first.by)
