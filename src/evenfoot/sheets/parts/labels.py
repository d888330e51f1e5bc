"""Labels for every piece, in the order in which the work takes them up: mark, length, place, and a code to read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfoot.frame import Member
from evenfoot.ink import Pen, Polygon, Text, text_width
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.code import square_code
from evenfoot.sheets.drafting.paper import WORD
from evenfoot.sheets.lists.flow import Shape
from evenfoot.sheets.lists.wrap import wrap

WIDE, HIGH = 66.0, 34.0
"""Least size of one label [mm]."""
CODE = 24.0
"""Side of the code with its quiet zone [mm]."""
MARK = 7.0
LENGTH = 5.0
PAD = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What stands on one label; ``key`` is the neutral mark that the code holds."""

    key: str
    mark: str
    length: str
    what: str
    place: str


def label_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the labels of all pieces on as many sheets as they take."""
    area, labels = bench.area, tuple(_labels(bench))
    columns, rows = max(1, int(area.width / WIDE)), max(1, int(area.height / HIGH))
    wide, high = area.width / columns, area.height / rows
    groups = [labels[k : k + columns * rows] for k in range(0, len(labels), columns * rows)]
    out: list[Draft] = []
    for number, group in enumerate(groups, start=1):
        shapes: list[Shape] = []
        for k, label in enumerate(group):
            corner = (area.left + (k % columns) * wide, area.top + (k // columns) * high)
            shapes += _draw(label, corner, (wide, high))
        out.append(
            Draft(
                code=f"labels-{number}",
                group=bench.title("labels", number=1, count=1),
                title=bench.title("labels", number=number, count=len(groups)),
                shapes=tuple(shapes),
            )
        )
    return tuple(out)


def _labels(bench: Bench) -> Iterator[Label]:
    """Yield the timbers as they are set, then the posts, then the boards row by row."""
    plan, figures = bench.plan, bench.figures
    order = {mark: step.number for step in plan.joinery.steps for mark in step.marks}
    for member in sorted(plan.frame.members, key=lambda m: order.get(m.mark, 0)):
        yield Label(
            key=member.mark,
            mark=figures.mark(member.mark),
            length=figures.cut(member.length),
            what=_what(bench, member.role.value, member.width, member.depth),
            place=_place(bench, member),
        )
    for cut in plan.posts.cuts:
        if cut.is_cut:
            yield Label(
                key=cut.mark,
                mark=figures.mark(cut.mark),
                length=figures.cut(cut.length),
                what=_what(bench, "post", cut.width, cut.depth),
                place=bench.say("sheet-label.post", rough=figures.length(cut.rough_length)),
            )
    thick = plan.job.floor.board.thickness
    for piece in plan.layout.pieces:
        yield Label(
            key=piece.mark,
            mark=figures.mark(piece.mark),
            length=figures.cut(piece.length),
            what=_what(bench, "board", piece.width, thick),
            place=bench.say("sheet-label.board", row=piece.row, index=piece.index),
        )


def _what(bench: Bench, role: str, width: float, depth: float) -> str:
    return f"{bench.say(f'sheet-role.{role}')}  {bench.figures.section(width, depth)}"


def _place(bench: Bench, member: Member) -> str:
    if not member.line:
        return ""
    return bench.say("sheet-label.line", line=bench.figures.mark(member.line))


def _draw(label: Label, corner: tuple[float, float], size: tuple[float, float]) -> Iterator[Shape]:
    (x, y), (wide, high) = corner, size
    frame = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    yield Polygon(points=frame, pen=Pen.PENCIL, layer="label", member=label.key)
    yield from square_code(label.key, (x + PAD, y + (high - CODE) / 2), CODE, member=label.key)
    left, room = x + PAD + CODE + 1.0, wide - CODE - 2 * PAD - 1.0
    yield from _line(label, label.mark, (left, y + PAD + MARK), MARK, room)
    yield from _line(label, label.length, (left, y + PAD + MARK + 1.6 + LENGTH), LENGTH, room)
    base = y + PAD + MARK + 1.6 + LENGTH + 5.2
    for text in (label.what, label.place):
        for line in wrap(text, room, WORD)[:2]:
            yield Text(at=(left, base), text=line, size=WORD, layer="label", member=label.key)
            base += 4.3


def _line(label: Label, text: str, at: tuple[float, float], size: float, room: float) -> Iterator[Text]:
    """Yield a bold line, smaller where it would be too long."""
    fitted = min(size, size * room / max(text_width(text, size, is_bold=True), 1e-9))
    yield Text(at=at, text=text, size=fitted, is_bold=True, layer="label", member=label.key)
