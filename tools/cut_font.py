"""Cut the drawing typeface down to what sheets need: Latin, signs, kana and the kanji of JIS X 0208.

Run by hand when the source font changes; needs fonttools, which Evenfoot itself does not::

    apt-get install fonts-morisawa-bizud-gothic
    python -m venv /tmp/cut && /tmp/cut/bin/pip install fonttools
    /tmp/cut/bin/python tools/cut_font.py /usr/share/fonts/truetype/bizud-gothic
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

WEIGHTS = ("Regular", "Bold")
TARGET = Path(__file__).resolve().parent.parent / "src" / "evenfoot" / "ink" / "fonts"
LAST_ROW = 84
"""Rows 1-47 hold everyday kanji; the tools of the trade and clients' names need the second level too."""
FIXED_TIME = 3_800_000_000
"""Head-table time (seconds since 1904), fixed so that the same source gives the same bytes."""
SIGNS = "±×÷°²³½¼¾φØµ–—‘’“”…‹›€£¥§¶·•→←↑↓≤≥≠≈△▲▽▼○●◎□■◇◆☆★※〒〜～－∥￠￡￢"
NAMES = "髙﨑德彅塚凞增寬敎晴濵瀨神祥福羽緖諸賴都隆靑黑"
"""Variants that family names are written with, outside JIS X 0208."""


def jis_characters(last_row: int) -> set[int]:
    """Return the code points of JIS X 0208 rows 1 to ``last_row``."""
    found: set[int] = set()
    for row in range(1, last_row + 1):
        for cell in range(1, 95):
            try:
                found.add(ord(bytes((0xA0 + row, 0xA0 + cell)).decode("euc_jp")))
            except UnicodeDecodeError:
                continue
    return found


def level_the_one(font: TTFont) -> None:
    """Give the figure 1 the width of the other figures, so that columns of figures line up."""
    cmap = font.getBestCmap()
    one, zero = cmap[ord("1")], cmap[ord("0")]
    width, bearing = font["hmtx"][one]
    wanted = font["hmtx"][zero][0]
    shift = (wanted - width) // 2
    glyph = font["glyf"][one]
    glyph.coordinates.translate((shift, 0))
    glyph.recalcBounds(font["glyf"])
    font["hmtx"][one] = (wanted, bearing + shift)


def cut(source: Path, target: Path) -> None:
    """Write the subset of one weight."""
    font = TTFont(source, recalcTimestamp=False)
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.name_languages = [0x409]
    options.notdef_outline = True
    options.drop_tables += ["DSIG", "GSUB", "meta", "vhea", "vmtx", "gasp"]
    wanted = (
        set(range(0x20, 0x7F)) | set(range(0xA0, 0x180)) | jis_characters(LAST_ROW) | {ord(c) for c in SIGNS + NAMES}
    )
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=wanted)
    subsetter.subset(font)
    level_the_one(font)
    font["head"].modified = FIXED_TIME
    font.save(target)


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    for weight in WEIGHTS:
        cut(folder / f"BIZUDPGothic-{weight}.ttf", TARGET / f"BIZUDPGothic-{weight}.ttf")
        print(TARGET / f"BIZUDPGothic-{weight}.ttf", (TARGET / f"BIZUDPGothic-{weight}.ttf").stat().st_size)
