"""Narrow pieces side by side: two ripped from one length of stick where both fit its width."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from evenfoot.cutting.model import Piece


def pair_rips(
    pieces: Sequence[Piece], *, kerf: float, can_be_cut: Callable[[Piece], bool] = lambda _: True
) -> tuple[Piece, ...]:
    """Return what is cut to length: pieces as they are, and of two that are ripped from one length the longer.

    Both stand in its ``halves``. Longest first, each takes the longest of the rest that fits the width with one
    ``kerf`` [mm], if the two together ``can_be_cut``; each keeps one edge of the stick as it came. Where all fit
    beside each other no other pairing needs less: the n-th longest length must hold the (2n - 1)-th longest piece.
    """
    waiting = sorted((p for p in pieces if p.rip_width is not None), key=lambda p: (-p.length, p.look.rank))
    pairs: dict[int, Piece] = {}
    second: set[int] = set()
    for k, piece in enumerate(waiting):
        if id(piece) in second:
            continue
        for other in waiting[k + 1 :]:
            if id(other) not in second and _beside(piece, other, kerf=kerf) and can_be_cut(_joined(piece, other)):
                pairs[id(piece)] = other
                second.add(id(other))
                break
    return tuple(_joined(p, pairs[id(p)]) if id(p) in pairs else p for p in pieces if id(p) not in second)


def least_rips(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Return pieces that no plan needs less than: as if any two rips fitted beside each other, whatever their look."""
    rips = sorted((p for p in pieces if p.rip_width is not None), key=lambda p: -p.length)
    worst = max((p.look for p in rips), key=lambda look: look.rank, default=None)
    kept = {id(p) for p in rips[::2]}
    return tuple(
        p if p.rip_width is None or worst is None else replace(p, look=worst, is_clear=False)
        for p in pieces
        if p.rip_width is None or id(p) in kept
    )


def is_surely_least(pieces: Sequence[Piece], *, kerf: float) -> bool:
    """Return whether the pairing is the best one: all rips look alike and any two fit, or no two do."""
    rips = [p for p in pieces if p.rip_width is not None]
    if len({(p.look, p.is_clear) for p in rips}) > 1:
        return False
    fits = {_beside(one, other, kerf=kerf) for n, one in enumerate(rips) for other in rips[n + 1 :]}
    return len(fits) <= 1


def split(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Yield the single pieces of what is cut to length."""
    for piece in pieces:
        yield from piece.halves or (piece,)


def _beside(one: Piece, other: Piece, *, kerf: float) -> bool:
    assert one.rip_width is not None
    assert other.rip_width is not None
    return one.rip_width + other.rip_width + kerf <= max(one.width, one.depth)


def _joined(piece: Piece, other: Piece) -> Piece:
    """Return what two rips ask of a stick together."""
    best = min(piece.look, other.look, key=lambda look: look.rank)
    return replace(piece, look=best, is_clear=piece.is_clear or other.is_clear, halves=(piece, other))
