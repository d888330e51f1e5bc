"""Where an entry of a list stands after somebody else moved, changed, added or took out entries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from evenfoot.job import files
from evenfoot.office.desk.tree import LISTS, as_typed, columns_of, fact_at, named, value_at
from evenfoot.office.desk.typing import Typed, value_of

_ALIKE = 0.5
"""Share of the cells that an entry must have kept to be known again after it was changed and moved."""


def told_of(value: Any, fact: files.KeyFact) -> str:  # noqa: ANN401 - whatever the file holds
    """Return a value as typed; an entry of a list as what stands in its columns."""
    if fact.kind not in LISTS or not isinstance(value, dict | list):
        return as_typed(value)
    cells = named(value, fact)
    return ", ".join(text for name in columns_of(fact) if (text := as_typed(cells.get(name))))


def mine_of(typed: Typed, fact: files.KeyFact) -> str:
    """Return what was typed as it would read in the file."""
    if typed is None:
        return ""
    if isinstance(typed, str):
        return as_typed(value_of(typed, fact)) if fact.kind not in LISTS else typed
    facts = files.key_facts()
    pairs = zip(columns_of(fact), typed, strict=False)
    return ", ".join(text for name, one in pairs if (text := as_typed(value_of(one, facts[f"{fact.key}.{name}"]))))


class Places:
    """Follows entries of lists from the old state to where they stand now.

    An entry that nobody changed is found by what it says. One that was changed is known again where no entry moved, and
    else when it shares half of its cells with one new entry, more than any other, and that one with no other.
    """

    def __init__(self, old: Mapping[str, Any], now: Mapping[str, Any]) -> None:
        """Take both states."""
        self.old, self.now = old, now
        self._added: dict[str, dict[int, int]] = {}

    def now_of(self, where: str, typed: Typed) -> str | None:
        """Return where a place of the old state stands now.

        None when its entry is not there any more; empty when it cannot be told which entry it has become.
        """
        was, place = "", ""
        for part in where.split("."):
            name, _, index = part.rstrip("]").partition("[")
            was, place = f"{was}.{name}".lstrip("."), f"{place}.{name}".lstrip(".")
            if not index:
                continue
            moved = self._index(int(index), was, place, typed if f"{was}[{index}]" == where else None)
            if not isinstance(moved, int):
                return moved
            was, place = f"{was}[{index}]", f"{place}[{moved}]"
        return place

    def _index(self, index: int, was: str, place: str, typed: Typed) -> int | str | None:
        found_before, found_after = value_at(self.old, was), value_at(self.now, place)
        before, after = (one if isinstance(one, list) else [] for one in (found_before, found_after))
        if before == after:
            return index
        if index >= len(before):
            return self._index_of_new(index, place, (before, after), typed)
        entry = before[index]
        if index < len(after) and after[index] == entry:
            return index
        if entry in after:
            # Entries that read alike keep their order; when some of them went or came, nobody can tell which.
            same, now = (_places_of(entry, entries) for entries in (before, after))
            return now[same.index(index)] if len(same) == len(now) else ""
        return _index_of_changed(index, before, after, fact_at(f"{place}[0]"))

    def _index_of_new(self, index: int, place: str, lists: tuple[list[Any], list[Any]], typed: Typed) -> int:
        """Return where an added entry goes: to where it stands if it was sent before, else to the end."""
        before, after = lists
        added = self._added.setdefault(place, {})
        if index not in added:
            fact = fact_at(f"{place}[0]")
            wanted = mine_of(typed, fact)
            fresh = [at for at, entry in enumerate(after) if entry not in before]
            same = [at for at in fresh if wanted and told_of(after[at], fact) == wanted]
            past_the_end = sum(at >= len(after) for at in added.values())
            added[index] = same[0] if same else len(after) + past_the_end
        return added[index]


def _index_of_changed(index: int, before: Sequence[Any], after: Sequence[Any], fact: files.KeyFact) -> int | str | None:
    """Return where an entry stands that reads differently now; None when it is gone, empty when that is not clear."""
    gone = [at for at, entry in enumerate(before) if entry not in after]
    fresh = [at for at, entry in enumerate(after) if entry not in before]
    if len(before) == len(after) and gone == fresh:
        return index
    likeness = {(a, b): _likeness(before[a], after[b], fact) for a in gone for b in fresh}
    best = max(fresh, key=lambda b: likeness[index, b], default=None)
    if best is None or likeness[index, best] == 0.0:
        return None
    rivals = [likeness[index, b] for b in fresh if b != best] + [likeness[a, best] for a in gone if a != index]
    is_clear = likeness[index, best] >= _ALIKE and all(rival < likeness[index, best] for rival in rivals)
    return best if is_clear else ""


def _places_of(entry: Any, entries: Sequence[Any]) -> list[int]:  # noqa: ANN401 - whatever the file holds
    return [at for at, other in enumerate(entries) if other == entry]


def _likeness(one: Any, other: Any, fact: files.KeyFact) -> float:  # noqa: ANN401 - whatever the file holds
    """Return the share of cells that two entries have in common, of those that either has."""
    pairs = list(_cells(named(one, fact), named(other, fact), fact))
    return sum(mine == theirs for mine, theirs in pairs) / len(pairs) if pairs else 0.0


def _cells(one: dict[str, Any], other: dict[str, Any], fact: files.KeyFact) -> Iterator[tuple[str, str]]:
    for name in columns_of(fact):
        pair = as_typed(one.get(name)), as_typed(other.get(name))
        if any(pair):
            yield pair
