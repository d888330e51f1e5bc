"""Lines set out square from the house: the triangle of the right size, and a line along a wall that is not straight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.office.setting.bench import Answer, Asked, Bench, open_bench
from evenfoot.office.setting.square import tape_of, within_of
from evenfoot.setting import square
from evenfoot.units import UNITS


@dataclass(frozen=True, slots=True, kw_only=True)
class LinesTyped:
    """What was typed for setting out: the frame's size and, at places along the wall, how far its face stands out."""

    size: Sequence[str] = ()
    wall: Sequence[tuple[str, str]] = ()
    """x and out; outward positive, from any straight line along the wall."""
    within: str = ""
    tape: str = ""


def ask_lines(asked: Asked, typed: LinesTyped) -> Answer:
    """Return how to set out lines from the house, by what is typed or by the job.

    Raises: OutOfRangeError (``size-missing``) without a job and a size.
    """
    bench = open_bench(asked)
    width, depth = _size(bench, typed)
    tape = tape_of(bench, typed.tape)
    out = square.set_out(width=width, depth=depth, tape=tape, step=_step(bench))
    length, plus = bench.said, bench.plus
    triangle, whole = out.triangle, out.whole
    first = bench.speaker.say(
        "setting.lines.triangle",
        along=length(triangle.along),
        away=length(triangle.away),
        across=length(triangle.across),
        sure=plus(triangle.sure),
    )
    second = bench.speaker.say(
        "setting.lines.whole",
        width=length(width),
        depth=length(depth),
        across=length(whole.across),
        sure=plus(whole.sure),
    )
    third, detail, wall, is_fine = _wall(bench, typed, within_of(bench, typed.within, "square"))
    clash, clear = _room_at_wall(bench)
    detail += clear
    if clash:
        third, is_fine = clash, False
    if not typed.tape:
        detail.append(bench.unconfirmed(["tape_reading", "tape_scale"], option="--tape"))
    record: dict[str, object] = {
        "triangle": _triangle(triangle),
        "whole": _triangle(whole),
        "wall": wall,
    }
    return Answer(what="lines", lines=(first, second, third), detail=tuple(detail), record=record, is_fine=is_fine)


def _size(bench: Bench, typed: LinesTyped) -> tuple[float, float]:
    if typed.size:
        width, depth = (bench.length(text, "--size") for text in typed.size)
        return width, depth
    if bench.plan is None:
        raise OutOfRangeError(Fault(where="square", code="size-missing", allowed="--size"))
    layout = bench.plan.layout
    return layout.frame_x[1] - layout.frame_x[0], layout.frame_y[1] - layout.frame_y[0]


def _step(bench: Bench) -> float:
    """Return the step of a set-out length that is easy on the tape of this unit [mm]."""
    unit = bench.speaker.unit
    return float(UNITS[unit].mm) if unit in {"ft", "shaku"} else 100.0


def _wall(bench: Bench, typed: LinesTyped, within: float) -> tuple[str, list[str], dict[str, object] | None, bool]:
    """Return what is said of the wall, its detail and record, and whether it is straight enough."""
    points = [square.WallPoint(x=bench.length(x, "--wall"), out=bench.length(out, "--wall")) for x, out in typed.wall]
    if not points and bench.plan is not None:
        points = [square.WallPoint(x=w.x, out=w.out) for w in bench.plan.job.site.wall]
    say, length = bench.speaker.say, bench.said
    if len(points) < 2:
        return say("setting.lines.wall-unread"), [], None, True
    line = square.wall_line(points)
    facts = {
        "first": bench.signed(line.at_first),
        "last": bench.signed(line.at_last),
        "x_first": length(line.points[0].x),
        "x_last": length(line.points[-1].x),
        "touch": length(line.points[line.touches].x),
        "widest": bench.small(line.widest),
        "within": bench.small(within),
    }
    is_straight = line.widest <= within
    detail = [
        say("setting.lines.gap", x=length(p.x), gap=bench.small(gap))
        for p, gap in zip(line.points, line.gaps, strict=True)
    ]
    record: dict[str, object] = {
        "at_first_mm": line.at_first,
        "at_last_mm": line.at_last,
        "touches_at_x_mm": line.points[line.touches].x,
        "widest_gap_mm": line.widest,
        "gaps": [{"x_mm": p.x, "gap_mm": gap} for p, gap in zip(line.points, line.gaps, strict=True)],
    }
    code = "setting.lines.wall-straight" if is_straight else "setting.lines.wall-crooked"
    return say(code, **facts), detail, record, is_straight


def _room_at_wall(bench: Bench) -> tuple[str, list[str]]:
    """Return what is said when the wall stands before a job's frame, and the clear space at each of its readings."""
    if bench.plan is None:
        return "", []
    edge = bench.plan.layout.frame_y[0]
    clear = [(w.x, edge - w.out) for w in bench.plan.job.site.wall]
    say, said = bench.speaker.say, bench.said
    detail = [say("setting.lines.clear", x=said(x), clear=bench.small(gap)) for x, gap in clear]
    x, least = min(clear, key=lambda one: one[1], default=(0.0, 0.0))
    return (say("setting.lines.clash", x=said(x), by=bench.small(-least)) if least < 0 else ""), detail


def _triangle(one: square.Triangle) -> dict[str, object]:
    return {"along_mm": one.along, "away_mm": one.away, "across_mm": one.across, "sure_mm": one.sure}
