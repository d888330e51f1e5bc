"""Where each value of a TOML text stands: its line and column."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from dataclasses import dataclass

Path = tuple[str | int, ...]

ROWS = {
    "readings": ("x", "y", "rod"),
    "levels": ("x", "y", "z"),
    "wall": ("x", "out"),
    "outline": ("x", "y"),
    "bad": ("begin", "finish"),
    "flaws": ("begin", "finish"),
}
"""Lists whose entries may be typed as rows, and the keys of such a row; a name may stand before them."""

_DEEPEST = 12
_TOKEN = re.compile(
    r"""(?P<skip>[ \t]+|\#[^\n]*)
      | (?P<line>\r?\n)
      | (?P<text>\"{3}(?:\\.|[^\\])*?\"{3,5}|'{3}.*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*')
      | (?P<mark>[\[\]{}=,.])
      | (?P<bare>[^\s\[\]{}=,."'\#]+)""",
    re.VERBOSE | re.DOTALL,
)
_BARE_VALUE = re.compile(r"[^\[\]{},\#\n\r]+")


@dataclass(frozen=True, slots=True)
class Place:
    """One value in the text; lines and columns count from 1."""

    line: int
    column: int


class Places:
    """Finds values of one TOML text by path; the text must have been read as TOML without a fault."""

    def __init__(self, text: str) -> None:
        """Go through the text once, from top to bottom."""
        self._text = text
        self._at = 0
        self._lines = [0, *(m.end() for m in re.finditer("\n", text))]
        self._found: dict[Path, Place] = {}
        self._counts: dict[Path, int] = {}
        self._read_file()

    def find(self, path: Path) -> Place | None:
        """Return the place of a value, or of the nearest table or list around it."""
        exact = path if path in self._found else self._in_row(path)
        for length in range(len(exact), 0, -1):
            place = self._found.get(exact[:length])
            if place is not None:
                return place
        return None

    def _in_row(self, path: Path) -> Path:
        """Return the path of a key inside a row: ``wall[2].out`` stands at ``wall[2][1]``."""
        if len(path) < 3 or not isinstance(path[-3], str):
            return path
        row = path[:-1]
        keys = ROWS.get(path[-3], ())
        is_named = (*row, len(keys)) in self._found
        return (*row, keys.index(path[-1]) + is_named) if path[-1] in keys else path

    def _read_file(self) -> None:
        table: Path = ()
        while self._skip(has_lines=True):
            if self._text[self._at] == "[":
                table = self._header()
            else:
                self._pair(table)

    def _header(self) -> Path:
        start = self._at
        is_list = self._text.startswith("[[", self._at)
        self._at += 2 if is_list else 1
        keys = self._keys()
        self._at += 2 if is_list else 1
        path = self._within(keys[:-1])
        if is_list:
            count = self._counts.get((*path, keys[-1]), 0)
            self._counts[*path, keys[-1]] = count + 1
            self._note((*path, keys[-1]), start)
            path = (*path, keys[-1], count)
        else:
            path = self._within(keys)
        for length in range(1, len(path)):
            if path[:length] not in self._found:
                self._note(path[:length], start)
        self._note(path, start)
        return path

    def _within(self, keys: list[str]) -> Path:
        """Return the path of a table, the last entry of each list on the way."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            count = self._counts.get(path)
            if count:
                path = (*path, count - 1)
        return path

    def _pair(self, table: Path) -> None:
        start = self._at
        keys = self._keys()
        self._at += 1
        self._skip()
        path = table
        for key in keys:
            path = (*path, key)
            if path not in self._found:
                self._note(path, start)
        self._value(path)

    def _keys(self) -> list[str]:
        keys: list[str] = []
        while True:
            self._skip()
            token = _TOKEN.match(self._text, self._at)
            assert token is not None
            self._at = token.end()
            keys.append(_unquoted(token[0]))
            self._skip()
            if self._text[self._at : self._at + 1] != ".":
                return keys
            self._at += 1

    def _value(self, path: Path) -> None:
        start = self._at
        opening = self._text[start]
        if opening in "[{" and len(path) > _DEEPEST:
            self._leap()
        elif opening == "[":
            self._list(path)
        elif opening == "{":
            self._inline(path)
        elif opening in "\"'":
            token = _TOKEN.match(self._text, start)
            assert token is not None
            self._at = token.end()
        else:
            bare = _BARE_VALUE.match(self._text, start)
            assert bare is not None
            self._at = start + len(bare[0].rstrip())
        self._note(path, start)

    def _list(self, path: Path) -> None:
        self._at += 1
        index = 0
        while self._skip(has_lines=True):
            character = self._text[self._at]
            if character == "]":
                self._at += 1
                return
            if character == ",":
                self._at += 1
            else:
                self._value((*path, index))
                index += 1

    def _inline(self, path: Path) -> None:
        self._at += 1
        while self._skip(has_lines=True):
            character = self._text[self._at]
            if character == "}":
                self._at += 1
                return
            if character == ",":
                self._at += 1
            else:
                self._pair(path)

    def _leap(self) -> None:
        """Go past a list or table that lies deeper than any file of ours, without looking inside."""
        depth = 0
        while True:
            token = _TOKEN.match(self._text, self._at)
            assert token is not None
            self._at = token.end()
            depth += (token[0] in ("[", "{")) - (token[0] in ("]", "}"))
            if depth == 0:
                return

    def _skip(self, *, has_lines: bool = False) -> bool:
        """Go past blanks and remarks; return whether anything is left."""
        while token := _TOKEN.match(self._text, self._at):
            if token.lastgroup != "skip" and not (has_lines and token.lastgroup == "line"):
                break
            self._at = token.end()
        return self._at < len(self._text)

    def _note(self, path: Path, start: int) -> None:
        line = self._line(start)
        self._found[path] = Place(line + 1, start - self._lines[line] + 1)

    def _line(self, at: int) -> int:
        return bisect_right(self._lines, at) - 1


def _unquoted(key: str) -> str:
    if key.startswith('"'):
        return next(iter(tomllib.loads(f"{key}=0")))
    return key[1:-1] if key.startswith("'") else key
