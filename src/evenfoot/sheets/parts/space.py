"""The floor in space: from two sides, as it stands, taken apart, and step by step as it goes together."""

from __future__ import annotations

from collections.abc import Iterable

from evenfoot.geom import Solid
from evenfoot.ink import Pen, Text
from evenfoot.joints import Step
from evenfoot.plan import Standing, standing
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.paper import FIGURE, HEAD, Area
from evenfoot.sheets.drafting.plans import Notes, shrunk
from evenfoot.sheets.drafting.scene import Piece, picture
from evenfoot.sheets.drafting.sketch import Shape
from evenfoot.sheets.lists.wrap import wrap
from evenfoot.sheets.parts.elevations import elevation_sheets
from evenfoot.sheets.parts.order_of_work import assembly_words

MOST = 700
"""A picture of more things than this cannot be read on any paper."""
WALL = 90.0
"""Thickness of the house wall as drawn [mm]."""
LIFT = 0.42
"""How far a timber is held over its place in a step, as a share of the frame's depth in the picture."""
GUTTER = 8.0


def side_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the floor from two sides; none when there are too many things."""
    things = _things(bench)
    return elevation_sheets(bench, things) if things else ()


def whole_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the floor as it stands; none when there are too many things."""
    things = _things(bench)
    if not things:
        return ()
    return (_draft(bench, "whole", [*_house(bench, things), *(_plain(t) for t in things)], _notes(bench)),)


def apart_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the floor taken apart; none when there are too many things."""
    things = _things(bench)
    return (_draft(bench, "apart", _apart(bench, things), _notes(bench)),) if things else ()


def step_sheets(bench: Bench) -> tuple[Draft, ...]:
    """Return the steps of assembly; none when there are too many things."""
    return _steps(bench, _things(bench))


def _things(bench: Bench) -> tuple[Standing, ...]:
    """Return everything that stands there; nothing when it is too much for a picture."""
    things = standing(bench.plan)
    return things if len(things) <= MOST else ()


def _notes(bench: Bench) -> Notes:
    return Notes((bench.say("sheet-note.space"),), bench.area)


def _draft(bench: Bench, code: str, pieces: list[Piece], notes: Notes) -> Draft:
    shapes, homeless = picture(pieces, shrunk(bench.area, notes))
    title = bench.title(code, number=1, count=1)
    return Draft(
        code=code, group=title, title=title, shapes=(*shapes, *notes.shapes()), house="beyond", homeless=homeless
    )


def _plain(thing: Standing, *, pen: Pen = Pen.FINE, name: str = "", raised: float = 0.0, has_way: bool = True) -> Piece:
    return Piece(
        solid=thing.solid, layer=thing.thing, mark=thing.mark, pen=pen, name=name, raised=raised, has_way=has_way
    )


def _house(bench: Bench, things: Iterable[Standing]) -> list[Piece]:
    """Return the wall behind the floor, from the ground up to the floor indoors, where there is a house."""
    if not bench.has_house:
        return []
    low = min(t.solid.bounds[0][2] for t in things)
    (x0, x1), sill = bench.outline_x, max(0.0, bench.plan.job.site.sill)
    wall = Solid.box((x0 - 2 * WALL, -WALL, low), (x1 + 2 * WALL, 0.0, sill))
    return [Piece(solid=wall, layer="house", mark="", pen=Pen.PENCIL, name=bench.say("sheet.house-name"))]


def _apart(bench: Bench, things: Iterable[Standing]) -> list[Piece]:
    """Return posts, timbers and boards drawn apart upwards, in the order in which they go together."""
    order: dict[str, int] = {mark: step.number for step in bench.plan.joinery.steps for mark in step.marks}
    last = max(order.values(), default=0) + 1
    lift = _lift(bench) * 1.6
    out: list[Piece] = []
    for thing in things:
        if thing.thing == "footing":
            out.append(_plain(thing))
            continue
        level = {"post": 0, "board": last}.get(thing.thing, order.get(thing.mark, 1))
        is_named = thing.thing != "board"
        name = bench.figures.mark(thing.mark) if is_named else ""
        raised = lift * level if level else lift * 0.25
        out.append(_plain(thing, pen=Pen.OBJECT if is_named else Pen.FINE, name=name, raised=raised, has_way=False))
    return out


def _lift(bench: Bench) -> float:
    (y0, y1), (x0, x1) = bench.outline_y, bench.outline_x
    return max(250.0, LIFT * min(y1 - y0, x1 - x0) * 0.6)


def _steps(bench: Bench, things: tuple[Standing, ...]) -> tuple[Draft, ...]:
    """Return the steps of assembly, four pictures on a sheet."""
    steps = bench.plan.joinery.steps
    if not steps or not things:
        return ()
    by_mark = {t.mark: t for t in things if t.thing in {"beam", "joist", "block"}}
    groups = [steps[k : k + 4] for k in range(0, len(steps), 4)]
    out: list[Draft] = []
    for number, group in enumerate(groups, start=1):
        shapes: list[Shape] = []
        homeless: list[str] = []
        for step, area in zip(group, _quarters(bench.area, len(group)), strict=False):
            drawn, missed = _step(bench, step, by_mark, area)
            shapes += drawn
            homeless += missed
        out.append(
            Draft(
                code="assembly" if len(groups) == 1 else f"assembly-{number}",
                group=bench.title("assembly", number=1, count=1),
                title=bench.title("assembly", number=number, count=len(groups)),
                shapes=tuple(shapes),
                house="beyond",
                homeless=tuple(homeless),
            )
        )
    return tuple(out)


def _quarters(area: Area, count: int) -> list[Area]:
    """Return the areas of up to four pictures."""
    columns, rows = (1, 1) if count == 1 else (2, 1) if count == 2 else (2, 2)
    wide, high = (area.width - GUTTER * (columns - 1)) / columns, (area.height - GUTTER * (rows - 1)) / rows
    return [
        Area(
            left=area.left + c * (wide + GUTTER),
            top=area.top + r * (high + GUTTER),
            right=area.left + c * (wide + GUTTER) + wide,
            bottom=area.top + r * (high + GUTTER) + high,
        )
        for r in range(rows)
        for c in range(columns)
    ]


def _step(
    bench: Bench, step: Step, by_mark: dict[str, Standing], area: Area
) -> tuple[tuple[Shape, ...], tuple[str, ...]]:
    """Return one step: what is there already in pencil, what comes now in ink, held over its place."""
    there = [m for s in bench.plan.joinery.steps if s.number < step.number for m in s.marks]
    raised = _lift(bench) if there else 0.0
    pieces = [_plain(by_mark[m], pen=Pen.PENCIL) for m in there]
    pieces += [_plain(by_mark[m], pen=Pen.OBJECT, name=bench.figures.mark(m), raised=raised) for m in step.marks]
    head = Text(at=(area.left, area.top + HEAD), text=str(step.number), size=HEAD, is_bold=True, layer="step")
    said = assembly_words(bench, step)
    lines = wrap(said, area.width - 9.0, FIGURE)[:4]
    words = tuple(
        Text(at=(area.left + 8.0, area.top + HEAD + k * FIGURE * 1.4), text=line, size=FIGURE, layer="step")
        for k, line in enumerate(lines)
    )
    top = area.top + HEAD + len(lines) * FIGURE * 1.4
    shapes, homeless = picture(pieces, Area(left=area.left, top=top, right=area.right, bottom=area.bottom))
    return (head, *words, *shapes), homeless
