"""What is on record about the order of work: steps, what must stand before each, their tasks and cautions."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeStep:
    """One step of the trade's order.

    ``after`` names steps that must be done before; ``tasks`` rows of the labour table that are its work; ``needs``
    what the floor must have for the step to exist (empty = always); ``cautions`` what may have to be said with it.
    """

    id: str
    after: tuple[str, ...]
    tasks: tuple[str, ...]
    needs: str
    cautions: tuple[str, ...]


@cache
def trade_steps() -> tuple[TradeStep, ...]:
    """Return the steps in the order of the trade; every step stands after those that it names."""
    text = (files("evenfoot.tables") / "data" / "steps.toml").read_text(encoding="utf-8")
    return tuple(
        TradeStep(
            id=row["id"],
            after=tuple(row["after"]),
            tasks=tuple(row["tasks"]),
            needs=row["needs"],
            cautions=tuple(row["cautions"]),
        )
        for row in tomllib.loads(text)["step"]
    )
