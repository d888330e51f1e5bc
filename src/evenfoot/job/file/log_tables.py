"""What one line of a log holds; lengths are in mm, as their keys say."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo

from evenfoot.errors import Fault
from evenfoot.job.file.common import Coordinate, Table
from evenfoot.job.file.fields import Length, Text, fault
from evenfoot.job.file.sense import Say

KINDS = ("level", "post-gap")


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


class LogRow(Table):
    """One line of the log."""

    time: Annotated[str, BeforeValidator(_time)] = Field(description="day and time, ISO 8601")
    what: Annotated[str, Text(words=lambda: KINDS)] = Field(description="what was measured")
    mark: Annotated[str, Text(longest=40, shortest=0)] = Field("", description="post or point")
    x_mm: Annotated[Coordinate, Plain] | None = Field(None, description="along the wall")
    y_mm: Annotated[Coordinate, Plain] | None = Field(None, description="away from the wall")
    value_mm: Millimetres = Field(description="level, or clear gap")
    accuracy_mm: Annotated[Fraction, Length(above=0, high=100), Plain] | None = Field(
        None, description="plus or minus, 19 times in 20"
    )

    def faults(self, say: Say) -> Iterable[Fault]:
        """Return what this kind of line lacks."""
        if self.what == "level":
            for key in ("x_mm", "y_mm"):
                if getattr(self, key) is None:
                    yield Fault(where=key, code="key-missing", allowed=key)
        elif not self.mark:
            yield Fault(where="mark", code="key-missing", allowed="mark")
        elif self.value_mm < 0:
            yield Fault(
                where="value_mm",
                code="too-small",
                found=say(self.value_mm),
                allowed=f"≥ {say(Fraction(0))}",
                nearest="0",
            )
