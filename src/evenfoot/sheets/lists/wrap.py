"""How a text is broken into lines: between words in Latin script, between any two characters in Japanese."""

from __future__ import annotations

import re

from evenfoot.ink import text_width

NEVER_FIRST = frozenset("、。，．・：；？！）」』】〕〉》ーぁぃぅぇぉっゃゅょゎァィゥェォッャュョヮ,.;:!?)]}%")
NEVER_LAST = frozenset("（「『【〔〈《([{")
TOKEN = re.compile(r"\s+|[^\s\u2e80-\u9fff\uff00-\uffef]+|.", re.DOTALL)


def wrap(text: str, width: float, size: float, *, is_bold: bool = False) -> tuple[str, ...]:
    """Return ``text`` as lines no wider than ``width`` mm; a single word that is wider is broken."""
    lines: list[str] = []
    for paragraph in text.split("\n"):
        lines += _paragraph(paragraph, width, size, is_bold=is_bold)
    return tuple(lines)


def _paragraph(text: str, width: float, size: float, *, is_bold: bool) -> list[str]:
    if text_width(text, size, is_bold=is_bold) <= width:
        return [text]
    lines: list[str] = []
    line = ""
    for token in _units(text):
        if not line and token.isspace():
            continue
        if text_width((line + token).rstrip(), size, is_bold=is_bold) <= width:
            line += token
            continue
        if line.strip():
            lines.append(line.rstrip())
        line = "" if token.isspace() else token
        while text_width(line, size, is_bold=is_bold) > width and len(line) > 1:
            head = _fitting(line, width, size, is_bold=is_bold)
            lines.append(line[:head])
            line = line[head:]
    if line.strip():
        lines.append(line.rstrip())
    return lines


def _units(text: str) -> list[str]:
    """Return what may not be parted, with closing signs held to what they close."""
    units: list[str] = []
    for token in TOKEN.findall(text):
        holds = units and not units[-1].isspace() and (token[0] in NEVER_FIRST or units[-1][-1] in NEVER_LAST)
        if holds:
            units[-1] += token
        else:
            units.append(token)
    return units


def _fitting(text: str, width: float, size: float, *, is_bold: bool) -> int:
    count = 1
    while count < len(text) and text_width(text[: count + 1], size, is_bold=is_bold) <= width:
        count += 1
    return count
