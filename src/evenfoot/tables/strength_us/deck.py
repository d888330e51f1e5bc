"""The published tables for decks: how far joists, beams and boards may span, how tall posts, how wide footings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenfoot.tables.figures import read_rows
from evenfoot.tables.strength_us.factors import FOOT, INCH

_TALL = {
    "southern_pine": "southern_pine_ft",
    "douglas_fir_larch": "douglas_fir_larch_ft",
    "hem_fir": "hem_fir_western_cedars_ft",
    "western_cedars": "hem_fir_western_cedars_ft",
    "redwood": "redwood_ft",
    "spruce_pine_fir": "spruce_pine_fir_ft",
}
_SAME = 0.05 * INCH
"""Play in looking up a printed length [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckRow:
    """One cell of a published table: its limit [mm], and the row that it stands in as printed there."""

    limit: float
    row: str
    sources: tuple[str, ...]
    is_confirmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckJoists:
    """Longest span of a joist without an overhang, and the longest overhang."""

    span: DeckRow
    overhang: DeckRow


def joist_rows(*, group: str, size: str, spacing: float) -> DeckJoists | None:
    """Return what the deck guide allows for joists of a size at most ``spacing`` apart [mm]; None outside its table."""
    rows = [r for r in rows_of_joists() if r["group"] == group and r["size"] == size]
    wide = sorted({int(r["spacing_in"]) for r in rows if spacing <= int(r["spacing_in"]) * INCH + _SAME})
    if not wide:
        return None
    found = {r["kind"]: r for r in rows if int(r["spacing_in"]) == wide[0]}
    words = f"{size}, {wide[0]} in"
    return DeckJoists(span=_cell(found["span"], words), overhang=_cell(found["overhang"], words))


def beam_row(*, group: str, plies: int, size: str, joist_span: float) -> DeckRow | None:
    """Return how far a beam may span under joists of this span [mm]; None outside the table.

    Args: plies, 1 for one solid piece; size, as ``2x10``, or ``4x10`` for a solid piece.
    """
    rows = [
        r
        for r in rows_of_beams()
        if r["group"] == group
        and ((str(plies), size) == (r["plies"], r["size"]) or (plies == 1 and size == r["solid"]))
        and joist_span <= int(r["joist_span_ft"]) * FOOT + _SAME
    ]
    if not rows:
        return None
    best = min(rows, key=lambda r: int(r["joist_span_ft"]))
    words = f"{plies} {size}" if plies > 1 else size
    return _cell(best, f"{words}, joists {best['joist_span_ft']} ft")


def post_row(*, group: str, size: str, area: float) -> DeckRow | None:
    """Return how tall a post of a size may be that carries so much floor [mm2]; None outside the table."""
    rows = [
        r
        for r in rows_of_posts()
        if r["group"] == group and r["size"] == size and area <= int(r["tributary_ft2"]) * FOOT**2 * 1.0001
    ]
    if not rows:
        return None
    best = min(rows, key=lambda r: int(r["tributary_ft2"]))
    return _cell(best, f"{size}, {best['tributary_ft2']} ft²")


def big_post_row(*, species: str, beam_span: float, joist_span: float) -> DeckRow | None:
    """Return how tall a 6x6 post of a species may be for such spans [mm]; None outside the table or where it has none.

    The heads of the columns could not be read in the copy, so their order is inferred: never confirmed.
    """
    best = _row_for(beam_span=beam_span, joist_span=joist_span)
    column = _TALL.get(species)
    if best is None or column is None or best[column] == "NP":
        return None
    words = f"6x6, beam {best['beam_span_ft']} ft, joists {best['joist_span_ft']} ft"
    return _cell({**best, "value_in": str(12 * int(best[column])), "confirmed": "false"}, words)


def footing_row(*, beam_span: float, joist_span: float) -> DeckRow | None:
    """Return the least side of a square footing on ground of 1500 lb/ft2 [mm]; None outside the table."""
    best = _row_for(beam_span=beam_span, joist_span=joist_span)
    if best is None:
        return None
    words = f"beam {best['beam_span_ft']} ft, joists {best['joist_span_ft']} ft"
    return _cell({**best, "value_in": best["square_in"]}, words)


def _row_for(*, beam_span: float, joist_span: float) -> dict[str, str] | None:
    rows = [
        r
        for r in read_rows("us_deck_footings.csv")
        if beam_span <= int(r["beam_span_ft"]) * FOOT + _SAME and joist_span <= int(r["joist_span_ft"]) * FOOT + _SAME
    ]
    return min(rows, key=lambda r: (int(r["beam_span_ft"]), int(r["joist_span_ft"])), default=None)


def decking_row(*, thickness: float, is_diagonal: bool) -> DeckRow | None:
    """Return how far apart joists may stand under boards of this thickness [mm]; None when they are thinner."""
    rows = [r for r in read_rows("us_decking.csv") if thickness >= float(r["least_in"]) * INCH - _SAME]
    if not rows:
        return None
    best = max(rows, key=lambda r: float(r["least_in"]))
    column = "diagonal_in" if is_diagonal else "square_in"
    return _cell({**best, "value_in": best[column]}, f"{best['nominal']} in")


@cache
def rows_of_joists() -> tuple[dict[str, str], ...]:
    """Return the table of joists as it stands in its file."""
    return tuple(read_rows("us_deck_joists.csv"))


@cache
def rows_of_beams() -> tuple[dict[str, str], ...]:
    """Return the table of beams as it stands in its file."""
    return tuple(read_rows("us_deck_beams.csv"))


@cache
def rows_of_posts() -> tuple[dict[str, str], ...]:
    """Return the table of posts as it stands in its file."""
    return tuple(read_rows("us_deck_posts.csv"))


def _cell(row: dict[str, str], words: str) -> DeckRow:
    return DeckRow(
        limit=float(row["value_in"]) * INCH,
        row=words,
        sources=tuple(row["source"].split()),
        is_confirmed=row["confirmed"] == "true",
    )
