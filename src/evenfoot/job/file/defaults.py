"""What a file takes when it does not say: the defaults of its standard, laid under what was typed."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.job.file.text import Tree
from evenfoot.job.kinds import Standard

_DECIDES: dict[str, tuple[str, ...]] = {"ground": ("site", "ground"), "style": ("frame", "style")}
"""Keys that choose among defaults, and where they stand."""


@cache
def defaults(standard: Standard) -> Tree:
    """Return the defaults of a standard as they are written down; never to be changed."""
    path = files("evenfoot.job") / "data" / f"defaults-{standard}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)


def with_defaults(tree: Tree, standard: Standard) -> Tree:
    """Return a new tree: what was typed, on top of what the standard's defaults say for it."""
    ours = defaults(standard)
    base = ours["job"]
    for word, path in _DECIDES.items():
        chosen = _at(tree, path, missing=_at(base, path))
        base = _laid_over(base, ours["when"].get(word, {}).get(chosen, {}) if isinstance(chosen, str) else {})
    whole = _laid_over(base, tree)
    for path, each in _lists(ours["each"]):
        _fill_list(whole, path, each)
    return whole


def _laid_over(base: Tree, top: Tree) -> Tree:
    whole = dict(base)
    for key, value in top.items():
        below = base.get(key)
        whole[key] = _laid_over(below, value) if isinstance(below, dict) and isinstance(value, dict) else value
    return whole


def _at(tree: Any, path: tuple[str, ...], missing: Any = None) -> Any:  # noqa: ANN401 - whatever the file holds
    for key in path:
        if not isinstance(tree, dict) or key not in tree:
            return missing
        tree = tree[key]
    return tree


def _lists(each: Tree, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Tree]]:
    """Yield each list that has defaults for its entries; a table of tables leads on to lists."""
    for key, value in each.items():
        if all(isinstance(inner, dict) for inner in value.values()):
            yield from _lists(value, (*path, key))
        else:
            yield (*path, key), value


def _fill_list(whole: Tree, path: tuple[str, ...], each: Tree) -> None:
    holder = _at(whole, path[:-1], missing=None)
    entries = holder.get(path[-1]) if isinstance(holder, dict) else None
    if isinstance(holder, dict) and isinstance(entries, list):
        holder[path[-1]] = [_laid_over(each, entry) if isinstance(entry, dict) else entry for entry in entries]
