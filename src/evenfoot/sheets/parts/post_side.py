"""How a post is drawn for marking out: its side with both edge lengths, head and foot, and which end is which."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin, tan

from evenfoot.ink import Anchor, Dimension, Fill, Line, Pen, Polygon, Text
from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.grain import long_grain
from evenfoot.sheets.drafting.paper import FIGURE, WORD
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import Draw, Flow, Shape, Style
from evenfoot.sheets.parts.posts import LEAST_LEAN, head_of, side_of

BEFORE, PAST = 26.0, 22.0
"""Paper before the foot and past the head of a post [mm]."""
ABOVE, BELOW = 11.0, 13.0
"""Paper over and under a post for the lengths of its edges [mm]."""
AXIS_DASH = (6.0, 1.2, 1.0, 1.2)


@dataclass(frozen=True, slots=True, kw_only=True)
class PostPattern:
    """Posts that are worked alike but for their lengths; the first is drawn."""

    cuts: tuple[PostCut, ...]

    @property
    def first(self) -> PostCut:
        """The post that is drawn."""
        return self.cuts[0]

    @property
    def rise(self) -> float:
        """How much the head rises over the post from its low to its high side [mm]; 0 when square."""
        cut = self.first
        if abs(cut.head_angle_deg) < LEAST_LEAN:
            return 0.0
        turn = radians(cut.head_falls_toward_deg)
        run = hypot(cut.width * cos(turn), cut.depth * sin(turn))
        return tan(radians(abs(cut.head_angle_deg))) * run


def post_patterns(bench: Bench) -> tuple[PostPattern, ...]:
    """Return the posts grouped by wood, section and head, in the order in which they first appear."""
    groups: dict[object, list[PostCut]] = {}
    for cut in bench.plan.posts.cuts:
        if cut.is_cut:
            head = (round(cut.head_angle_deg, 1), round(cut.head_falls_toward_deg))
            groups.setdefault((cut.species, cut.width, cut.depth, head), []).append(cut)
    return tuple(PostPattern(cuts=tuple(group)) for group in groups.values())


def post_flow(bench: Bench, flow: Flow, scale: Scale) -> None:
    """Write every kind of post with a drawing of the first: it lies with its foot at the left, its high side up."""
    for pattern in post_patterns(bench):
        cut, figures = pattern.first, bench.figures
        high = ABOVE + cut.width / scale.ratio + BELOW
        marks = bench.say("sheet.posts-alike", marks=figures.some(tuple(c.mark for c in pattern.cuts)))
        flow.heading(marks, keep=high + 16.0)
        facts = bench.say(
            "sheet.post-facts",
            count=len(pattern.cuts),
            species=figures.said("species", cut.species),
            section=figures.section(cut.width, cut.depth),
            head=head_of(bench, cut),
        )
        flow.paragraph(facts, Style(size=FIGURE, after=1.0))
        flow.figure(high, _drawer(bench, pattern, scale))
        flow.gap(3.0)


def _drawer(bench: Bench, pattern: PostPattern, scale: Scale) -> Draw:
    return lambda x, y: tuple(_post(bench, pattern, (x, y), scale.ratio))


def _post(bench: Bench, pattern: PostPattern, corner: tuple[float, float], ratio: float) -> Iterator[Shape]:
    """Yield the post with both edge lengths, its axis, its ends and its section."""
    cut, half = pattern.first, pattern.rise / 2
    x0, y0 = corner[0] + BEFORE, corner[1] + ABOVE
    y1 = y0 + cut.width / ratio
    upper, lower, axis = ((cut.length + r) / ratio for r in (half, -half, 0.0))
    body = ((x0, y0), (x0 + upper, y0), (x0 + lower, y1), (x0, y1))
    yield Polygon(points=body, pen=Pen.OBJECT, fill=Fill.PAPER, layer="post", member=cut.mark)
    yield from long_grain((x0, y0), lower, y1 - y0, seed=cut.mark)
    middle = (y0 + y1) / 2
    yield Line(a=(x0 - 2.0, middle), b=(x0 + axis + 2.0, middle), pen=Pen.PENCIL, dash=AXIS_DASH, layer="post")
    for y, reach, length, offset in ((y0, upper, cut.length + half, 4.0), (y1, lower, cut.length - half, -8.5)):
        text = bench.figures.cut(length)
        yield Dimension(a=(x0, y), b=(x0 + reach, y), offset=offset, distance=length, text=text, size=FIGURE)
    yield from _words(bench, pattern, (x0, middle), x0 + upper + PAST)


def _words(bench: Bench, pattern: PostPattern, foot: tuple[float, float], x: float) -> Iterator[Text]:
    """Yield the name of the foot at its left and what matters of the head at the right."""
    cut, figures, say = pattern.first, bench.figures, bench.say
    base = foot[1] + 0.765 * WORD / 2
    yield Text(at=(foot[0] - 4.0, base), text=say("sheet.post-foot"), size=WORD, anchor=Anchor.END, layer="end")
    lines = [say("sheet.post-axis", length=figures.cut(cut.length))]
    if pattern.rise > 0.0:
        side = side_of(bench, cut.head_falls_toward_deg)
        lines.append(say("sheet.post-head", rise=figures.cut(pattern.rise), side=side))
    for k, text in enumerate(lines):
        y = base + (k - (len(lines) - 1) / 2) * 1.5 * WORD
        yield Text(at=(x, y), text=text, size=WORD, layer="post")
