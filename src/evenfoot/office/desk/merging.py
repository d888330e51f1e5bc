"""A field changed over a state that no longer stands: both changes, or a clash that is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.office.desk.following import Places, mine_of, told_of
from evenfoot.office.desk.tree import fact_at, tree_of, value_at
from evenfoot.office.desk.typing import Typed, change_job


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One place that two people changed: what stood, what the other wrote, what was typed here.

    ``where`` is the place as it stands now; where its entry is gone or cannot be told from others, as it was.
    """

    where: str
    before: str
    theirs: str
    mine: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """The text with every change that could be made, and the places where two people meant different things."""

    text: str
    clashes: tuple[Clash, ...]


def merge(changes: Mapping[str, Typed], *, base: str, standing: str, seen: Mapping[str, str] | None = None) -> Merged:
    """Return ``standing`` with ``changes`` that were typed over ``base``.

    A place that still reads as it did in ``base``, or already reads as typed, takes the change; another is a clash and
    keeps what stands. An entry of a list is followed to where it stands now, also when it was changed on the way (see
    ``Places``); an entry added past the end is added at the end. ``seen`` is what stood in fields when they were typed
    into, where a page knows it better than ``base``.
    Raises as ``change_job``.
    """
    if base == standing and not seen:
        return Merged(text=change_job(standing, changes), clashes=())
    places = Places(tree_of(base), tree_of(standing))
    free: dict[str, Typed] = {}
    clashes: list[Clash] = []
    for where, typed in changes.items():
        fact = fact_at(where)
        place = places.now_of(where, typed)
        if place is None and typed is None:
            continue  # taken out by both
        stood = (seen or {}).get(where)
        before = told_of(value_at(places.old, where), fact) if stood is None else mine_of(stood, fact)
        theirs, mine = told_of(value_at(places.now, place), fact) if place else "", mine_of(typed, fact)
        if place and theirs in {before, mine}:
            free[place] = typed
        else:
            clashes.append(Clash(where=place or where, before=before, theirs=theirs, mine=mine))
    return Merged(text=change_job(standing, free), clashes=tuple(clashes))
