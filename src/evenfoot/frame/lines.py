"""Lines of posts as the carpenter set them: each where it was typed, off it only where something stands in the way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evenfoot.checks import Check, Verdict
from evenfoot.errors import Fault, NoSolutionError
from evenfoot.frame.places import Places

SAME = 1.0
"""A line typed nearer than this to the middle of a joist is the line of that joist [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where lines of posts may lie along the beams [mm]: between two ends, and where posts stand under joists, there.

    ``joists`` is None where a post may stand anywhere along a beam.
    """

    first: float
    last: float
    joists: tuple[float, ...] | None
    where: str


def typed_lines(lines: Sequence[float], room: Room) -> tuple[float, ...]:
    """Return the lines [mm], rising, each under the joist that it was typed for.

    Raises: NoSolutionError ``post-line-outside`` or ``post-line-off-joist``, with the nearest place that works.
    """
    faults: list[Fault] = []
    found: list[float] = []
    for index, line in enumerate(lines):
        where = f"{room.where}.post_lines[{index}]"
        if not room.first - SAME <= line <= room.last + SAME:
            nearest = min(max(line, room.first), room.last)
            allowed = f"{room.first:g} … {room.last:g} mm"
            faults.append(_fault(where, "post-line-outside", line, nearest, allowed=allowed))
            continue
        place = min(max(line, room.first), room.last)
        if room.joists is not None:
            place = min(room.joists, key=lambda joist: abs(joist - line))
            if abs(place - line) > SAME:
                faults.append(_fault(where, "post-line-off-joist", line, place))
                continue
        found.append(place)
    if faults:
        raise NoSolutionError(*faults)
    return tuple(sorted(found))


def settle(
    lines: Sequence[float], blocked: Sequence[tuple[float, float]], room: Room, *, subject: str
) -> tuple[Places, tuple[Check, ...]]:
    """Return where the posts of the lines stand on one beam, or on all, and what had to leave its line.

    ``blocked`` are open stretches in which no post may stand; a post typed into one goes to the nearest free place
    that no other post has, and a finding says so. Where there is none, it is left out and the spacing tells.
    """
    taken = [line for line in lines if not _is_in(line, blocked)]
    checks: list[Check] = []
    for line in lines:
        if not _is_in(line, blocked):
            continue
        free = [place for place in _ways_out(blocked, room) if all(abs(place - other) > SAME for other in taken)]
        place = min(free, key=lambda candidate: abs(candidate - line), default=None)
        if place is not None:
            taken.append(place)
        checks.append(_off(line, place, room, subject))
    at = tuple(sorted(taken))
    return Places(at=at, widest=max((b - a for a, b in pairwise(at)), default=0.0)), tuple(checks)


def _ways_out(blocked: Sequence[tuple[float, float]], room: Room) -> Iterator[float]:
    """Yield the places where a post may stand instead: free joists, or the ends of what is blocked."""
    candidates = room.joists if room.joists is not None else tuple(end for stretch in blocked for end in stretch)
    for place in candidates:
        if room.first - SAME <= place <= room.last + SAME and not _is_in(place, blocked):
            yield place


def _is_in(place: float, blocked: Sequence[tuple[float, float]]) -> bool:
    return any(low < place < high for low, high in blocked)


def _off(line: float, place: float | None, room: Room, subject: str) -> Check:
    """Return the finding on a post that cannot stand on its line."""
    return Check(
        subject=subject,
        rule="post-off-its-line" if place is not None else "post-line-blocked",
        verdict=Verdict.NOT_CHECKED,
        demand=line,
        capacity=place,
        unit="mm",
        source=f"{room.where}.post_lines",
        reason="obstacle-on-line",
    )


def _fault(where: str, code: str, line: float, nearest: float, *, allowed: str = "") -> Fault:
    return Fault(where=where, code=code, found=f"{line:g} mm", allowed=allowed, nearest=f"{round(nearest, 1):g} mm")
