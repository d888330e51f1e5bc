"""What a phone brings back: its lines put to the job's log as a union, and readings that disagree told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from evenfoot.errors import Fault, StoreError
from evenfoot.job import Log, LogLine, files, kinds, read_job
from evenfoot.words import Language, Speaker

_STANDING_ALONE = frozenset({"undo", "jack", "level", "stick", "sawn", "stick-gone"})
"""Kinds of which several lines on one thing are no readings of the same."""
_TOLD_ONCE = frozenset({"stick", "sawn", "stick-gone"})
"""Kinds that are never written a second time: they count pieces."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Disagreement:
    """Two readings of the same thing that differ: the one that counts, and the other. Both stay in the log."""

    counts: LogLine
    other: LogLine


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """What is to be added to a log: ``added`` in order, of which ``new`` were not in it, and what disagrees."""

    added: tuple[LogLine, ...]
    new: tuple[LogLine, ...]
    known: int
    """Lines that were in the log already."""
    disagreements: tuple[Disagreement, ...]


def join_logs(old: Log, brought: Log) -> Joined:
    """Return how two logs of one job are put together: the union of their lines.

    A log is only ever added to, and a later line counts. Where a line that is brought is older than some in the log,
    those later ones are written once more behind it, so that they still count: the same line twice is one fact.
    """
    known = {line.id for line in old.lines}
    new = tuple({line.id: line for line in brought.lines if line.id not in known}.values())
    added = _woven(old.lines, sorted(new, key=_clock))
    return Joined(
        added=added,
        new=new,
        known=sum(line.id in known for line in brought.lines),
        disagreements=_disagreements(old, new, Log(lines=(*old.lines, *added))),
    )


def _woven(old: Sequence[LogLine], new: Sequence[LogLine]) -> tuple[LogLine, ...]:
    """Return new lines in the order of the clock, with every line of the log behind the first that is later than one.

    The log's own lines keep their order among each other, whatever their clocks say.
    """
    waiting = list(new)
    out: list[LogLine] = []
    for line in old:
        while waiting and _clock(waiting[0]) < _clock(line):
            out.append(waiting.pop(0))
        if out and line.what not in _TOLD_ONCE:
            out.append(line)
    return (*out, *waiting)


def join_file(log: Path, brought: Path) -> Joined:
    """Add the lines of a phone's file to the job's log and return what came of it; nothing is written when none is new.

    Raises: StoreError (``file-missing``) when there is no such file; JobFileError with every fault of either log.
    """
    if not brought.exists():
        raise StoreError(Fault(where=str(brought), code="file-missing", found=brought.name))
    joined = join_logs(files.read_log(log), files.read_log(brought))
    if joined.new:
        files.append_log(log, joined.added)
    return joined


def speaker_of(job: Path, language: Language) -> Speaker:
    """Return the speaker of a job file: the language asked for, lengths in its unit, inches in feet and inches.

    Raises: JobFileError with all faults of the file.
    """
    unit = read_job(job).unit
    return Speaker(language, (kinds.Unit.FOOT if unit is kinds.Unit.INCH else unit).value)


def joined_words(joined: Joined, speaker: Speaker) -> tuple[str, ...]:
    """Return in words how many lines were new, and which readings of the same thing differ."""
    count = len(joined.new)
    head = speaker.say("pack.join-new" if count else "pack.join-nothing", count=count, known=joined.known)
    return (head, *(_told(one, speaker) for one in joined.disagreements))


def joined_record(joined: Joined, speaker: Speaker) -> dict[str, Any]:
    """Return the same as plain data."""
    return {
        "new": len(joined.new),
        "known": joined.known,
        "disagreements": [
            {
                "what": one.counts.what,
                "mark": one.counts.mark,
                "counts": {"id": one.counts.id, **files.line_row(one.counts)},
                "other": {"id": one.other.id, **files.line_row(one.other)},
                "text": _told(one, speaker),
            }
            for one in joined.disagreements
        ],
    }


def _told(one: Disagreement, speaker: Speaker) -> str:
    return speaker.say(
        "pack.disagree",
        what_code=f"log-kind.{one.counts.what}",
        mark=speaker.mark(one.counts.mark),
        counts=_reading(one.counts, speaker),
        other=_reading(one.other, speaker),
    )


def _reading(line: LogLine, speaker: Speaker) -> str:
    value = f"{line.value:g} %" if line.what == "moisture" else speaker.length(line.value)
    joint = "、" if speaker.language is Language.JAPANESE else ", "
    return speaker.say("pack.reading", value=value, by=joint.join(part for part in (_hour(line), line.who) if part))


def _hour(line: LogLine) -> str:
    return _clock(line)[:16].replace("T", " ")


def _clock(line: LogLine) -> str:
    """Return when a line was written by the clock on the wall of the site, in one form that sorts."""
    return datetime.fromisoformat(line.time).replace(tzinfo=None).isoformat(timespec="seconds")


def _disagreements(old: Log, new: Sequence[LogLine], whole: Log) -> tuple[Disagreement, ...]:
    """Return readings that stand on both sides about the same thing and differ."""
    stands = {line.id for line in whole.standing}
    before = {(line.what, line.key): line for line in old.standing if line.id in stands}
    ours = {line.id for line in old.lines}
    out = []
    for line in {(line.what, line.key): line for line in new if line.id in stands}.values():
        other = before.get((line.what, line.key))
        if line.what in _STANDING_ALONE or other is None or other.value == line.value:
            continue
        last = whole.latest(line.what)[line.key]
        out.append(Disagreement(counts=last, other=line if last.id in ours else other))
    return tuple(out)
