"""How wide a text is in the typeface that ships with us, read from the font files themselves."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files

ASCENT = 0.80
"""Height of capitals, figures and kanji above the baseline that a text box counts, as a share of the size."""
DESCENT = 0.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One weight of the typeface: widths by character as shares of the size."""

    widths: dict[str, float]
    missing: float


def font_bytes(*, is_bold: bool) -> bytes:
    """Return the TrueType file of one weight."""
    name = "BIZUDPGothic-Bold.ttf" if is_bold else "BIZUDPGothic-Regular.ttf"
    return (files("evenfoot.ink") / "fonts" / name).read_bytes()


@cache
def face(*, is_bold: bool) -> Face:
    """Return the widths of one weight.

    Source: OpenType 1.9, tables head, hhea, hmtx and cmap format 4.
    """
    data = font_bytes(is_bold=is_bold)
    tables = _directory(data)
    (units,) = struct.unpack_from(">H", data, tables["head"] + 18)
    (count,) = struct.unpack_from(">H", data, tables["hhea"] + 34)
    metrics = struct.unpack_from(f">{2 * count}H", data, tables["hmtx"])
    advances = metrics[0::2]
    glyphs = _character_map(data, tables["cmap"])
    widths = {chr(code): advances[min(glyph, count - 1)] / units for code, glyph in glyphs.items()}
    return Face(widths=widths, missing=advances[0] / units)


def has_character(character: str) -> bool:
    """Return whether both weights can write this character."""
    return all(character in face(is_bold=bold).widths for bold in (False, True))


def text_width(text: str, size: float, *, is_bold: bool = False) -> float:
    """Return the width of one line of text [mm] at font size ``size`` [mm]."""
    return size * _share_of(text, is_bold=is_bold)


@lru_cache(maxsize=16_384)
def _share_of(text: str, *, is_bold: bool) -> float:
    """Return the width of a text as a share of the font size; the same texts stand on every sheet."""
    metrics = face(is_bold=is_bold)
    widths, missing = metrics.widths, metrics.missing
    return sum([widths.get(character, missing) for character in text])


def _directory(data: bytes) -> dict[str, int]:
    (count,) = struct.unpack_from(">H", data, 4)
    found: dict[str, int] = {}
    for index in range(count):
        tag, _, offset, _ = struct.unpack_from(">4sIII", data, 12 + 16 * index)
        found[tag.decode("ascii")] = offset
    return found


def _character_map(data: bytes, table: int) -> dict[int, int]:
    (count,) = struct.unpack_from(">H", data, table + 2)
    for index in range(count):
        platform, encoding, offset = struct.unpack_from(">HHI", data, table + 4 + 8 * index)
        (layout,) = struct.unpack_from(">H", data, table + offset)
        if (platform, encoding, layout) == (3, 1, 4):
            return _segments(data, table + offset)
    raise AssertionError("a font that ships with us has a Windows Unicode map")


def _segments(data: bytes, start: int) -> dict[int, int]:
    (doubled,) = struct.unpack_from(">H", data, start + 6)
    count = doubled // 2
    ends = struct.unpack_from(f">{count}H", data, start + 14)
    begins = struct.unpack_from(f">{count}H", data, start + 16 + doubled)
    deltas = struct.unpack_from(f">{count}H", data, start + 16 + 2 * doubled)
    offsets_at = start + 16 + 3 * doubled
    offsets = struct.unpack_from(f">{count}H", data, offsets_at)
    found: dict[int, int] = {}
    for index in range(count):
        for code in range(begins[index], ends[index] + 1):
            if code == 0xFFFF:
                continue
            glyph = code + deltas[index]
            if offsets[index]:
                at = offsets_at + 2 * index + offsets[index] + 2 * (code - begins[index])
                (raw,) = struct.unpack_from(">H", data, at)
                glyph = raw + deltas[index] if raw else 0
            if glyph % 65536:
                found[code] = glyph % 65536
    return found
