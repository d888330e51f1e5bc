"""The tables of the manual: every key of a file, what it may be, and what each standard takes when it is left out."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import BaseModel

from evenfoot.job.file.describe import described
from evenfoot.job.file.fields import Choice, Figure, Length, Range, Spelled, Text, Whole
from evenfoot.job.file.key_facts import default_of
from evenfoot.job.kinds import Standard


def manual_rows(file: type[BaseModel], *, has_defaults: bool) -> Iterator[tuple[str, str]]:
    """Yield each dotted key with its row of the manual, in Markdown."""
    for key, meaning, metadata in described(file):
        allowed = "; ".join(filter(None, (_allowed(each) for each in metadata)))
        said = f"{meaning} ({allowed})" if allowed else meaning
        cells = [f"`{key}`", said, *(default_of(key, standard) or "-" for standard in Standard if has_defaults)]
        yield key, f"| {' | '.join(cells)} |"


def _allowed(field: object) -> str:
    if isinstance(field, Choice):
        return ", ".join(str(word) for word in field.kind)
    if isinstance(field, Text) and field.code == "not-a-choice" and field.words:
        return ", ".join(field.words())
    if isinstance(field, Whole):
        return f"{field.low} … {field.high}"
    if isinstance(field, Spelled) and field.quantity == "pressure":
        return f"{(field.low or 0.0) * 1000:g} … {(field.high or 0.0) * 1000:g} kN/m2"
    if isinstance(field, Range):
        unit = "mm" if isinstance(field, Length) else field.unit if isinstance(field, Figure) else ""
        low = f"over {field.above:g}" if field.above is not None else f"{field.low:.10g}"
        return f"{low} … {field.high:.10g} {unit}".strip()
    return ""
