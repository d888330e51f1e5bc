"""What every question on site starts from and ends in: job and log, typed values in their unit, three lines."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from evenfoot.errors import Fault, JobFileError, OutOfRangeError, at
from evenfoot.job import Log, LogLine, files, kinds
from evenfoot.office.actions import Request, reckon, speaker_for
from evenfoot.plan import Plan
from evenfoot.setting import setting_figure
from evenfoot.units import UNITS, format_length, parse_length
from evenfoot.words import Language, Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Who asks and about what: a job with its log, or typed numbers alone (``job`` is None)."""

    job: Path | None = None
    log: Path | None = None
    """None = log.jsonl beside the job."""
    shop: Path | None = None
    language: Language = Language.ENGLISH
    unit: str = ""
    """Unit of a bare number and of the answer; empty = the job's, mm without a job."""
    who: str = ""
    instrument: str = ""
    is_sure: bool = False
    """Whether typed values are taken even where they look like a slip."""
    instead: tuple[str, ...] = ()
    """Begin the codes that are said instead of others, where the command would name its options."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What is answered: three lines for the hand, then the detail, and the same as plain data."""

    what: str
    lines: tuple[str, ...]
    """At most three: what is so, what to do, how sure that is."""
    detail: tuple[str, ...]
    record: Mapping[str, object]
    """Keys carry their unit."""
    is_fine: bool
    """False when something has to be done, or cannot be."""

    @property
    def plain(self) -> dict[str, object]:
        """The whole answer as plain data for ``--json``."""
        return {
            "what": self.what,
            "is_fine": self.is_fine,
            "lines": list(self.lines),
            "detail": list(self.detail),
            **{key: _rounded(value) for key, value in self.record.items()},
        }


def _rounded(value: object) -> object:
    """Return plain data with every figure to a ten-thousandth."""
    if isinstance(value, float):
        return round(value, 4) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(one) for one in value]
    return value


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """One question with everything read that it needs."""

    asked: Asked
    plan: Plan | None
    log: Log
    speaker: Speaker

    @property
    def unit(self) -> str:
        """The unit of a bare number."""
        return self.asked.unit or ("mm" if self.plan is None else self.plan.job.unit.value)

    def length(self, text: str, where: str) -> float:
        """Return a typed length [mm]; raises OutOfRangeError with the place ``where``."""
        with at(where):
            return float(parse_length(text, unit=self.unit))

    def said(self, mm: float) -> str:
        """Return a length [mm] as it is read off a tape: half a bu with shaku."""
        if self.speaker.unit == "shaku":
            return format_length(mm, unit="shaku", step=UNITS["bu"].mm / 2)
        return self.speaker.length(mm)

    def figure(self, name: str) -> float:
        """Return a figure about measuring that is on record, by its name."""
        return setting_figure(name).value

    def unconfirmed(self, names: Sequence[str], *, option: str) -> str:
        """Return the sentence that names the figures on record behind an answer, and how to give one's own."""
        told = [(name, setting_figure(name)) for name in names]
        said = ("、" if self.is_japanese else ", ").join(
            self.speaker.say(
                "setting.figure",
                what_code=f"setting.figure-{n}",
                value=self.plus(f.value) if f.unit == "mm" else f"{f.value:g} {f.unit}",
            )
            for n, f in told
        )
        unsure = [f for _, f in told if not f.is_confirmed]
        code = "setting.figures-unconfirmed" if unsure else "setting.figures"
        return self.speaker.say(code, figures=said, option=option)

    @property
    def is_japanese(self) -> bool:
        """Whether the answer is in Japanese, where sentences are not parted by blanks."""
        return self.speaker.language is Language.JAPANESE

    def small(self, mm: float) -> str:
        """Return a small amount [mm] as one reads it off a rule: mm with m and cm, rin with shaku."""
        if self.speaker.unit == "m":
            return format_length(mm, unit="mm")
        if self.speaker.unit == "shaku":
            return format_length(mm, unit="shaku", step=UNITS["rin"].mm)
        return self.speaker.length(mm)

    def plus(self, mm: float) -> str:
        """Return a plus-or-minus [mm] rounded up to what can be read: never less than it is."""
        finer = {"m": "mm", "shaku": "rin"}
        step = UNITS[finer.get(self.speaker.unit, self.speaker.unit)].step
        steps = math.ceil(mm / float(step) - 1e-9)
        return self.small(float(step * steps))

    def signed(self, mm: float) -> str:
        """Return a small amount [mm] with its sign, plain when it is nothing."""
        text = self.small(mm)
        is_more = mm > 0 and text != self.small(0.0)
        return f"+{text}" if is_more else text

    def line(self, what: str, mark: str, value: float) -> LogLine:
        """Return a fact read just now, by who asks, with what is in hand."""
        return LogLine(
            time=datetime.now().astimezone().isoformat(timespec="seconds"),
            what=what,
            mark=mark,
            x=None,
            y=None,
            value=value,
            accuracy=None,
            where="",
            instrument=self.asked.instrument,
            who=self.asked.who,
        )

    def note(self, lines: Sequence[LogLine]) -> Bench:
        """Return the bench with new facts; beside a job they are added to its log first, else they only count here."""
        if not lines:
            return self
        if self.asked.job is None:
            return replace(self, log=Log(lines=(*self.log.lines, *lines)))
        files.append_log(log_path(self.asked), lines)
        return replace(self, log=files.read_log(log_path(self.asked)))


def open_bench(asked: Asked) -> Bench:
    """Return the bench of one question.

    Raises: JobFileError with all faults of a file; EvenfootError when the plan cannot be made.
    """
    if asked.job is None:
        unit = asked.unit or "mm"
        speaker = Speaker(asked.language, _said(unit), instead=asked.instead)
        return Bench(asked=asked, plan=None, log=Log(lines=()), speaker=speaker)
    path = log_path(asked)
    plan = reckon(Request(job=asked.job, shop=asked.shop, log=path))
    own = speaker_for(plan, asked.language)
    unit = _said(asked.unit) if asked.unit else own.unit
    speaker = Speaker(asked.language, unit, instead=(*asked.instead, *own.instead))
    return Bench(asked=asked, plan=plan, log=plan.log, speaker=speaker)


def log_path(asked: Asked) -> Path:
    """Return where the log of the job lies, or will be begun."""
    assert asked.job is not None, "typed numbers alone have no log"
    return asked.log if asked.log is not None else asked.job.parent / "log.jsonl"


def _said(unit: str) -> str:
    """Return the unit in which lengths typed in a unit are read out: inches in feet and inches, as a tape is."""
    said = {"in": "ft", "cm": "mm", "ken": "shaku", "sun": "shaku", "bu": "shaku", "rin": "shaku"}
    return said.get(unit, unit)


def doubtful(where: str, *, found: str, nearest: str) -> OutOfRangeError:
    """Return the challenge of a typed value that looks like a slip, with the value that would be plausible."""
    return OutOfRangeError(Fault(where=where, code="reading-doubtful", found=found, nearest=nearest))


def undo_last(asked: Asked, kinds_of: Sequence[str]) -> Answer:
    """Take back the last standing reading of some kinds, by one more line in the log, and say which it was.

    Raises: JobFileError (``log-nothing-to-undo``) when none of these kinds stands in the log.
    """
    path = log_path(asked)
    log = files.read_log(path)
    last = next((line for line in reversed(log.standing) if line.what in kinds_of), None)
    if last is None:
        raise JobFileError(Fault(where=path.name, code="log-nothing-to-undo", allowed=", ".join(kinds_of)))
    own = Speaker(asked.language, _said(asked.unit or _unit_of(asked)), instead=asked.instead)
    bench = Bench(asked=asked, plan=None, log=log, speaker=own)
    bench.note([replace(bench.line("undo", last.mark, 0.0), of=last.id)])
    speaker = bench.speaker
    said = speaker.say(
        "setting.undone",
        what_code=f"log-kind.{last.what}",
        mark=speaker.mark(last.mark),
        value=f"{last.value:g} %" if last.what == "moisture" else speaker.length(last.value),
        time=last.time,
    )
    return Answer(what="undo", lines=(said,), detail=(), record={"undone": last.id, "mark": last.mark}, is_fine=True)


def _unit_of(asked: Asked) -> str:
    assert asked.job is not None
    return kinds.Unit(files.read_job(asked.job).unit).value
