"""How values in a job file are changed so that every remark and blank of its writer stays."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal
from itertools import pairwise
from typing import Any

import tomlkit
from tomlkit.container import Container, OutOfOrderTableProxy
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, InlineTable, Item, Table, Trivia
from tomlkit.items import Float as TomlFloat

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job.file.faults import parsed, written
from evenfoot.job.file.places import ROWS, Path
from evenfoot.job.file.text import Tree, read_tree

Value = str | int | float | Decimal | bool | list[Any] | dict[str, Any] | None


def edit_job(text: str, changes: Mapping[str, Any]) -> str:
    """Return TOML text with each path (``floor.board.gap``, ``site.levels[2]``) set to its value; None takes it out.

    Everything else stays byte for byte, and without changes the text comes back as it went in. A table that is not
    there yet is made; an index one past the end of a list adds to it.

    Raises: JobFileError when the text is not TOML; OutOfRangeError ``path-unknown`` for a path that leads nowhere.
    """
    tree = read_tree(text, where="job")
    if not changes:
        return text
    if len(changes) == 1:
        [(where, value)] = changes.items()
        edited = _edited_table(text, where, value)
        if edited is not None and _reads(edited) == _with(tree, _path(where), value):
            return edited
    document = tomlkit.parse(text)
    assert tomlkit.dumps(document) == text, "the editor changes what it was not asked to"
    for where, value in changes.items():
        _change(document, where, value)
    edited = _spaced(tomlkit.dumps(document), text)
    if _is_crlf(text):
        edited = re.sub(r"(?<!\r)\n", "\r\n", edited)
    tomllib.loads(edited)
    return edited


def _edited_table(text: str, where: str, value: Value) -> str | None:
    """Return the text with one figure or word set in the table that has its own heading, None where none has it alone.

    The library takes ten times as long over a whole job as over one table. What looks like a heading may stand in a
    text over several lines: the answer holds only if it reads as the job with nothing else changed.
    """
    path = _path(where)
    if not isinstance(value, str | int | Decimal) or len(path) < 2 or not all(isinstance(part, str) for part in path):
        return None
    found = list(re.finditer(rf"^\[{re.escape(written(path[:-1]))}\]", text, re.MULTILINE))
    if len(found) != 1 or _is_crlf(text):
        return None
    start = found[0].start()
    following = re.compile(r"^\[", re.MULTILINE).search(text, start + 1)
    end = following.start() if following else len(text)
    try:
        document = tomlkit.parse(text[start:end])
    except TOMLKitError:
        return None
    holder: Any = document
    for part in path[:-1]:
        holder = holder[part]
    if tomlkit.dumps(document) != text[start:end] or not isinstance(holder.get(path[-1]), str | int | float):
        return None
    _put(holder, path[-1], value, where)
    return text[:start] + tomlkit.dumps(document) + text[end:]


def _reads(text: str) -> Tree | None:
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError:
        return None


def _with(tree: Tree, path: Path, value: Value) -> Tree:
    """Return a tree whose value at a place of nested tables is another."""
    name, *rest = path
    return tree | {str(name): _with(tree.get(str(name), {}), tuple(rest), value) if rest else value}


def _is_crlf(text: str) -> bool:
    return "\r\n" in text and text.count("\n") == text.count("\r\n")


def _spaced(edited: str, before: str) -> str:
    """Return the edited text with a blank line between a new table and what stands before or after it."""
    stood = set(pairwise(before.split("\n")))
    lines = edited.split("\n")
    spaced = lines[:1]
    for above, line in pairwise(lines):
        is_new = (above, line) not in stood and line.startswith("[")
        if is_new and above.strip() and not above.startswith("#"):
            spaced.append("\r" if above.endswith("\r") else "")
        spaced.append(line)
    return "\n".join(spaced)


def _change(document: Any, where: str, value: Value) -> None:  # noqa: ANN401 - a document behaves as a table
    path = _path(where)
    holder = document
    for part, following in pairwise(path):
        holder = _step(holder, part, following, where)
    last = _column(holder, path) if isinstance(holder, Array) else path[-1]
    _put(holder, last, value, where)
    if value is None and isinstance(holder, AoT) and not holder and isinstance(path[-2], str):
        _change(document, written(path[:-1]), None)


def _path(where: str) -> Path:
    try:
        path = parsed(where)
    except ValueError:
        raise _unknown(where) from None
    if any(isinstance(part, int) and part < 0 for part in path):
        raise _unknown(where)
    if written(path) != where or not path or not isinstance(path[0], str):
        raise _unknown(where)
    return path


def _column(row: Array, path: Path) -> str | int:
    """Return where a key stands in a row: ``wall[2].out`` is the second figure of the third row."""
    keys = ROWS.get(str(path[-3]), ()) if len(path) > 2 else ()
    last = path[-1]
    return keys.index(last) + (len(row) > len(keys)) if last in keys else last


def _step(holder: Any, part: str | int, following: str | int, where: str) -> Any:  # noqa: ANN401
    if isinstance(part, str) and _is_table(holder):
        if part not in holder:
            holder[part] = tomlkit.aot() if isinstance(following, int) else tomlkit.table()
        return holder[part]
    if isinstance(part, int) and isinstance(holder, AoT | Array) and part < len(holder):
        return holder[part]
    if isinstance(part, int) and isinstance(holder, AoT) and part == len(holder):
        holder.append(tomlkit.table())
        return holder[part]
    raise _unknown(where)


def _put(holder: Any, part: str | int, value: Value, where: str) -> None:  # noqa: ANN401
    if isinstance(part, str) and _is_table(holder):
        if value is None:
            _remove(holder, part, where)
        elif isinstance(value, dict) and (part not in holder or isinstance(holder[part], Table)):
            holder[part] = _table(value)
        else:
            holder[part] = _item(value)
        return
    if not isinstance(part, int) or not isinstance(holder, AoT | Array) or part > len(holder):
        raise _unknown(where)
    if value is None:
        _remove(holder, part, where)
    elif isinstance(holder, AoT):
        if not isinstance(value, dict):
            raise _unknown(where)
        if part < len(holder):
            holder[part] = _table(value)
        else:
            holder.append(_table(value))
    elif part < len(holder):
        holder[part] = _item(value)
    else:
        holder.append(_item(value))


def _remove(holder: Any, part: str | int, where: str) -> None:  # noqa: ANN401
    is_there = part in holder if isinstance(part, str) else part < len(holder)
    if not is_there:
        raise _unknown(where)
    del holder[part]


def _is_table(holder: Any) -> bool:  # noqa: ANN401
    return isinstance(holder, Table | InlineTable | Container | OutOfOrderTableProxy)


def _table(value: dict[str, Any]) -> Table:
    table = tomlkit.table()
    for key, inner in value.items():
        table[key] = _item(inner)
    return table


def _item(value: Any) -> Item:  # noqa: ANN401
    if isinstance(value, Decimal):
        return TomlFloat(float(value), Trivia(), _decimal(value))
    if isinstance(value, list | tuple):
        array = tomlkit.array()
        for inner in value:
            array.append(_item(inner))
        return array
    if isinstance(value, dict):
        table = tomlkit.inline_table()
        for key, inner in value.items():
            table[key] = _item(inner)
        return table
    item: Item = tomlkit.item(value)
    return item


def _decimal(value: Decimal) -> str:
    text = f"{value:f}"
    return text if "." in text else f"{text}.0"


def _unknown(where: str) -> OutOfRangeError:
    return OutOfRangeError(Fault(where=where, code="path-unknown", found=where))
