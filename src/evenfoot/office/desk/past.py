"""What changed from one state of a job to the next, key by key, as it was typed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from evenfoot.office.desk.tree import as_typed, tree_of
from evenfoot.store import Revision


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
    """Return the states of a trail (newest first) with what each changed; the parent of the last may lie outside."""
    by_number = {one.number: one for one in trail}
    return tuple(
        Step(
            number=one.number,
            who=one.who,
            saved_at=one.saved_at,
            changes=_changes(one, by_number.get(one.parent or 0)),
        )
        for one in trail
    )


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
