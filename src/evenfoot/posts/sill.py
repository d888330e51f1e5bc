"""How far a floor may lie under a door sill, what room that leaves on a slab, and where a ledger goes on the wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict, compare
from evenfoot.posts.stack import height_stack
from evenfoot.tables import levels


def door_drop(*, drop: float, door: levels.Door) -> Check:
    """Return whether a floor may lie ``drop`` [mm] under the top of the sill of such a door.

    Source: the clause named in the table of door steps (International Residential Code 2018, R311.3.1 and exception),
    required egress doors. A floor above the sill is outside the rule: water runs in.
    """
    step = levels.door_step(door)
    source = f"{step.source} {step.clause}"
    facts = (("door_code", f"door.{door}"),)
    if drop < 0:
        return Check(
            subject="sill",
            rule="door-drop",
            verdict=Verdict.OUTSIDE_RULE,
            demand=drop,
            capacity=step.drop,
            unit="mm",
            source=source,
            remedy="lower-floor",
            facts=facts,
            confirmed=step.is_confirmed,
        )
    return compare(
        subject="sill",
        rule="door-drop",
        demand=drop,
        capacity=step.drop,
        unit="mm",
        source=source,
        remedy="less-drop",
        facts=facts,
        confirmed=step.is_confirmed,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLines:
    """Lines to strike on the wall [mm below the finished floor indoors]."""

    top: float
    bottom: float


def ledger_lines(*, drop: float, board: float, depth: float) -> LedgerLines:
    """Return where the ledger's edges go: a board under a floor that lies ``drop`` under the floor indoors [mm]."""
    return LedgerLines(top=drop + board, bottom=drop + board + depth)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlabRow:
    """One choice of drop under the sill [mm], the height left under the lowest layer, and what speaks against it."""

    drop: float
    space: float
    is_buildable: bool
    keeps_water_out: bool
    """Whether the floor lies at least as far under the sill as is wanted against water and snow."""


def slab_rows(*, sill: float, layers: Sequence[float], drops: Sequence[float], wanted: float) -> tuple[SlabRow, ...]:
    """Return drop against space for a floor of ``layers`` on a slab that lies ``sill`` under the door sill, all [mm].

    ``wanted`` is the drop wanted against water and snow. The deepest drop that can be built leaves no space at all:
    ``sill`` minus the layers.
    Source: sum of the layers.
    """
    rows = []
    for drop in drops:
        fit = height_stack(available=sill - drop, layers=layers)
        is_buildable = fit.is_fitting or math.isclose(fit.spare, 0.0, abs_tol=1e-9)
        rows.append(
            SlabRow(drop=drop, space=fit.spare, is_buildable=is_buildable, keeps_water_out=drop >= wanted - 1e-9)
        )
    return tuple(rows)
