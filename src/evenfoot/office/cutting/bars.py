"""A stick as a line of text: where it is sawn, what comes from it, what is left."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.words import Speaker

WIDTH = 66
"""Characters that the longest stick takes."""
PIECE, DONE, KEPT, WASTE, BAD, FLAW = "─", "═", " ", "░", "▓", "~"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One stretch of a bar: how it is filled, what is written in it, and whether it is a piece."""

    begin: float
    finish: float
    fill: str
    text: str = ""
    is_piece: bool = False


def bar(parts: Sequence[Part], *, length: float, longest: float) -> str:
    """Return a bar as long as its share of the ``longest`` stick [mm]; what is not told is waste."""
    width = max(4, round(WIDTH * length / longest))
    cells = [WASTE] * width

    def column(at: float) -> int:
        return min(width, max(0, round(width * at / length)))

    for part in parts:
        first, last = column(part.begin), max(column(part.begin) + 1, column(part.finish))
        for n in range(first, min(last, width)):
            cells[n] = part.fill
        room = last - first
        if part.is_piece and first < width:
            cells[first] = "├"
            if room > 1 and last <= width:
                cells[last - 1] = "┤"
        if part.text and wide(part.text) <= room - (3 if part.is_piece else 0):
            _write(cells, part.text, first + (room - wide(part.text) + 1) // 2)
    return "".join(cells)


def _write(cells: list[str], text: str, at: int) -> None:
    """Write a text over cells; a wide letter takes two of them."""
    for letter in text:
        size = wide(letter)
        cells[at] = letter
        for n in range(at + 1, at + size):
            cells[n] = ""
        at += size


def wide(text: str) -> int:
    """Return how many columns a text takes on a terminal."""
    return sum(2 if unicodedata.east_asian_width(letter) in "WF" else 1 for letter in text)


def padded(text: str, width: int, *, is_right: bool = False) -> str:
    """Return a text filled with blanks to a width."""
    blanks = " " * max(0, width - wide(text))
    return blanks + text if is_right else text + blanks


def columns(rows: Sequence[Sequence[str]], *, right: Sequence[int] = ()) -> list[str]:
    """Return rows lined up in columns, those in ``right`` at their right edge."""
    if not rows:
        return []
    widths = [max(wide(row[k]) for row in rows) for k in range(len(rows[0]))]
    return [
        "  ".join(padded(cell, widths[k], is_right=k in right) for k, cell in enumerate(row)).rstrip() for row in rows
    ]


def in_a_row(cuts: Sequence[float], speaker: Speaker) -> str:
    """Return lengths [mm] in a row, a metric unit named once."""
    said = [speaker.length(at) for at in cuts]
    unit = f" {speaker.unit}"
    if all(one.endswith(unit) for one in said):
        said = [*(one.removesuffix(unit) for one in said[:-1]), said[-1]]
    return " · ".join(said)


def wrapped(words: Sequence[str], between: str, width: int) -> list[str]:
    """Return words in rows of at most ``width`` columns; one that is wider has a row to itself."""
    rows: list[str] = []
    for word in words:
        if rows and wide(rows[-1]) + wide(between) + wide(word) <= width:
            rows[-1] += f"{between}{word}"
        else:
            rows.append(word)
    return rows
