"""Which slip of eye, hand or unit would explain a reading that cannot be right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

_SHAKU = float(Fraction(10_000, 33))


class SlipKind(StrEnum):
    """What may have gone wrong, the likeliest first."""

    UNIT = "unit"
    SIGN = "sign"
    SWAPPED = "swapped"
    MARK = "mark"
    """Read at the wrong mark of the tape: a whole 10, 100 mm, inch or foot beside."""
    FIGURE = "figure"
    """One figure is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A slip, and the reading [mm] as it would be without it."""

    kind: SlipKind
    value: float


def likely_slip(found: float, *, expected: float, within: float) -> Slip | None:
    """Return the slip that brings a reading nearest to what is expected, None when none comes ``within`` it [mm].

    Args: found, as read [mm]; expected, what everything else says [mm]; within, how sure that is, +- [mm].
    """
    if abs(found - expected) <= within:
        return None
    for kind, values in (
        (SlipKind.UNIT, _units(found)),
        (SlipKind.SIGN, iter([-found])),
        (SlipKind.SWAPPED, _swapped(found)),
        (SlipKind.MARK, _marks(found)),
        (SlipKind.FIGURE, _figures(found)),
    ):
        near = [value for value in values if abs(value - expected) <= within]
        if near:
            return Slip(kind=kind, value=min(near, key=lambda value: abs(value - expected)))
    return None


def _units(found: float) -> Iterator[float]:
    for factor in (10.0, 1000.0, 25.4, 304.8, 12.0, _SHAKU, 100.0):
        yield found * factor
        yield found / factor


def _swapped(found: float) -> Iterator[float]:
    """Yield the reading with two neighbouring figures of its whole millimetres swapped."""
    sign, rest = (-1.0 if found < 0 else 1.0), abs(found)
    whole = str(int(rest))
    for place in range(len(whole) - 1):
        turned = whole[:place] + whole[place + 1] + whole[place] + whole[place + 2 :]
        if turned != whole:
            yield sign * (int(turned) + rest % 1)


def _marks(found: float) -> Iterator[float]:
    for step in (1000.0, 100.0, 50.0, 10.0, 304.8, 25.4, 12.7, _SHAKU, _SHAKU / 10):
        yield found + step
        yield found - step


def _figures(found: float) -> Iterator[float]:
    """Yield the reading with any one figure of its whole millimetres changed, but its last."""
    sign, rest = (-1.0 if found < 0 else 1.0), abs(found)
    whole = str(int(rest))
    for place in range(len(whole) - 1):
        for figure in "0123456789":
            if figure != whole[place]:
                yield sign * (int(whole[:place] + figure + whole[place + 1 :]) + rest % 1)
