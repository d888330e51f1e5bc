"""What one line of a log holds; lengths are in mm, as their keys say."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo

from evenfoot.errors import Fault
from evenfoot.job.file.common import Coordinate, Grade, Section, Species, StretchRow, Table, row
from evenfoot.job.file.fields import Choice, Figure, Length, Text, Whole, fault
from evenfoot.job.file.log_kinds import LOG_KINDS
from evenfoot.job.file.sense import Say, stretches
from evenfoot.job.kinds import Look


def _time(value: Any) -> str:  # noqa: ANN401 - whatever the file holds
    try:
        datetime.fromisoformat(value)
    except (TypeError, ValueError):
        raise fault("not-a-time", found=value, allowed="2026-11-25T09:15") from None
    return str(value)


def _number(value: Any, info: ValidationInfo) -> Any:  # noqa: ANN401, ARG001
    if isinstance(value, str):
        raise fault("not-a-figure", found=value)
    return value


Plain = BeforeValidator(_number)
"""Keys that say mm hold numbers, never text with another unit."""

Millimetres = Annotated[Fraction, Length(low=-100_000, high=100_000), Plain]
Words = Annotated[str, Text(longest=40, shortest=0)]


class LogRow(Table):
    """One line of the log."""

    time: Annotated[str, BeforeValidator(_time)] = Field(description="day and time, ISO 8601")
    what: Annotated[str, Text(words=lambda: tuple(LOG_KINDS))] = Field(description="what was measured")
    mark: Words = Field("", description="post, board, corners or point")
    x_mm: Annotated[Coordinate, Plain] | None = Field(None, description="along the wall")
    y_mm: Annotated[Coordinate, Plain] | None = Field(None, description="away from the wall")
    value_mm: Millimetres | None = Field(None, description="what was read")
    value_pct: Annotated[Fraction, Figure(low=0, high=200, unit="%")] | None = Field(None, description="moisture")
    accuracy_mm: Annotated[Fraction, Length(above=0, high=100), Plain] | None = Field(
        None, description="plus or minus, 19 times in 20"
    )
    stand: Words = Field("", description="standing of the instrument")
    away_mm: Annotated[Fraction, Length(low=0, high=1_000_000), Plain] | None = Field(
        None, description="distance from the instrument"
    )
    instrument: Words = Field("", description="what it was read with")
    who: Words = Field("", description="who read it")
    of: Words = Field("", description="id of the line taken back")
    species: Species | None = Field(None, description="wood of a stick")
    look: Annotated[Look, Choice(Look)] = Field(Look.COMMON, description="its appearance grade")
    strength_grade: Grade = Field("ungraded", description="its strength grade")
    width_mm: Annotated[Section, Plain] | None = Field(None, description="its planed width")
    depth_mm: Annotated[Section, Plain] | None = Field(None, description="its planed depth")
    clean_ends: Annotated[int, Whole(low=0, high=2)] = Field(0, description="ends that are square and clean")
    bad_mm: list[Annotated[StretchRow, row("bad")]] = Field([], max_length=50, description="rows [begin, finish]")
    flaws_mm: list[Annotated[StretchRow, row("flaws")]] = Field([], max_length=50, description="rows [begin, finish]")
    stick: Words = Field("", description="name of the stick that a piece came from")
    at_mm: Annotated[Fraction, Length(low=0, high=30_000), Plain] | None = Field(
        None, description="where the piece begins on it"
    )

    def faults(self, say: Say) -> Iterable[Fault]:
        """Return what this kind of line lacks."""
        kind = LOG_KINDS[self.what]
        lacks = [key for key in (*kind.needs, kind.value) if key and getattr(self, key) in {None, ""}]
        yield from (Fault(where=key, code="key-missing", allowed=key) for key in lacks)
        if lacks or kind.low is None:
            return
        if self.what == "stick" and self.value_mm is not None:
            yield from stretches(self.bad_mm, "bad_mm", self.value_mm, say)
            yield from stretches(self.flaws_mm, "flaws_mm", self.value_mm, say)
        value = getattr(self, kind.value)
        if value < kind.low:
            low = f"{kind.low} %" if kind.value == "value_pct" else say(Fraction(kind.low))
            found = f"{float(value):g} %" if kind.value == "value_pct" else say(value)
            yield Fault(where=kind.value, code="too-small", found=found, allowed=f"≥ {low}", nearest=str(kind.low))
