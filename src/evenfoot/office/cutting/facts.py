"""Facts from the saw, typed on the command line, added to the log of a job."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from evenfoot.errors import Fault, OutOfRangeError, at
from evenfoot.job import LogLine, files
from evenfoot.office.actions import speaker_for
from evenfoot.office.cutting.asked import CutAsked
from evenfoot.plan import Plan
from evenfoot.units import parse_length
from evenfoot.words import Language


def note_facts(asked: CutAsked, plan: Plan, log: Path) -> None:
    """Write down the sticks that came, the pieces that were sawn and the sticks that are gone, in that order.

    Raises: JobFileError or OutOfRangeError for what cannot be a fact; nothing is written then.
    """
    now = datetime.now().astimezone().isoformat(timespec="seconds")
    unit = asked.unit or plan.job.unit.value
    lines = [
        *(files.read_came(asked.came, unit=unit, time=now) if asked.came is not None else ()),
        *(_sawn(text, plan, (now, unit)) for text in asked.sawn),
        *(_line(now, "stick-gone", name, 0.0) for name in asked.gone),
    ]
    files.append_log(log, lines)


def _sawn(text: str, plan: Plan, given: tuple[str, str]) -> LogLine:
    """Return the fact in ``mark, length, stick, where``; without a length it came out as planned."""
    now, unit = given
    mark, *more = [part.strip() for part in text.replace("、", ",").split(",")]
    length, stick, begin, *_ = [*more, "", "", ""]
    piece = next((p for p in plan.cutting.pieces if mark in _names(p.mark, plan)), None)
    if piece is None:
        known = tuple(p.mark for p in plan.cutting.pieces)
        raise OutOfRangeError(Fault(where="--sawn", code="mark-unknown", found=mark, nearest=_nearest(mark, known)))
    with at("--sawn"):
        sawn = float(parse_length(length, unit=unit)) if length else piece.length
        where = float(parse_length(begin, unit=unit)) if begin else None
    return _line(now, "sawn", piece.mark, sawn, stick=stick, begin=where)


def _names(mark: str, plan: Plan) -> Iterator[str]:
    """Yield a mark as it may be typed: as in the files, and as either language writes it."""
    yield mark
    yield from (speaker_for(plan, language).mark(mark) for language in Language)


def _nearest(mark: str, known: tuple[str, ...]) -> str:
    import difflib

    return next(iter(difflib.get_close_matches(mark, known, n=1, cutoff=0.0)), "")


def _line(  # noqa: PLR0913 - a fact is its keys
    time: str, what: str, mark: str, value: float, *, stick: str = "", begin: float | None = None
) -> LogLine:
    return LogLine(
        time=time, what=what, mark=mark, x=None, y=None, value=value, accuracy=None, where="", stick=stick, at=begin
    )
