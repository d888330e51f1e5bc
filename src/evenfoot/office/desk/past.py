"""What changed from one state of a job to the next, key by key, as it was typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import takewhile
from typing import Any

from evenfoot.office.desk.tree import as_typed, tree_of
from evenfoot.store import Revision

LONGEST_PAUSE = timedelta(seconds=5)
"""Between two keys pressed in one field."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyChange:
    """One key that reads differently; an empty text where it is not written."""

    where: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One state in the past, and what it changed of the state that it came from."""

    number: int
    who: str
    saved_at: str
    changes: tuple[KeyChange, ...]


def key_changes(before: str, after: str) -> tuple[KeyChange, ...]:
    """Return every key whose value differs between two job texts; texts that are not TOML count as empty."""
    old, new = dict(_leaves(tree_of(before), "")), dict(_leaves(tree_of(after), ""))
    keys = [*new, *(key for key in old if key not in new)]
    return tuple(
        KeyChange(where=key, before=as_typed(old.get(key)), after=as_typed(new.get(key)))
        for key in keys
        if repr(old.get(key)) != repr(new.get(key))
    )


def steps_of(trail: Sequence[Revision]) -> tuple[Step, ...]:
    """Return the states of a trail (newest first) with what each changed; the parent of the last may lie outside.

    Of a field that was typed key by key only the last state is told, with all that was typed.
    """
    by_number = {one.number: one for one in trail}
    groups: list[list[Revision]] = []
    for one in trail:
        after, before = groups[-1][-1] if groups else None, by_number.get(one.parent or 0)
        if after and before and after.parent == one.number and are_one_typing(before, one, after):
            groups[-1].append(one)
        else:
            groups.append([one])
    return tuple(
        Step(
            number=last.number,
            who=last.who,
            saved_at=last.saved_at,
            changes=_changes(last, by_number.get(first.parent or 0)),
        )
        for last, *_, first in ([*group, group[-1]] for group in groups)
    )


def are_one_typing(before: Revision, between: Revision, after: Revision) -> bool:
    """Return whether two changes, one after the other, are keys pressed in one field without a pause.

    The second puts letters into what the first left there, or takes some out; another word in its place is a change of
    its own.
    """
    pause = datetime.fromisoformat(after.saved_at) - datetime.fromisoformat(between.saved_at)
    if between.who != after.who or pause > LONGEST_PAUSE:
        return False
    first, second = _changes(between, before), _changes(after, between)
    if len(first) != 1 or len(second) != 1 or first[0].where != second[0].where:
        return False
    old, new = second[0].before, second[0].after
    return _shared(old, new) + _shared(old[::-1], new[::-1]) >= min(len(old), len(new))


def _shared(one: str, other: str) -> int:
    """Return with how many letters both texts begin."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def _changes(one: Revision, parent: Revision | None) -> tuple[KeyChange, ...]:
    if parent is None:
        return ()
    found = key_changes(parent.job_text, one.job_text)
    if parent.shop_text != one.shop_text:
        found = (*found, *(_shop(change) for change in key_changes(parent.shop_text, one.shop_text)))
    return found


def _shop(change: KeyChange) -> KeyChange:
    return KeyChange(where=f"shop.{change.where}", before=change.before, after=change.after)


def _leaves(value: Any, where: str) -> Iterator[tuple[str, Any]]:  # noqa: ANN401 - whatever the file holds
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves(inner, f"{where}.{key}" if where else key)
    elif isinstance(value, list) and any(isinstance(one, dict | list) for one in value):
        for index, inner in enumerate(value):
            yield from _leaves(inner, f"{where}[{index}]")
    else:
        yield where, value
