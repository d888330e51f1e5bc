"""The answer about squareness in words: what is so, what to do, how sure that is; then every length."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evenfoot.office.setting.bench import Answer, Bench
from evenfoot.setting import square


def square_answer(
    bench: Bench, result: square.Squareness, without: square.Squareness | None, *, is_own_tape: bool
) -> Answer:
    """Return the answer; ``without`` is the same without the one reading that is doubted."""
    told = _Told(bench=bench, result=result)
    better = _Told(bench=bench, result=without) if without is not None else None
    if result.shape is square.Shape.OPEN:
        lines = [
            told.say("setting.square.open"),
            told.say("setting.square.open-do", pairs=_pairs(result.missing)),
            told.say("setting.square.open-why"),
        ]
    elif result.suspects:
        lines = [
            told.doubt(),
            *([better.without()] if better else [told.say("setting.square.doubt-which")]),
            told.sure(),
        ]
    else:
        lines = [told.shape(), told.action(), told.sure()]
    detail = told.suspected() if result.suspects else told.detail()
    if better is not None:
        detail += better.detail()
    if not is_own_tape:
        detail.append(bench.unconfirmed(["tape_reading", "tape_scale"], option="--tape"))
    return Answer(
        what="square", lines=tuple(lines), detail=tuple(detail), record=_record(result), is_fine=result.is_square
    )


class _Told:
    """One result, ready to be told in the words of one bench."""

    def __init__(self, *, bench: Bench, result: square.Squareness) -> None:
        self.bench = bench
        self.result = result

    @property
    def gap(self) -> str:
        """What parts two sentences."""
        return "" if self.bench.is_japanese else " "

    def say(self, code: str, **facts: str | float) -> str:
        return self.bench.speaker.say(code, **facts)

    def shape(self) -> str:
        r, b = self.result, self.bench
        facts = {"by": b.small(abs(r.lean)), "sure": b.plus(r.lean_sure), "within": b.small(r.within)}
        if r.shape is square.Shape.SQUARE:
            return self.say("setting.square.square" if r.is_proved else "setting.square.square-unproved", **facts)
        if r.shape is square.Shape.LEANING:
            return self.say("setting.square.leaning", way_code=_way(r.lean), **facts)
        if not r.lean_sure:
            return self.say("setting.square.crooked-many", count=len(r.pushes), within=b.small(r.within))
        longest = self._longest()
        if self.is_other_size:
            return self.say("setting.square.other-size", sizes=self.sizes(), **facts)
        if longest is None:
            return self.say("setting.square.crooked-lean", way_code=_way(r.lean), **facts)
        own = {"side": mark(longest.pair), "excess": b.small(abs(longest.excess))}
        code = "setting.square.trapezoid" if r.shape is square.Shape.TRAPEZOID else "setting.square.crooked"
        return self.say(code, more_code=_more(longest.excess), **own, **facts)

    def action(self) -> str:
        r, b = self.result, self.bench
        aim = b.said(r.diagonals[0].target) if r.diagonals else ""
        longest = self._longest()
        if r.shape is square.Shape.SQUARE:
            return (
                self.say("setting.square.square-do", target=aim)
                if r.lean_sure
                else self.say("setting.square.square-many-do")
            )
        if not r.lean_sure:
            worst = max(r.pushes, key=lambda p: math.hypot(p.dx, p.dy))
            return self.say(
                "setting.square.push-one", corner=self.corner(worst.corner), how=self.how(worst.dx, worst.dy)
            )
        if self.is_other_size:
            return self.say("setting.square.other-size-do", target=aim)
        push = self.push() if abs(r.lean) > r.within else ""
        cut = ""
        if longest is not None:
            code = "setting.square.cut" if longest.excess > 0 else "setting.square.lengthen"
            cut = self.say(code, side=mark(longest.pair), by=b.small(abs(longest.excess)))
        return self.gap.join(part for part in (cut, push, self.say("setting.square.then", target=aim)) if part)

    @property
    def is_other_size(self) -> bool:
        """Whether the frame is square, but not as large as it should be."""
        r = self.result
        if r.shape is not square.Shape.CROOKED or not r.lean_sure or abs(r.lean) > r.within:
            return False
        return all(abs(r.sides[i].length - r.sides[i + 2].length) <= r.within for i in (0, 1))

    def sizes(self) -> str:
        """Return the sizes as they are and as they should be."""
        said = self.bench.said
        (width, depth) = self.result.sides[:2]
        return self.say(
            "setting.square.sizes",
            width=said(width.length),
            depth=said(depth.length),
            wanted_width=said(width.target),
            wanted_depth=said(depth.target),
        )

    def push(self) -> str:
        """Return which corner to push: the one at the end of the long diagonal, towards the house's middle."""
        lean = self.result.lean
        corner = 2 if lean > 0 else 3
        by = self.bench.small(abs(lean))
        return self.say(
            "setting.square.push", corner=self.corner(corner), other=5 - corner + 1, by=by, way_code=_way(-lean)
        )

    def _longest(self) -> square.Side | None:
        """Return the side that is most wrong, when one is."""
        wrong = [s for s in self.result.sides if abs(s.excess) > self.result.within]
        return max(wrong, key=lambda s: abs(s.excess), default=None)

    def sure(self) -> str:
        r = self.result
        spare = self.say("setting.square.spare", count=r.spare) if r.spare else self.say("setting.square.no-spare")
        longest = self._longest()
        widest = max((s.sure for s in r.sides), default=0.0) if longest is None else longest.sure
        is_of_lean = r.lean_sure and r.shape is not square.Shape.TRAPEZOID
        return self.say("setting.square.sure", sure=self.bench.plus(r.lean_sure if is_of_lean else widest), spare=spare)

    def doubt(self) -> str:
        suspects = self.result.suspects
        if len(suspects) > 1:
            return self.say("setting.square.doubt-several", pairs=_pairs([s.pair for s in suspects]))
        return f"{self.say('setting.square.disagree')}{self.gap}{self.suspect(suspects[0])}"

    def suspected(self) -> list[str]:
        """Return what the others make of each doubted reading, where there are several."""
        suspects = self.result.suspects
        return [self.suspect(one) for one in suspects] if len(suspects) > 1 else []

    def suspect(self, one: square.Suspect) -> str:
        """Return what was read, and what the other readings make of it."""
        length = self.bench.said
        kind = "none" if one.slip is None else one.slip.kind.value
        return self.say(
            "setting.square.doubt-one",
            pair=mark(one.pair),
            found=length(one.found),
            expected=length(one.expected),
            sure=self.bench.plus(one.sure),
            slip_code=f"setting.slip.{kind}",
        )

    def without(self) -> str:
        if self.result.shape is square.Shape.OPEN:
            return self.say("setting.square.doubt-again")
        return self.say("setting.square.without", rest=self.gap.join([self.shape(), self.action()]))

    def corner(self, index: int) -> str:
        if self.result.lean_sure:
            return self.say("setting.square.corner", number=index + 1, place_code=f"setting.corner-{index}")
        return self.say("setting.square.corner-bare", number=index + 1)

    def how(self, dx: float, dy: float) -> str:
        """Return the way and amount of a move, along the house and away from it."""
        parts = []
        for by, ways in ((dx, ("right", "left")), (dy, ("away", "house"))):
            if abs(by) >= 0.25:
                way = ways[0] if by > 0 else ways[1]
                parts.append(
                    self.say("setting.square.move", by=self.bench.small(abs(by)), way_code=f"setting.way.{way}")
                )
        return self.say("setting.square.and").join(parts)

    def detail(self) -> list[str]:
        r, length = self.result, self.bench.said
        out = [
            self.say(
                "setting.square.side",
                pair=mark(s.pair),
                now=length(s.length),
                target=length(s.target),
                excess=self.bench.signed(s.excess),
                sure=self.bench.plus(s.sure),
            )
            for s in r.sides
        ]
        out += [
            self.say(
                "setting.square.diagonal",
                pair=mark(d.pair),
                now=length(d.length),
                target=length(d.target),
                sure=self.bench.plus(d.sure),
            )
            for d in r.diagonals
        ]
        out += [
            self.say(
                "setting.square.angle",
                corner=self.corner(c.index),
                off=f"{math.degrees(c.angle_error):+.2f}",
                sure=f"{math.degrees(c.angle_sure):.2f}",
            )
            for c in r.corners
        ]
        if not r.lean_sure:
            out += [
                self.say("setting.square.push-one", corner=self.corner(p.corner), how=self.how(p.dx, p.dy))
                for p in r.pushes
                if self.how(p.dx, p.dy)
            ]
        return out


def mark(pair: tuple[int, int]) -> str:
    """Return two corners as they are called: ``3-4``."""
    return f"{min(pair) + 1}-{max(pair) + 1}"


def _pairs(pairs: Sequence[tuple[int, int]]) -> str:
    return ", ".join(mark(pair) for pair in pairs)


def _way(lean: float) -> str:
    return "setting.way.right" if lean > 0 else "setting.way.left"


def _more(excess: float) -> str:
    return "setting.more.long" if excess > 0 else "setting.more.short"


def _record(r: square.Squareness) -> dict[str, object]:
    return {
        "shape": r.shape.value,
        "is_proved": r.is_proved,
        "within_mm": r.within,
        "lean_mm": r.lean,
        "lean_sure_mm": r.lean_sure,
        "spare_readings": r.spare,
        "missing": [mark(pair) for pair in r.missing],
        "sides": [
            {
                "between": mark(s.pair),
                "length_mm": s.length,
                "target_mm": s.target,
                "excess_mm": s.excess,
                "sure_mm": s.sure,
            }
            for s in r.sides
        ],
        "diagonals": [
            {"between": mark(d.pair), "length_mm": d.length, "target_mm": d.target, "sure_mm": d.sure}
            for d in r.diagonals
        ],
        "corners": [
            {
                "corner": c.index + 1,
                "x_mm": c.at[0],
                "y_mm": c.at[1],
                "angle_error_deg": math.degrees(c.angle_error),
                "angle_sure_deg": math.degrees(c.angle_sure),
            }
            for c in r.corners
        ],
        "pushes": [{"corner": p.corner + 1, "right_mm": p.dx, "away_mm": p.dy, "sure_mm": p.sure} for p in r.pushes],
        "suspects": [
            {
                "between": mark(s.pair),
                "found_mm": s.found,
                "expected_mm": s.expected,
                "sure_mm": s.sure,
                "slip": None if s.slip is None else s.slip.kind.value,
            }
            for s in r.suspects
        ],
    }
