"""Narrow pieces side by side: two ripped from one length of stick where both fit its width."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from evenfoot.cutting.model import Piece


def pair_rips(
    pieces: Sequence[Piece], *, kerf: float, can_be_cut: Callable[[Piece], bool] = lambda _: True
) -> tuple[Piece, ...]:
    """Return what is cut to length: pieces as they are, and of two that are ripped from one length the longer.

    Both stand in its ``halves``. Longest first, each takes the longest of the rest of its wood that fits the width with
    one ``kerf`` [mm], if the two together ``can_be_cut``; each keeps one edge of the stick as it came. Where all fit
    beside each other no other pairing needs less: the n-th longest length must hold the (2n - 1)-th longest piece.
    """
    waiting = [n for n, p in enumerate(pieces) if p.rip_width is not None]
    waiting.sort(key=lambda n: (-pieces[n].length, pieces[n].look.rank, n))
    joined: dict[int, Piece] = {}
    second: set[int] = set()
    for place, n in enumerate(waiting):
        if n in second:
            continue
        for m in waiting[place + 1 :]:
            if m not in second and _beside(pieces[n], pieces[m], kerf=kerf):
                both = _joined(pieces[n], pieces[m])
                if can_be_cut(both):
                    joined[n] = both
                    second.add(m)
                    break
    return tuple(joined.get(n, piece) for n, piece in enumerate(pieces) if n not in second)


def least_rips(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return pieces that no plan needs less than: as if any two rips of one wood fitted side by side, of any look."""
    whole = [piece for piece in pieces if piece.rip_width is None]
    least: list[Piece] = []
    for rips in _by_wood(pieces):
        worst = max((rip.look for rip in rips), key=lambda look: look.rank)
        longest = sorted(rips, key=lambda rip: -rip.length)
        least += [replace(rip, look=worst, is_clear=False) for rip in longest[::2]]
    return (*whole, *least)


def is_surely_least(pieces: Sequence[Piece], *, kerf: float) -> bool:
    """Return whether the pairing is the best one: rips of one wood look alike, and any two of them fit, or no two."""
    for rips in _by_wood(pieces):
        fits = {_beside(one, other, kerf=kerf) for n, one in enumerate(rips) for other in rips[n + 1 :]}
        if len({(rip.look, rip.is_clear) for rip in rips}) > 1 or len(fits) > 1:
            return False
    return True


def _by_wood(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Return the narrow pieces, those of one wood and strength grade together."""
    woods: dict[tuple[str, str], list[Piece]] = {}
    for piece in pieces:
        if piece.rip_width is not None:
            woods.setdefault((piece.species, piece.strength_grade), []).append(piece)
    return list(woods.values())


def split(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Yield the single pieces of what is cut to length."""
    for piece in pieces:
        yield from piece.halves or (piece,)


def _beside(one: Piece, other: Piece, *, kerf: float) -> bool:
    assert one.rip_width is not None
    assert other.rip_width is not None
    is_one_wood = (one.species, one.strength_grade) == (other.species, other.strength_grade)
    return is_one_wood and one.rip_width + other.rip_width + kerf <= max(one.width, one.depth)


def _joined(piece: Piece, other: Piece) -> Piece:
    """Return what two rips ask of a stick together."""
    best = min(piece.look, other.look, key=lambda look: look.rank)
    return replace(piece, look=best, is_clear=piece.is_clear or other.is_clear, halves=(piece, other))
