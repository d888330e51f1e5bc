"""How a file becomes a tree of values: its size, encoding and TOML syntax, before anything is understood."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from pathlib import Path
from typing import Any

from evenfoot.errors import Fault, JobFileError

LARGEST_FILE = 1_000_000
"""Bytes; a job with five thousand readings has a tenth of this."""

DEEPEST = 50

Tree = dict[str, Any]

_AT = re.compile(r"\(at line (\d+), column (\d+)\)")
_TWICE = ("overwrite a value", "declare", "mutate", "redefine")
_ENDLESS = re.compile(r"\d{4000,}")


def read_text(path: Path, *, may_be_torn: bool = False) -> str:
    """Return the text of a file as it stands, line ends included.

    A file that ``may_be_torn`` may break off in the middle of a letter on its last line: the text ends before it.
    Raises: JobFileError ``file-missing``, ``file-unreadable``, ``file-too-large`` (over 1 MB), ``not-utf8``.
    """
    where = path.name
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise JobFileError(Fault(where=where, code="file-too-large", found=_mb(size), allowed=_mb(LARGEST_FILE)))
        raw = path.read_bytes()
    except FileNotFoundError:
        raise JobFileError(Fault(where=where, code="file-missing", found=str(path))) from None
    except OSError as error:
        raise JobFileError(Fault(where=where, code="file-unreadable", found=error.strerror or str(path))) from error
    try:
        return raw.decode("utf-8-sig" if raw.startswith(b"\xef\xbb\xbf") else "utf-8")
    except UnicodeDecodeError as error:
        if may_be_torn and error.start > raw.rfind(b"\n"):
            return raw[: error.start].decode("utf-8")
        line, column = _position(raw[: error.start].decode("utf-8"))
        found = " ".join(f"{byte:02x}" for byte in raw[error.start : error.start + 4])
        raise JobFileError(
            Fault(where=where, code="not-utf8", found=found, allowed="UTF-8", line=line, column=column)
        ) from error


def read_tree(text: str, *, where: str) -> Tree:
    """Return the values of TOML text, decimals exact.

    Raises: JobFileError ``file-too-large``, ``toml-syntax``, ``toml-key-twice``, ``toml-too-deep``,
    ``figure-too-long``; the first fault alone, with its line and column.
    """
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > LARGEST_FILE:
        raise JobFileError(Fault(where=where, code="file-too-large", found=_mb(size), allowed=_mb(LARGEST_FILE)))
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise JobFileError(_syntax(text, str(error), where)) from error
    except RecursionError as error:
        line, column = _position(text[: _first_deep(text)])
        raise JobFileError(Fault(where=where, code="toml-too-deep", line=line, column=column)) from error
    except ValueError as error:  # Python refuses whole numbers of over 4300 digits
        endless = _ENDLESS.search(text)
        line, column = _position(text[: endless.start()] if endless else "")
        found = f"{endless[0][:12]}…" if endless else ""
        raise JobFileError(
            Fault(where=where, code="figure-too-long", found=found, allowed="15", line=line, column=column)
        ) from error


def _syntax(text: str, message: str, where: str) -> Fault:
    at = _AT.search(message)
    line, column = (int(at[1]), int(at[2])) if at else _position(text.rstrip())
    lines = text.split("\n")
    typed = lines[line - 1].strip()[:60] if line <= len(lines) else ""
    found = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in typed)
    code = "toml-key-twice" if any(word in message for word in _TWICE) else "toml-syntax"
    return Fault(where=where, code=code, found=found, line=line, column=column)


def _first_deep(text: str) -> int:
    """Return where brackets lie deeper inside each other than any file of ours (brackets in texts counted too)."""
    depth = 0
    for bracket in re.finditer(r"[\[\]{}]", text):
        depth += 1 if bracket[0] in "[{" else -1
        if depth > DEEPEST:
            return bracket.start()
    return 0


def _position(before: str) -> tuple[int, int]:
    line = before.count("\n") + 1
    return line, len(before) - (before.rfind("\n") + 1) + 1


def _mb(size: int) -> str:
    return f"{size / 1_000_000:.1f} MB"
