"""How what the parser found becomes faults with a path, a line and what was typed."""

from __future__ import annotations

import difflib
import itertools
import typing
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from evenfoot.errors import Fault
from evenfoot.job.file.fields import LONGEST_FOUND, SKIPPED, shown
from evenfoot.job.file.places import Path, Places
from evenfoot.job.file.text import Tree

_CODES = {
    "missing": "key-missing",
    "model_type": "not-a-table",
    "model_attributes_type": "not-a-table",
    "dict_type": "not-a-table",
    "list_type": "not-a-list",
    "bool_type": "not-yes-no",
    "too_long": "too-many",
    "too_short": "too-few",
    "extra_forbidden": "key-unknown",
}
SEVERAL = "several"
"""Code of an error that carries more than one fault, found between the keys of one table."""


MOST_FAULTS = 300
"""More than anyone mends in one go; what is left over is counted."""


def faults_of(error: ValidationError, model: type[BaseModel]) -> list[Fault]:
    """Return every fault that the parser found, in the order of the file's tables."""
    details = error.errors(include_url=False)
    found: list[Fault] = []
    for detail in details[:MOST_FAULTS]:
        found.extend(_faults(detail, model))
    if len(details) > MOST_FAULTS:
        found.append(Fault(where="", code="more-faults", found=str(len(details) - MOST_FAULTS)))
    return found


def located(faults: Iterable[Fault], text: str) -> tuple[Fault, ...]:
    """Return the faults with line and column, in the order of the lines."""
    places = Places(text)
    placed: list[Fault] = []
    for fault in faults:
        place = places.find(parsed(fault.where)) if fault.line is None else None
        if place is None:  # nothing of it is written yet: it belongs at the top
            is_spread = fault.line is not None or fault.code == "more-faults"
            placed.append(fault if is_spread else replace(fault, line=1, column=1))
            continue
        placed.append(replace(fault, line=place.line, column=place.column))
    return tuple(sorted(placed, key=lambda f: (f.code == "more-faults", f.line or 0, f.column or 0, f.where)))


def written(path: Iterable[str | int]) -> str:
    """Return a path as people read it: ``site.station[0].readings[2]``."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else f".{shown(part)}" if text else shown(part)
    return text


def parsed(where: str) -> Path:
    """Return the parts of a path written as above."""
    parts: list[str | int] = []
    for piece in where.split("."):
        name, *indices = piece.split("[")
        if name:
            parts.append(name)
        parts.extend(int(index[:-1]) for index in indices)
    return tuple(parts)


def without(tree: Tree, faults: Iterable[Fault]) -> Tree:
    """Return the tree without each key at fault, or without the whole list that holds it.

    A second look at what is left finds where the sound keys disagree with each other.
    """
    left = tree
    for fault in faults:
        path = list(itertools.takewhile(lambda part: isinstance(part, str), parsed(fault.where)))
        left = _pruned(left, path)
    return left


def _pruned(tree: Tree, path: list[Any]) -> Tree:
    if not path or path[0] not in tree:
        return tree
    key, inner = path[0], tree[path[0]]
    if len(path) > 1:
        return tree | {key: _pruned(inner, path[1:])} if isinstance(inner, dict) else tree
    return {name: value for name, value in tree.items() if name != key}


def _faults(detail: ErrorDetails, model: type[BaseModel]) -> Iterator[Fault]:
    code = detail["type"]
    where = written(detail["loc"])
    facts = detail.get("ctx", {})
    if code == SKIPPED:
        return
    if code == SEVERAL:
        for fault in facts["faults"]:
            yield replace(fault, where=f"{where}.{fault.where}".strip("."))
    elif code in ("too_long", "too_short"):
        limit = facts.get("max_length", facts.get("min_length"))
        yield Fault(where=where, code=_CODES[code], found=_count(detail["input"]), allowed=str(limit))
    elif code == "missing":
        yield Fault(where=where, code="key-missing", allowed=str(detail["loc"][-1]))
    elif code == "extra_forbidden":
        yield _unknown_key(detail, where, model)
    elif code in _CODES:
        yield Fault(where=where, code=_CODES[code], found=shown(detail["input"]))
    else:
        assert "found" in facts, f"the parser has an error of its own: {code}"
        found, allowed, nearest = (str(facts[key]) for key in ("found", "allowed", "nearest"))
        yield Fault(where=where, code=code, found=found, allowed=allowed, nearest=nearest)


def _count(value: Any) -> str:  # noqa: ANN401 - whatever the file holds
    return str(len(value)) if isinstance(value, list) else shown(value)


def _unknown_key(detail: ErrorDetails, where: str, model: type[BaseModel]) -> Fault:
    key = str(detail["loc"][-1])
    known = list(table_at(model, detail["loc"][:-1]).model_fields)
    word = key[:LONGEST_FOUND].lower().replace("-", "_")
    near = difflib.get_close_matches(word, known, n=1, cutoff=0.75)
    elsewhere = [written(path) for path in _homes(word, model, ())]
    far = difflib.get_close_matches(word, known, n=1, cutoff=0.0)
    nearest = next(iter([*near, *elsewhere, *far]))
    return Fault(where=where, code="key-unknown", found=shown(key), allowed=", ".join(known), nearest=nearest)


def _homes(key: str, table: type[BaseModel], path: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """Yield each place where a key that was typed into the wrong table belongs."""
    for name, field in table.model_fields.items():
        if name == key:
            yield (*path, name)
        inner = table_in(field.annotation)
        if inner is not None:
            yield from _homes(key, inner, (*path, name))


def table_at(model: type[BaseModel], path: Iterable[str | int]) -> type[BaseModel]:
    """Return the model of the table at ``path``."""
    for part in path:
        if isinstance(part, str):
            inner = table_in(model.model_fields[part].annotation)
            assert inner is not None, f"{part} is no table"
            model = inner
    return model


def table_in(annotation: Any) -> type[BaseModel] | None:  # noqa: ANN401 - a type of any shape
    """Return the table that a key holds, alone or in a list; None for a plain value."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for inner in typing.get_args(annotation):
        found = table_in(inner)
        if found is not None:
            return found
    return None
