"""What the tables of every file share: kinds of value, rows, and the check that keys agree."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Any, Self

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    Strict,
    ValidationInfo,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError, core_schema

from evenfoot.errors import Fault
from evenfoot.job.file import sense
from evenfoot.job.file.fields import (
    Figure,
    Length,
    Text,
    fault,
)
from evenfoot.job.file.places import ROWS
from evenfoot.tables import species_ids
from evenfoot.units import format_exact

Coordinate = Annotated[Fraction, Length(low=-2_000_000, high=2_000_000)]
Level = Annotated[Fraction, Length(low=-50_000, high=50_000)]
Section = Annotated[Fraction, Length(low=5, high=1000)]
Gap = Annotated[Fraction, Length(low=0, high=50)]
Reach = Annotated[Fraction, Length(low=0, high=1000)]
Spacing = Annotated[Fraction, Length(low=100, high=20_000)]
Species = Annotated[str, Text(words=species_ids, code="species-unknown")]
Grade = Annotated[str, Text(longest=24)]
Name = Annotated[str, Text(longest=40)]
YesNo = Annotated[bool, Strict()]
Moisture = Annotated[Fraction, Figure(low=2, high=150, unit="%")]


def _day(value: Any) -> date:  # noqa: ANN401 - whatever the file holds
    if not isinstance(value, date) or isinstance(value, datetime):
        found = f'"{value}"' if isinstance(value, str) else value
        raise fault("not-a-date", found=found, allowed="2026-11-25")
    return value


Day = Annotated[date, BeforeValidator(_day), WithJsonSchema({"type": "string", "format": "date"})]


def _amount(value: Any) -> Decimal:  # noqa: ANN401 - whatever the file holds
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise fault("not-a-figure", found=value)
    if not Decimal(value).is_finite():
        raise fault("not-finite", found=value)
    if not 0 <= value <= 10**9:
        is_low = value < 0
        nearest = "0" if is_low else "1000000000"
        raise fault("too-small" if is_low else "too-large", found=value, allowed="0 … 1000000000", nearest=nearest)
    return Decimal(value)


def _span(value: Any) -> tuple[Decimal, Decimal]:  # noqa: ANN401 - whatever the file holds
    parts = value if isinstance(value, list) else [value, value]
    if len(parts) != 2:
        raise fault("not-a-price", found=value, allowed="100, [80, 120]")
    low, high = (_amount(part) for part in parts)
    if low > high:
        raise fault("range-reversed", found=f"[{low}, {high}]", nearest=f"[{high}, {low}]")
    return low, high


_NUMBER_OR_PAIR = {"anyOf": [{"type": "number"}, {"type": "array", "items": {"type": "number"}}]}
Amount = Annotated[Decimal, BeforeValidator(_amount), WithJsonSchema({"type": "number", "minimum": 0})]
PriceSpan = Annotated[tuple[Decimal, Decimal], BeforeValidator(_span), WithJsonSchema(_NUMBER_OR_PAIR)]


class Table(BaseModel):
    """One table of a file: no unknown keys, nothing changed after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    def faults(self, say: sense.Say) -> Iterable[Fault]:  # noqa: ARG002 - for tables whose keys must agree
        """Return where the keys disagree; paths are relative to this table."""
        return ()

    @model_validator(mode="after")
    def _agree(self, info: ValidationInfo) -> Self:
        assert info.context is not None
        unit = info.context["unit"] or "mm"
        faults = tuple(self.faults(lambda mm: format_exact(mm, unit=unit)))
        if faults:
            raise PydanticCustomError("several", "see faults", {"faults": faults})
        return self


def row(of: str) -> RowOf:
    """Return the reader of the rows in the list called ``of``."""
    return RowOf(ROWS[of])


class StretchRow(Table):
    """A stretch of a stick."""

    name: Name | None = Field(None, description="what is there: knot, split, stain")
    begin: Annotated[Fraction, Length(low=0, high=30_000)] = Field(description="where it begins")
    finish: Annotated[Fraction, Length(low=0, high=30_000)] = Field(description="where it ends")


def stretches_of(rows: Iterable[StretchRow]) -> tuple[tuple[float, float], ...]:
    """Return stretches of a stick [mm], in the order along it."""
    return tuple(sorted((float(one.begin), float(one.finish)) for one in rows))


@dataclass(frozen=True)
class RowOf:
    """Lets a table be typed as a row ``[1, 2, 3]``, or ``["name", 1, 2, 3]`` where it has a name."""

    keys: tuple[str, ...]

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:  # noqa: ANN401
        return core_schema.no_info_before_validator_function(self._to_table, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        inner = handler(schema)
        row = {"type": "array", "items": {"type": ["number", "string"]}, "minItems": len(self.keys)}
        return {"anyOf": [row | {"maxItems": len(self.keys) + 1}, inner]}

    def _to_table(self, value: Any) -> Any:  # noqa: ANN401 - whatever the file holds
        keys = self.keys
        if not isinstance(value, list):
            return value
        if len(value) == len(keys) + 1 and isinstance(value[0], str):
            return {"name": value[0]} | dict(zip(keys, value[1:], strict=True))
        if len(value) != len(keys):
            raise fault("row-length", found=value, allowed=f"[{', '.join(keys)}]")
        return dict(zip(keys, value, strict=True))
