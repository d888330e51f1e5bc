"""A field changed over a state that no longer stands: both changes, or a clash that is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.office.desk.typing import Typed, as_typed, change_job, typed_at


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One place that two people changed: what stood, what the other wrote, what was typed here."""

    where: str
    before: str
    theirs: str
    mine: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """The text with every change that could be made, and the places where two people meant different things."""

    text: str
    clashes: tuple[Clash, ...]


def merge(changes: Mapping[str, Typed], *, base: str, standing: str) -> Merged:
    """Return ``standing`` with ``changes`` that were typed over ``base``.

    A place that still reads as it did in ``base``, or already reads as typed, takes the change; another is a clash and
    keeps what stands. Raises as ``change_job``.
    """
    if base == standing:
        return Merged(text=change_job(standing, changes), clashes=())
    free: dict[str, Typed] = {}
    clashes: list[Clash] = []
    for where, typed in changes.items():
        before, theirs = as_typed(typed_at(base, where)), as_typed(typed_at(standing, where))
        mine = typed if isinstance(typed, str) else ", ".join(typed or ())
        if theirs in {before, mine}:
            free[where] = typed
        else:
            clashes.append(Clash(where=where, before=before, theirs=theirs, mine=mine))
    return Merged(text=change_job(standing, free), clashes=tuple(clashes))
