"""Plain marks as entities of a DXF file (AutoCAD Release 2010 format, AC1024), written straight out as text.

A drawing has thousands of them: as objects of a library they take four times as long as all the rest of the file.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from evenfoot.geom import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What every entity begins with; ``colour`` is red, green and blue in one number, ``weight`` in 0.01 mm."""

    handle: str
    owner: str
    layer: str
    colour: int
    weight: int = 0
    dash: str = ""
    """Name of the line type, empty for a full line."""


def line(head: Head, a: Point, b: Point) -> str:
    """Return a straight line."""
    return _start("LINE", "AcDbLine", head) + _place(10, a) + _place(11, b)


def outline(head: Head, points: Sequence[Point], *, is_closed: bool) -> str:
    """Return a line from point to point."""
    start = _start("LWPOLYLINE", "AcDbPolyline", head)
    return f"{start} 90\n{len(points)}\n 70\n{int(is_closed)}\n{_corners(points)}"


def circle(head: Head, centre: Point, radius: float) -> str:
    """Return a circle."""
    return f"{_start('CIRCLE', 'AcDbCircle', head)}{_place(10, centre)} 40\n{float(radius)}\n"


def filled(head: Head, points: Sequence[Point]) -> str:
    """Return an area filled with the colour; its edge is not drawn."""
    start = (
        f"{_base('HATCH', head)} 62\n7\n420\n{head.colour}\n100\nAcDbHatch\n"
        " 10\n0.0\n 20\n0.0\n 30\n0.0\n210\n0.0\n220\n0.0\n230\n1.0\n  2\nSOLID\n 70\n1\n 71\n0\n 91\n1\n"
    )
    loop = f" 92\n3\n 72\n0\n 73\n1\n 93\n{len(points)}\n{_corners(points)} 97\n0\n"
    return f"{start}{loop} 75\n0\n 76\n1\n 98\n0\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of text; ``height`` is that of its capitals; ``side``: 0 begins at its place, 1 middle, 2 ends there."""

    at: Point
    text: str
    height: float
    side: int
    angle_deg: float
    style: str


def words(head: Head, said: Words) -> str:
    """Return one line of text."""
    turn = f" 50\n{float(said.angle_deg)}\n" if said.angle_deg else ""
    side = f" 72\n{said.side}\n" if said.side else ""
    text = said.text.replace("\n", "").replace("\r", "")
    return (
        f"{_start('TEXT', 'AcDbText', head)}{_place(10, said.at)} 40\n{float(said.height)}\n  1\n{text}\n{turn}"
        f"  7\n{said.style}\n{side}{_place(11, said.at)}100\nAcDbText\n"
    )


def with_mark(entity: str, application: str, mark: str) -> str:
    """Return an entity that carries the mark of the timber that it shows."""
    return f"{entity}1001\n{application}\n1000\n{mark}\n" if mark else entity


def among(document: str, entities: Iterable[str | None]) -> str:
    """Return a document with entities written in; each None stands for the next one that the document holds already."""
    begin = document.index("  2\nENTITIES\n") + len("  2\nENTITIES\n")
    end = document.index("  0\nENDSEC\n", begin)
    held = iter(_apart(document[begin:end]))
    inner = "".join(next(held) if one is None else one for one in entities)
    return f"{document[:begin]}{inner}{''.join(held)}{document[end:]}"


def _apart(section: str) -> list[str]:
    """Return the entities of a section one by one: pairs of a code and a value, each begun by the code 0."""
    rows = section.split("\n")
    starts = [k for k in range(0, len(rows) - 1, 2) if rows[k] == "  0"]
    return ["\n".join(rows[a:b]) + "\n" for a, b in pairwise([*starts, len(rows) - 1])]


def _base(kind: str, head: Head) -> str:
    return f"  0\n{kind}\n  5\n{head.handle}\n330\n{head.owner}\n100\nAcDbEntity\n  8\n{head.layer}\n"


def _start(kind: str, family: str, head: Head) -> str:
    dash = f"  6\n{head.dash}\n" if head.dash else ""
    return f"{_base(kind, head)}{dash}370\n{head.weight}\n420\n{head.colour}\n100\n{family}\n"


def _place(code: int, point: Point) -> str:
    return f" {code}\n{float(point[0])}\n {code + 10}\n{float(point[1])}\n {code + 20}\n0.0\n"


def _corners(points: Iterable[Point]) -> str:
    return "".join(f" 10\n{float(x)}\n 20\n{float(y)}\n" for x, y in points)
