"""A question about cutting, as it is typed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from evenfoot.words import Language


@dataclass(frozen=True, slots=True, kw_only=True)
class CutAsked:
    """What is asked: a job, or ``pieces`` and ``sticks`` as two lists. What is typed is empty where it was left out."""

    job: Path | None = None
    pieces: Path | None = None
    sticks: Path | None = None
    shop: Path | None = None
    log: Path | None = None
    unit: str = ""
    language: Language = Language.ENGLISH
    kerf: str = ""
    trim: str = ""
    keep: str = ""
    worth: str = ""
    goals: tuple[str, ...] = ()
    together: tuple[str, ...] = ()
    spares: tuple[str, ...] = ()
    nodes: int | None = None
    came: Path | None = None
    """A list of sticks that came, to be written into the log."""
    sawn: tuple[str, ...] = ()
    """``mark, length, stick, where``: pieces that were sawn, to be written into the log."""
    gone: tuple[str, ...] = ()
    """Sticks that are no longer there."""
