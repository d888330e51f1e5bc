"""Pieces, sections and offcuts for tests of cutting."""

from __future__ import annotations

from decimal import Decimal

from evenfoot.cutting import Piece
from evenfoot.job import LogLine, StockItem, Yard, kinds
from evenfoot.job.log import CameStick
from evenfoot.job.shop import Offcut, Price

SECTION = {"species": "hinoki", "strength_grade": "ungraded", "width": 105.0, "depth": 105.0}


def piece(mark, length, *, use="joist", look=kinds.Look.COMMON, **changes) -> Piece:
    return Piece(mark=mark, use=use, look=look, length=length, **{**SECTION, **changes})


def pieces(*lengths, **changes) -> tuple[Piece, ...]:
    return tuple(piece(f"p{n}", length, **changes) for n, length in enumerate(lengths))


def stock_item(
    lengths, *, price="100", high=None, by=kinds.PriceBy.METRE, available=None, look=kinds.Look.COMMON, **changes
) -> StockItem:
    given = {**SECTION, "label": "", "where": "stock[0]", **changes}
    return StockItem(
        lengths=tuple(lengths),
        look=look,
        available=available,
        price=Price(low=Decimal(price), high=Decimal(high or price), by=by, asked_on=None),
        **{"rough_width": given["width"], "rough_depth": given["depth"], **given},
    )


def offcut(length, *, count=1, clean_ends=1, value="10", look=kinds.Look.COMMON, **changes) -> Offcut:
    return Offcut(
        length=length,
        count=count,
        clean_ends=clean_ends,
        value=Decimal(value),
        look=look,
        **{**SECTION, "where": "rack[0]", **changes},
    )


def yard(*stock, rack=(), kerf=3.0, end_trim=15.0, keep=500.0) -> Yard:
    return Yard(stock=stock, rack=tuple(rack), kerf=kerf, end_trim=end_trim, keep=keep)


def came(name, length, *, look=kinds.Look.COMMON, clean_ends=0, bad=(), flaws=(), **changes) -> LogLine:
    """A stick that came, as a line of the log."""
    stick = CameStick(look=look, clean_ends=clean_ends, bad=bad, flaws=flaws, **{**SECTION, **changes})
    return fact("stick", name, length, came=stick)


def sawn(mark, length, stick="", *, at=None) -> LogLine:
    return fact("sawn", mark, length, stick=stick, at=at)


def fact(what, mark, value=0.0, **changes) -> LogLine:
    given = {"time": "2026-11-25T09:00", "x": None, "y": None, "accuracy": None, "where": ""}
    return LogLine(what=what, mark=mark, value=value, **given, **changes)
