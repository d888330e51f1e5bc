"""What one value in a file may be: a length, figure, slope, word or choice, each with its range."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import PydanticCustomError, core_schema

from evenfoot.errors import EvenfootError
from evenfoot.units import (
    UNITS,
    format_exact,
    format_ratio,
    parse_force,
    parse_length,
    parse_pressure,
    parse_ratio,
    parse_temperature,
)

SKIPPED = "skipped"
"""Code of a length that cannot be read because the file's own unit is wrong; the reader says that once."""

LONGEST_FOUND = 60


def fault(code: str, *, found: object = "", allowed: str = "", nearest: str = "") -> PydanticCustomError:
    """Return an error that carries facts through the parser to the reader of the file."""
    facts = {"found": shown(found), "allowed": allowed, "nearest": nearest}
    return PydanticCustomError(code, "see facts", facts)


def shown(value: object) -> str:
    """Return a value as short text, for want of the text as typed."""
    text = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in _toml(value)[: LONGEST_FOUND + 1])
    return text if len(text) <= LONGEST_FOUND else f"{text[:LONGEST_FOUND]}…"


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        some = [f'"{item}"' if isinstance(item, str) else _toml(item) for item in value[:LONGEST_FOUND]]
        return f"[{', '.join(some)}]"
    if isinstance(value, dict):
        some = [f"{key} = {_toml(item)}" for key, item in list(value.items())[:LONGEST_FOUND]]
        return f"{{{', '.join(some)}}}"
    if isinstance(value, Decimal) and not value.is_finite():
        return str(value).lower().replace("infinity", "inf")
    return str(value)


def nearest_word(word: str, words: Iterable[str]) -> str:
    """Return the known word closest to what was typed."""
    short = word[:LONGEST_FOUND].lower()
    known = list(words)
    within = [candidate for candidate in known if short and short in candidate]
    return difflib.get_close_matches(short, within or known, n=1, cutoff=0.0)[0]


class Field:
    """One kind of value: how it is read and what an editor is told about it."""

    def read(self, value: Any, info: ValidationInfo) -> Any:  # noqa: ANN401 - whatever the file holds
        """Return the value, checked; raises PydanticCustomError with facts."""
        raise NotImplementedError

    def schema(self) -> dict[str, Any]:
        """Return its JSON Schema."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:  # noqa: ANN401
        return core_schema.with_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return self.schema()


@dataclass(frozen=True, kw_only=True)
class Range(Field):
    """A figure between two bounds; ``above`` is a bound that the value must exceed."""

    low: float | None = None
    high: float | None = None
    above: float | None = None

    def parse(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401
        """Return the figure in the unit used inside."""
        raise NotImplementedError

    def text(self, bound: Fraction, info: ValidationInfo) -> str:
        """Return a bound as a person would type it."""
        raise NotImplementedError

    def read(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401
        """Return the figure when it lies within the bounds."""
        figure = self._figure(value, info)
        code, nearest = self._beyond(figure, info)
        if code:
            raise fault(code, found=self._found(value, info), allowed=self._span(info), nearest=nearest)
        return figure

    def _beyond(self, figure: Fraction, info: ValidationInfo) -> tuple[str, str]:
        """Return how the figure leaves the bounds, and the nearest one inside; empty when it does not."""
        low, high, above = (
            None if bound is None else Fraction(str(bound)) for bound in (self.low, self.high, self.above)
        )
        if low is not None and figure < low:
            return "too-small", self.text(low, info)
        if above is not None and figure <= above:
            return "too-small", self.text(self.after(above, info), info)
        if high is not None and figure > high:
            return "too-large", self.text(high, info)
        return "", ""

    def _figure(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401
        if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
            raise fault("not-a-figure", found=value)
        try:
            return self.parse(value, info)
        except EvenfootError as error:
            facts = error.fault
            raise fault(facts.code, found=value, allowed=facts.allowed, nearest=facts.nearest) from error

    def _found(self, value: Any, info: ValidationInfo) -> str:  # noqa: ANN401
        """Return a value as typed, with the unit that it is in."""
        unit = "" if isinstance(value, str) else self.unit_of(info)
        return f"{shown(value)} {unit}".strip()

    def unit_of(self, info: ValidationInfo) -> str:
        """Return the unit of a bare figure."""
        raise NotImplementedError

    def after(self, bound: Fraction, info: ValidationInfo) -> Fraction:  # noqa: ARG002
        """Return the next figure above a bound that a person would type."""
        return bound + 1

    def _span(self, info: ValidationInfo) -> str:
        floor = self.low if self.above is None else self.above
        low = "" if floor is None else self.text(Fraction(str(floor)), info)
        high = "" if self.high is None else self.text(Fraction(str(self.high)), info)
        if not high:
            return f"{'>' if self.above is not None else '≥'} {low}"
        return f"{'> ' if self.above is not None else ''}{low} … {high}" if low else f"≤ {high}"


@dataclass(frozen=True, kw_only=True)
class Length(Range):
    """A length; bounds in mm, a bare number in the file's unit."""

    def parse(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401
        """Return mm."""
        assert info.context is not None
        unit = info.context["unit"]
        if unit is None:
            raise fault(SKIPPED)
        return parse_length(value, unit=unit)

    def unit_of(self, info: ValidationInfo) -> str:
        """Return the file's unit."""
        assert info.context is not None
        return str(info.context["unit"])

    def text(self, bound: Fraction, info: ValidationInfo) -> str:
        """Return a bound in the file's unit, rounded to a step that still lies inside."""
        assert info.context is not None
        scale = UNITS[info.context["unit"]]
        steps = bound / scale.step
        is_low = self.high is None or bound != Fraction(str(self.high))
        inside = -((-steps).__floor__()) if is_low else steps.__floor__()
        return format_exact(inside * scale.step, unit=scale.name)

    def after(self, bound: Fraction, info: ValidationInfo) -> Fraction:
        """Return the bound and one step."""
        assert info.context is not None
        return bound + UNITS[info.context["unit"]].step

    def schema(self) -> dict[str, Any]:
        """Return number or text."""
        return {"type": ["number", "string"], "x-quantity": "length"}


@dataclass(frozen=True, kw_only=True)
class Figure(Range):
    """A bare figure such as a percentage or a price."""

    unit: str = ""

    def unit_of(self, info: ValidationInfo) -> str:  # noqa: ARG002
        """Return the one unit that it can have."""
        return self.unit

    def parse(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401, ARG002
        """Return the figure itself; text is no figure."""
        if isinstance(value, str):
            raise fault("not-a-figure", found=value)
        return parse_ratio(value)

    def text(self, bound: Fraction, info: ValidationInfo) -> str:  # noqa: ARG002
        """Return a bound with its unit, for reading only."""
        return f"{float(bound):g} {self.unit}".strip()

    def schema(self) -> dict[str, Any]:
        """Return number with the bounds."""
        bounds = {"minimum": self.low, "maximum": self.high, "exclusiveMinimum": self.above}
        return {"type": "number"} | {name: bound for name, bound in bounds.items() if bound is not None}


@dataclass(frozen=True, kw_only=True)
class Spelled(Figure):
    """A figure that may also be text with its own unit: a slope, a force or a temperature."""

    reader: Callable[[Any], Fraction]
    quantity: str
    writer: Callable[[Fraction], str] | None = None

    def text(self, bound: Fraction, info: ValidationInfo) -> str:
        """Return a bound as a person would type it."""
        return self.writer(bound) if self.writer else super().text(bound, info)

    def parse(self, value: Any, info: ValidationInfo) -> Fraction:  # noqa: ANN401, ARG002
        """Return the figure in the unit used inside."""
        return self.reader(value)

    def schema(self) -> dict[str, Any]:
        """Return number or text."""
        return {"type": ["number", "string"], "x-quantity": self.quantity}


def slope_between(*, low: float, high: float) -> Spelled:
    """Return a slope field [-]."""
    return Spelled(low=low, high=high, reader=parse_ratio, quantity="slope", writer=format_ratio)


def force_between(*, low: float, high: float) -> Spelled:
    """Return a force field [N]."""
    return Spelled(low=low, high=high, reader=parse_force, quantity="force", unit="N")


def pressure_between(*, low: float, high: float) -> Spelled:
    """Return a pressure field [N/mm2]."""
    return Spelled(low=low, high=high, reader=parse_pressure, quantity="pressure", writer=_pressure)


def _pressure(bound: Fraction) -> str:
    return f"{float(bound * 1000):g} kN/m2"


def temperature_between(*, low: float, high: float) -> Spelled:
    """Return a temperature field [degrees C]."""
    return Spelled(low=low, high=high, reader=parse_temperature, quantity="temperature", unit="C")


@dataclass(frozen=True, kw_only=True)
class Whole(Field):
    """A whole number between two bounds."""

    low: int
    high: int

    def read(self, value: Any, info: ValidationInfo) -> int:  # noqa: ANN401
        """Return the whole number when it lies within the bounds."""
        if isinstance(value, bool) or not isinstance(value, int):
            raise fault("not-whole", found=value)
        return int(Figure(low=self.low, high=self.high).read(value, info))

    def schema(self) -> dict[str, Any]:
        """Return integer with the bounds."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True)
class Choice(Field):
    """One word of a closed list."""

    kind: type[StrEnum]

    def read(self, value: Any, info: ValidationInfo) -> StrEnum:  # noqa: ANN401, ARG002
        """Return the member that the word names."""
        words = [str(member) for member in self.kind]
        if isinstance(value, str) and value in words:
            return self.kind(value)
        raise fault("not-a-choice", found=value, allowed=", ".join(words), nearest=nearest_word(str(value), words))

    def schema(self) -> dict[str, Any]:
        """Return the list."""
        return {"type": "string", "enum": [str(member) for member in self.kind]}


@dataclass(frozen=True, kw_only=True)
class Text(Field):
    """A short text on one line; ``words`` closes the list of what it may be."""

    longest: int = 80
    shortest: int = 1
    words: Callable[[], tuple[str, ...]] | None = None
    code: str = "not-a-choice"

    def read(self, value: Any, info: ValidationInfo) -> str:  # noqa: ANN401, ARG002
        """Return the text when it is printable and known."""
        if not isinstance(value, str):
            raise fault("not-text", found=value)
        if not self.shortest <= len(value.strip()) or len(value) > self.longest or not value.isprintable():
            raise fault("text-unfit", found=value, allowed=f"{self.shortest} … {self.longest}")
        words = self.words() if self.words else (value,)
        if value not in words:
            raise fault(self.code, found=value, allowed=", ".join(words), nearest=nearest_word(value, words))
        return value

    def schema(self) -> dict[str, Any]:
        """Return text with its limits, or the closed list."""
        if self.words:
            return {"type": "string", "enum": list(self.words())}
        return {"type": "string", "minLength": self.shortest, "maxLength": self.longest}
