"""Lines of a job's log from several devices: in the order of the clock on the wall, and readings that differ told."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import datetime

from evenfoot.job import files
from evenfoot.office.pack import join_logs, joined_words
from evenfoot.words import Speaker


def by_clock(lines: Sequence[str]) -> tuple[str, ...]:
    """Return lines in the order of their times, offsets left out; lines of one second keep the order they came in.

    Lines that came late from a phone take their place, so that whoever measured last counts (decision note 142).
    """
    clock = ""
    timed: list[tuple[str, str]] = []
    for line in lines:
        clock = _clock(line) or clock
        timed.append((clock, line))
    return tuple(line for _, line in sorted(timed, key=lambda pair: pair[0]))


def differing(old: Sequence[str], brought: Sequence[str], speaker: Speaker) -> tuple[str, ...]:
    """Return in words which readings that are brought differ from those that the log holds; raises JobFileError."""
    joined = join_logs(files.parse_log(_text(old)), files.parse_log(_text(brought)))
    return joined_words(joined, speaker)[1:]


def _text(lines: Sequence[str]) -> str:
    return "".join(f"{line}\n" for line in lines)


def _clock(line: str) -> str:
    """Return the time of a line in one form that sorts; empty for a line that tells none."""
    try:
        told = json.loads(line)["time"]
        return datetime.fromisoformat(told).replace(tzinfo=None).isoformat(timespec="seconds")
    except (ValueError, KeyError, TypeError):
        return ""
