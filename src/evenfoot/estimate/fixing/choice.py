"""Which nail or screw for which place: screws before nails, stainless before steel, the shop's own before others."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from evenfoot.job import Shop, kinds
from evenfoot.rules import fasteners as driving
from evenfoot.rules import jp_fasteners
from evenfoot.tables import fasteners


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a place asks of a nail or screw: longest that may be [mm], and how dense the wood is [kg/m3]."""

    standard: kinds.Standard
    density: float
    longest: float


def board_length(board: float, one: fasteners.Fastener, standard: kinds.Standard) -> float:
    """Return the least length of this nail or screw through a board of this thickness [mm]."""
    rule = fasteners.board_rule(standard)
    if not one.kind.is_screw:
        return driving.board_nail_length(board=board, times=rule.nail_times_board)
    return driving.board_screw_length(
        board=board,
        d=one.shank,
        times=rule.screw_times_board * (1.0 - rule.screw_shortfall),
        into_joist=rule.into_joist,
        into_joist_d=rule.into_joist_d,
    )


def for_boards(wish: Wish, board: float, shop: Shop) -> fasteners.Fastener | None:
    """Return the fixing of boards of this thickness [mm] to joists; None when nothing on record is long enough.

    Japanese practice wants the board 6 shanks thick: of the same kind, one that keeps this goes first.
    """
    shank_min = fasteners.board_rule(wish.standard).shank_min

    def is_right(one: fasteners.Fastener) -> bool:
        long_enough = board_length(board, one, wish.standard) <= one.length <= wish.longest
        return long_enough and (not one.kind.is_screw or one.shank >= shank_min)

    def is_gentle(one: fasteners.Fastener) -> bool:
        return wish.standard is not kinds.Standard.JAPAN or jp_fasteners.thickness(d=one.shank) <= board

    return _first(wish, shop, is_right, is_gentle)


def for_clamp(wish: Wish, upper: float, lower: float, shop: Shop) -> fasteners.Fastener | None:
    """Return the fixing through the upper tongue into the lower one, both thicknesses [mm]; None when none fits."""
    rule = fasteners.clamp_rule()

    def is_right(one: fasteners.Fastener) -> bool:
        return upper + rule.into_d * one.shank <= one.length <= min(wish.longest, upper + lower - rule.short)

    return _first(wish, shop, is_right)


def for_skew(wish: Wish, through: float, shop: Shop) -> fasteners.Fastener | None:
    """Return the longest slanting screw that stays inside a timber ``through`` mm thick; None when none fits.

    Those on the shop's list go first.
    """
    rule = fasteners.skew_rule()
    angle = math.radians(rule.angle_deg)

    def is_right(one: fasteners.Fastener) -> bool:
        deep = driving.skew_penetration(length=one.length, angle=angle, start=rule.start) >= rule.into_d * one.shank
        inside = driving.skew_reach(length=one.length, angle=angle) <= through - rule.clear
        return deep and inside and one.length <= min(rule.length_max, wish.longest)

    priced = {item.mark for item in shop.fixings}
    right = [one for pool in _pools(wish) for one in pool if one.kind.is_screw and is_right(one)]
    return max(right, key=lambda one: (one.mark in priced, one.length, -one.shank), default=None)


def _first(
    wish: Wish,
    shop: Shop,
    is_right: Callable[[fasteners.Fastener], bool],
    is_gentle: Callable[[fasteners.Fastener], bool] = lambda _: True,
) -> fasteners.Fastener | None:
    """Return the shortest right one of the first kind that has any, gentle ones and the shop's own before others."""
    priced = {item.mark for item in shop.fixings}
    for pool in _pools(wish):
        right = [one for one in pool if is_right(one)]
        right = [one for one in right if is_gentle(one)] or right
        if right:
            reach = fasteners.own_stock_reach() * min(one.length for one in right)
            own = [one for one in right if one.mark in priced and one.length <= reach]
            return min(own or right, key=lambda one: (one.length, one.shank))
    return None


def _pools(wish: Wish) -> Iterator[tuple[fasteners.Fastener, ...]]:
    """Give the fixings on record in the order they are tried."""
    is_dense = wish.density > fasteners.hardwood_above()
    screws = [one for one in fasteners.all_fasteners() if one.kind is fasteners.FastenerKind.SCREW]
    yield tuple(one for one in screws if one.is_for_hardwood == is_dense)
    yield tuple(one for one in screws if one.is_for_hardwood != is_dense)
    for kind in (fasteners.FastenerKind.NAIL_STAINLESS, fasteners.FastenerKind.NAIL_N):
        yield tuple(one for one in fasteners.all_fasteners() if one.kind is kind)
