"""Two plain lists, what is wanted and what can be had, made into pieces and a yard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from evenfoot.errors import Fault, JobFileError
from evenfoot.job.file.text import read_text
from evenfoot.job.kinds import Look, Part, PriceBy
from evenfoot.job.lists import columns as c
from evenfoot.job.lists.columns import Column, Line, read_table
from evenfoot.job.log import CameStick, LogLine
from evenfoot.job.shop import Offcut, Price, StockItem, Yard

UNSAID = "piece"
"""Part of a piece whose list does not say."""
LOOKS = tuple(look.value for look in Look)
LONG = c.length(low=0.1, high=30_000)
THICK = c.length(low=1, high=2000)

PIECES = {
    "mark": Column(read=c.label, default=""),
    "length": Column(read=LONG, is_needed=True),
    "count": Column(read=c.whole(low=0, high=10_000), default=1),
    "width": Column(read=THICK, default=0.0),
    "depth": Column(read=THICK, default=0.0),
    "rip": Column(read=THICK),
    "wood": Column(read=c.label, default=""),
    "look": Column(read=c.word(*LOOKS), default=Look.COMMON.value),
    "grade": Column(read=c.label, default=""),
    "part": Column(read=c.word(*(part.value for part in Part), UNSAID), default=UNSAID),
    "place": Column(read=c.label, default=""),
    "clear": Column(read=c.yes_no, default=False),
    "rests": Column(read=c.lengths, default=()),
}
STICKS = {
    "name": Column(read=c.label, default=""),
    "length": Column(read=LONG, is_needed=True),
    "limit": Column(read=c.whole(low=0, high=100_000)),
    "price": Column(read=c.amount),
    "per": Column(read=c.word("piece", "m", "m3"), default="piece"),
    "width": Column(read=THICK, default=0.0),
    "depth": Column(read=THICK, default=0.0),
    "sawn_width": Column(read=THICK),
    "sawn_depth": Column(read=THICK),
    "wood": Column(read=c.label, default=""),
    "look": Column(read=c.word(*LOOKS), default=Look.COMMON.value),
    "grade": Column(read=c.label, default=""),
    "stands_in_for": Column(read=c.labels, default=()),
    "from": Column(read=c.word("yard", "rack", "hand"), default="yard"),
    "clean_ends": Column(read=c.whole(low=0, high=2), default=0),
    "bad": Column(read=c.stretches, default=()),
    "flaws": Column(read=c.stretches, default=()),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedPiece:
    """One row of a list of pieces [mm]; ``width`` and ``depth`` are 0 where the lists tell no section."""

    mark: str
    length: float
    count: int
    width: float
    depth: float
    rip: float | None
    wood: str
    look: Look
    grade: str
    part: str
    place: str
    is_clear: bool
    rests: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """What is wanted, what it may be cut from, and the sticks that are in hand already."""

    pieces: tuple[WantedPiece, ...]
    yard: Yard
    facts: tuple[LogLine, ...]
    has_prices: bool
    """False when the list has no price: a plan then buys the least length."""


def read_cut_list(pieces: Path, sticks: Path, *, unit: str, saw: Yard) -> CutList:
    """Return the list in two files, bare lengths in ``unit``; ``saw`` tells kerf, trim and what an offcut is worth.

    Raises: JobFileError with every fault of both files, each with its line and column.
    """
    faults: list[Fault] = []
    tables: list[tuple[Line, ...]] = []
    for path, kinds, kind in ((pieces, PIECES, "pieces"), (sticks, STICKS, "sticks")):
        try:
            tables.append(read_table(read_text(path), kinds, where=path.name, kind=kind, unit=unit))
        except JobFileError as error:
            faults += error.faults
    if not faults:
        faults += _disagreements(tables[0], tables[1], pieces.name, sticks.name)
    if faults:
        raise JobFileError(*faults)
    wanted, had = tables
    has_prices = any(line["price"] is not None for line in had)
    return CutList(
        pieces=tuple(_piece(line, number) for number, line in enumerate(wanted, start=1)),
        yard=replace(
            saw,
            stock=tuple(_stock(line, has_prices=has_prices) for line in had if line["from"] == "yard"),
            rack=tuple(_offcut(line) for line in had if line["from"] == "rack"),
        ),
        facts=tuple(
            fact for number, line in enumerate(had, start=1) if line["from"] == "hand" for fact in _came(line, number)
        ),
        has_prices=has_prices,
    )


def read_came(path: Path, *, unit: str, time: str) -> tuple[LogLine, ...]:
    """Return the sticks in a list as facts of a log, whatever it says of where they are from; they came at ``time``.

    Raises: JobFileError with every fault of the file, each with its line and column.
    """
    lines = read_table(read_text(path), STICKS, where=path.name, kind="sticks", unit=unit)
    faults = [
        Fault(where=f"{path.name}, {name}", code="key-missing", allowed=name, line=line.number, column=1)
        for line in lines
        for name in ("wood", "width", "depth")
        if not line[name]
    ]
    if faults:
        raise JobFileError(*faults)
    return tuple(replace(fact, time=time, where="") for n, line in enumerate(lines, start=1) for fact in _came(line, n))


def _disagreements(wanted: Sequence[Line], had: Sequence[Line], pieces: str, sticks: str) -> list[Fault]:
    """Return what one list tells and the other does not, and rows whose values do not go together."""
    faults = []
    for name in ("width", "depth", "wood", "grade"):
        told = [any(line[name] for line in lines) for lines in (wanted, had)]
        if told[0] != told[1]:
            lacking, other = (pieces, sticks) if told[1] else (sticks, pieces)
            faults.append(
                Fault(where=lacking, code="column-of-other-list", found=other, allowed=name, line=1, column=1)
            )
    has_prices = any(line["price"] is not None for line in had)
    for line in had:
        where = f"{sticks}, "
        if has_prices and line["price"] is None and line["from"] == "yard":
            faults.append(Fault(where=f"{where}price", code="key-missing", allowed="price", line=line.number, column=1))
        if line["per"] == "m3" and not (line["width"] and line["depth"]):
            faults.append(Fault(where=f"{where}width", code="key-missing", allowed="width", line=line.number, column=1))
        for name in ("bad", "flaws"):
            beyond = [finish for _, finish in line[name] if finish > line["length"]]
            if beyond:
                length = f"{line['length']:g} mm"
                one = Fault(where=f"{where}{name}", code="too-large", found=f"{beyond[0]:g} mm", nearest=length)
                faults.append(replace(one, allowed=f"≤ {length}", line=line.number, column=1))
        if line["from"] == "yard" and (line["bad"] or line["flaws"]):
            one = Fault(where=f"{where}from", code="not-a-choice", found="yard", allowed="rack, hand", nearest="hand")
            faults.append(replace(one, line=line.number, column=1))
    for line in wanted:
        if line["rip"] is not None and line["rip"] > max(line["width"], line["depth"]):
            whole = f"{max(line['width'], line['depth']):g} mm"
            one = Fault(where=f"{pieces}, rip", code="too-large", found=f"{line['rip']:g} mm", nearest=whole)
            faults.append(replace(one, allowed=f"≤ {whole}", line=line.number, column=1))
    return faults


def _piece(line: Line, number: int) -> WantedPiece:
    return WantedPiece(
        mark=line["mark"] or str(number),
        length=line["length"],
        count=line["count"],
        width=line["width"],
        depth=line["depth"],
        rip=line["rip"],
        wood=line["wood"],
        look=Look(line["look"]),
        grade=line["grade"] or "ungraded",
        part=line["part"],
        place=line["place"],
        is_clear=line["clear"],
        rests=line["rests"],
    )


def _stock(line: Line, *, has_prices: bool) -> StockItem:
    price = line["price"] if has_prices else Decimal(1)
    return StockItem(
        species=line["wood"],
        look=Look(line["look"]),
        strength_grade=line["grade"] or "ungraded",
        width=line["width"],
        depth=line["depth"],
        rough_width=line["sawn_width"] or line["width"],
        rough_depth=line["sawn_depth"] or line["depth"],
        lengths=(line["length"],),
        available=line["limit"],
        price=Price(low=price, high=price, by=PriceBy(line["per"] if has_prices else "m"), asked_on=None),
        label=line["name"],
        stands_in_for=line["stands_in_for"],
        where=f"line {line.number}",
    )


def _offcut(line: Line) -> Offcut:
    return Offcut(
        species=line["wood"],
        look=Look(line["look"]),
        strength_grade=line["grade"] or "ungraded",
        width=line["width"],
        depth=line["depth"],
        length=line["length"],
        count=1 if line["limit"] is None else line["limit"],
        clean_ends=line["clean_ends"],
        value=line["price"] or Decimal(0),
        where=line["name"] or f"line {line.number}",
        bad=line["bad"],
        flaws=line["flaws"],
    )


def _came(line: Line, number: int) -> Sequence[LogLine]:
    count = 1 if line["limit"] is None else line["limit"]
    came = CameStick(
        species=line["wood"],
        look=Look(line["look"]),
        strength_grade=line["grade"] or "ungraded",
        width=line["width"],
        depth=line["depth"],
        clean_ends=line["clean_ends"],
        bad=line["bad"],
        flaws=line["flaws"],
    )
    name = line["name"] or f"h{number}"
    return [
        LogLine(
            time="",
            what="stick",
            mark=name if count == 1 else f"{name}-{k}",
            x=None,
            y=None,
            value=line["length"],
            accuracy=None,
            where=f"line {line.number}",
            came=came,
        )
        for k in range(1, count + 1)
    ]
