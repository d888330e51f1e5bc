"""How numbers, marks, money and days are written on a sheet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil

from evenfoot.job import kinds
from evenfoot.units import UNITS, format_length
from evenfoot.words import Speaker

NINETEEN_IN_TWENTY = 1.96
"""Half-width of the middle 95 % of a normal distribution in standard deviations."""
HALF = Fraction(1, 2)
RIN = Fraction(10, 33)
"""A thousandth of a shaku [mm]."""
SIXTEENTH = Fraction(254, 160)
THIRTY_SECOND = Fraction(254, 320)
MINUS = "-"
FEW = 16
"""More marks than this are named by the first and last of them."""
NO_CENTS = frozenset({"JPY", "KRW"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Writes values for one speaker; drawings name the unit once, so lengths stand bare."""

    speaker: Speaker

    @property
    def is_metric(self) -> bool:
        """Whether lengths are written in mm, cm or m."""
        return UNITS[self.speaker.unit].family == "metric"

    @property
    def is_inch(self) -> bool:
        """Whether lengths are written in inches or feet."""
        return UNITS[self.speaker.unit].family == "inch"

    def length(self, mm: float) -> str:
        """Return a length [mm] to 0.5 mm, 1/16 inch or one rin."""
        return self._length(mm, SIXTEENTH)

    def cut(self, mm: float) -> str:
        """Return a length to cut [mm] to 0.5 mm, 1/32 inch or one rin."""
        return self._length(mm, THIRTY_SECOND)

    def level(self, mm: float) -> str:
        """Return a level [mm] with its sign."""
        said = self.length(mm)
        return said if mm <= 0 or not said.strip("0.") else f"+{said}"

    def spread(self, sigma: float) -> str:
        """Return the range 19 times in 20 of a standard deviation [mm], never rounded down, in mm."""
        half = ceil(NINETEEN_IN_TWENTY * sigma * 2 - 1e-9) / 2
        return f"± {half:g}"

    def number(self, value: float, places: int = 1) -> str:
        """Return a plain number with thousands set apart and no trailing zeros."""
        text = f"{value:,.{places}f}"
        return text.rstrip("0").rstrip(".") if "." in text else text

    def range(self, low: float, high: float, places: int = 1) -> str:
        """Return a range, or one number when both ends read alike."""
        a, b = self.number(low, places), self.number(high, places)
        return a if a == b else f"{a} – {b}"

    def percent(self, ratio: float) -> str:
        """Return a ratio as percent, rounded up, so that 100.2 % never reads as 100 %."""
        return f"{ceil(ratio * 100 - 1e-9):d} %"

    def money(self, low: Decimal, high: Decimal, currency: str) -> str:
        """Return money or its range with the currency's code."""
        places = 0 if currency in NO_CENTS else 2
        a, b = f"{low:,.{places}f}", f"{high:,.{places}f}"
        return f"{a} {currency}" if a == b else f"{a} – {b} {currency}"

    def day(self, day: date | None) -> str:
        """Return a date, or the words for none."""
        return day.isoformat() if day else self.speaker.say("sheet.no-date")

    def mark(self, mark: str) -> str:
        """Return a mark as this language's carpenters write it."""
        return self.speaker.mark(mark)

    def marks(self, marks: tuple[str, ...]) -> str:
        """Return several marks in a row."""
        return self.speaker.say("sheet.comma").join(self.mark(m) for m in marks)

    def some(self, marks: tuple[str, ...]) -> str:
        """Return all of a few marks; of many the first, the last and their count."""
        if len(marks) <= FEW:
            return self.marks(marks)
        return self.speaker.say(
            "sheet.marks-through", first=self.mark(marks[0]), last=self.mark(marks[-1]), count=len(marks)
        )

    def section(self, width: float, depth: float) -> str:
        """Return a section, width by depth."""
        return f"{self.length(width)} × {self.length(depth)}"

    def said(self, group: str, name: str) -> str:
        """Return the words of a code, or the name itself where a person typed one of their own."""
        code = f"{group}.{name}"
        return self.speaker.say(code) if self.speaker.knows(code) else name

    def subject(self, subject: str) -> str:
        """Return what a finding is about: a mark, or a part of the job in words."""
        code = f"sheet-subject.{subject}"
        return self.speaker.say(code) if self.speaker.knows(code) else self.mark(subject)

    def look(self, look: kinds.Look) -> str:
        """Return an appearance grade in the trade's words."""
        return self.speaker.say(f"sheet-look.{look.value}")

    def _length(self, mm: float, fraction: Fraction) -> str:
        family = UNITS[self.speaker.unit].family
        step = {"metric": HALF, "inch": fraction, "shaku": RIN}[family]
        return format_length(mm, unit=self.speaker.unit, step=step, is_bare=True)
