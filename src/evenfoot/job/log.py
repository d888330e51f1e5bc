"""The log of one job: facts written down on site, which of them count, and which of them counts last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.errors import Fault
from evenfoot.job.kinds import Look
from evenfoot.job.shop import Stretch

Key = tuple[str, float | None, float | None, str]
"""What a reading is about: mark, place and standing of the instrument."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CameStick:
    """What a stick that came is, beside its length: wood, section, stretches from the cleaner end [mm]."""

    species: str
    look: Look
    strength_grade: str
    width: float
    depth: float
    clean_ends: int = 0
    bad: tuple[Stretch, ...] = ()
    flaws: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """One fact written down on site; a later line on the same thing supersedes an earlier one.

    What each kind in ``what`` means, and the sign of its value, stands in docs/job-file.md.
    """

    time: str
    what: str
    """The kind of fact: ``level`` (ground level z at x, y), ``post-gap``, ``distance``, ``board-width`` ..."""
    mark: str
    """The post, board, pair of corners or point that it is about."""
    x: float | None
    y: float | None
    value: float
    """What was read [mm], moisture in percent; 0 for a line that has no value."""
    accuracy: float | None
    """+- mm, 19 times in 20; None = the site's default."""
    where: str
    id: str = ""
    """Short hash of what the line says: the same in every copy of the log, whatever its place there."""
    stand: str = ""
    """The standing of the instrument that it was read from."""
    away: float | None = None
    """How far the instrument stood from the point [mm]."""
    instrument: str = ""
    who: str = ""
    of: str = ""
    """``undo``: the id of the line that is taken back."""
    came: CameStick | None = None
    """``stick``: what it is."""
    stick: str = ""
    """``sawn``: the name of the stick that the piece came from."""
    at: float | None = None
    """``sawn``: where the piece begins on it, from its cleaner end [mm]; None = the first place with room."""

    @property
    def key(self) -> Key:
        """What it is about; two lines of one kind with the same key are readings of the same thing."""
        return self.mark, self.x, self.y, self.stand


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """The readings of one job, in the order that they were written down."""

    lines: tuple[LogLine, ...]
    notes: tuple[Fault, ...] = ()
    """What was passed over while reading: a last line that was cut off in the middle."""

    @property
    def standing(self) -> tuple[LogLine, ...]:
        """The facts that count: no line that a later one takes back, and no undo; superseded ones are still there."""
        undone: set[str] = set()
        kept: list[LogLine] = []
        for line in reversed(self.lines):
            if line.id and line.id in undone:
                continue
            if line.what == "undo":
                undone.add(line.of)
            else:
                kept.append(line)
        return tuple(reversed(kept))

    def latest(self, what: str) -> Mapping[Key, LogLine]:
        """Return the last standing line of a kind on each thing, in the order that the things were first read."""
        return {line.key: line for line in self.standing if line.what == what}
