"""A field changed over a state that no longer stands: both changes, or a clash that is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from evenfoot.job import files
from evenfoot.office.desk.tree import LISTS, as_typed, columns_of, fact_at, named, tree_of, value_at
from evenfoot.office.desk.typing import Typed, change_job, value_of


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


def merge(changes: Mapping[str, Typed], *, base: str, standing: str, seen: Mapping[str, str] | None = None) -> Merged:
    """Return ``standing`` with ``changes`` that were typed over ``base``.

    A place that still reads as it did in ``base``, or already reads as typed, takes the change; another is a clash and
    keeps what stands. An entry of a list is followed to where it stands now; an entry added past the end is added at
    the end. ``seen`` is what stood in fields when they were typed into, where a page knows it better than ``base``.
    Raises as ``change_job``.
    """
    if base == standing and not seen:
        return Merged(text=change_job(standing, changes), clashes=())
    places = _Places(tree_of(base), tree_of(standing))
    free: dict[str, Typed] = {}
    clashes: list[Clash] = []
    for where, typed in changes.items():
        fact = fact_at(where)
        place = places.now_of(where, typed)
        if place is None and typed is None:
            continue  # taken out by both
        stood = (seen or {}).get(where)
        before = _told(value_at(places.old, where), fact) if stood is None else _mine(stood, fact)
        theirs, mine = _told(value_at(places.now, place), fact) if place else "", _mine(typed, fact)
        if place is not None and theirs in {before, mine}:
            free[place] = typed
        else:
            clashes.append(Clash(where=where, before=before, theirs=theirs, mine=mine))
    return Merged(text=change_job(standing, free), clashes=tuple(clashes))


def _told(value: Any, fact: files.KeyFact) -> str:  # noqa: ANN401 - whatever the file holds
    """Return a value as typed; an entry of a list as what stands in its columns."""
    if fact.kind not in LISTS or not isinstance(value, dict | list):
        return as_typed(value)
    cells = named(value, fact)
    return ", ".join(text for name in columns_of(fact) if (text := as_typed(cells.get(name))))


def _mine(typed: Typed, fact: files.KeyFact) -> str:
    """Return what was typed as it would read in the file."""
    if typed is None:
        return ""
    if isinstance(typed, str):
        return as_typed(value_of(typed, fact)) if fact.kind not in LISTS else typed
    facts = files.key_facts()
    pairs = zip(columns_of(fact), typed, strict=False)
    return ", ".join(text for name, one in pairs if (text := as_typed(value_of(one, facts[f"{fact.key}.{name}"]))))


class _Places:
    """Follows entries of lists from the old state to where they stand now."""

    def __init__(self, old: Mapping[str, Any], now: Mapping[str, Any]) -> None:
        self.old, self.now = old, now
        self._added: dict[str, dict[int, int]] = {}

    def now_of(self, where: str, typed: Typed) -> str | None:
        """Return where a place of the old state stands now; None when its entry is not there any more."""
        was, place = "", ""
        for part in where.split("."):
            name, _, index = part.rstrip("]").partition("[")
            was, place = f"{was}.{name}".lstrip("."), f"{place}.{name}".lstrip(".")
            if not index:
                continue
            moved = self._index(int(index), was, place, typed if f"{was}[{index}]" == where else None)
            if moved is None:
                return None
            was, place = f"{was}[{index}]", f"{place}[{moved}]"
        return place

    def _index(self, index: int, was: str, place: str, typed: Typed) -> int | None:
        found_before, found_after = value_at(self.old, was), value_at(self.now, place)
        before, after = (one if isinstance(one, list) else [] for one in (found_before, found_after))
        if before == after:
            return index
        if index >= len(before):
            return self._index_of_new(index, place, (before, after), typed)
        entry = before[index]
        if index < len(after) and after[index] == entry:
            return index
        if after.count(entry) == 1:
            return after.index(entry)
        return index if len(before) == len(after) else None

    def _index_of_new(self, index: int, place: str, lists: tuple[list[Any], list[Any]], typed: Typed) -> int:
        """Return where an added entry goes: to where it stands if it was sent before, else to the end."""
        before, after = lists
        added = self._added.setdefault(place, {})
        if index not in added:
            fact = fact_at(f"{place}[0]")
            wanted = _mine(typed, fact)
            fresh = [at for at, entry in enumerate(after) if entry not in before]
            same = [at for at in fresh if wanted and _told(after[at], fact) == wanted]
            past_the_end = sum(at >= len(after) for at in added.values())
            added[index] = same[0] if same else len(after) + past_the_end
        return added[index]
