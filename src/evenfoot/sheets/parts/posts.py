"""The posts: what to cut, how sure that is, how head and foot are cut, and the levels there."""

from __future__ import annotations

from evenfoot.posts import PostCut
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.lists.listing import Field, Kind, Listing, Value
from evenfoot.words import Speaker

SIDES = ("right", "outer-right", "outer", "outer-left", "left", "house-left", "house", "house-right")
"""The sides and corners that 0, 45, 90 .. degrees from the wall point to."""
STRAIGHT = 1.0
"""A direction this near to a side counts as that side or corner [degrees]."""
LEAST_LEAN = 0.05
LEAST_GAP = 0.25
"""Less than this is neither sawn nor felt [degrees, mm]."""


def post_list(bench: Bench) -> Listing:
    """Return every post: where it stands, what to cut, how sure that is, its ends, and the levels there."""
    first, second = post_lists(bench)
    return Listing(
        code="posts",
        fields=(*first.fields, *second.fields[1:]),
        rows=tuple((*a, *b[1:]) for a, b in zip(first.rows, second.rows, strict=True)),
    )


def post_lists(bench: Bench) -> tuple[Listing, Listing]:
    """Return what to cut and the levels at the posts as two lists, for narrow paper."""
    cuts = bench.plan.posts.cuts
    lengths = Listing(
        code="posts",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="x", kind=Kind.LENGTH),
            Field(code="y", kind=Kind.LENGTH),
            Field(code="cut-length", kind=Kind.KEY),
            Field(code="spread"),
            Field(code="rough-length", kind=Kind.LENGTH),
            Field(code="basis"),
            Field(code="section"),
            Field(code="head"),
            Field(code="foot-high"),
            Field(code="foot-gap", kind=Kind.CUT),
        ),
        rows=tuple(_post(bench, cut) for cut in cuts),
    )
    levels = Listing(
        code="post-levels",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="underside", kind=Kind.LENGTH),
            Field(code="footing-top", kind=Kind.LENGTH),
            Field(code="ground", kind=Kind.LENGTH),
            Field(code="foot-lift", kind=Kind.CUT),
        ),
        rows=tuple((c.mark, c.underside, c.footing_top, c.ground, c.foot_lift) for c in cuts),
    )
    return lengths, levels


def _post(bench: Bench, cut: PostCut) -> tuple[Value, ...]:
    figures = bench.figures
    return (
        cut.mark,
        cut.x,
        cut.y,
        cut.length if cut.is_cut else bench.say("sheet.no-room"),
        figures.spread(cut.sigma),
        cut.rough_length if cut.is_cut else None,
        bench.say(f"sheet-basis.{cut.basis.value}"),
        figures.section(cut.width, cut.depth),
        head_of(bench, cut),
        foot_of(bench, cut),
        cut.foot_gap if cut.foot_gap >= LEAST_GAP else None,
    )


def head_of(speaker: Bench | Speaker, cut: PostCut) -> str:
    """Return how the head is cut: square, or its lean and the side on which it is lower."""
    lean = abs(cut.head_angle_deg)
    if lean < LEAST_LEAN:
        return speaker.say("sheet.square")
    return speaker.say("sheet.lean", angle=f"{lean:.1f}", side=side_of(speaker, cut.head_falls_toward_deg))


def post_ends(speaker: Speaker, cut: PostCut) -> tuple[str, str]:
    """Return how the head of a post is cut, and on which side its foot stands high."""
    return head_of(speaker, cut), foot_of(speaker, cut)


def foot_of(speaker: Bench | Speaker, cut: PostCut) -> str:
    """Return the side on which the foot stands high, or that it stands level."""
    if cut.foot_gap < LEAST_GAP:
        return speaker.say("sheet.level-foot")
    return side_of(speaker, cut.foot_high_toward_deg)


def side_of(speaker: Bench | Speaker, direction_deg: float) -> str:
    """Return the side or corner that a direction points to; between them it is given in degrees from the wall."""
    nearest = round(direction_deg / 45.0)
    if abs(direction_deg - 45.0 * nearest) > STRAIGHT:
        return speaker.say("sheet.side-turned", toward=f"{direction_deg:.0f}")
    return speaker.say(f"sheet-side.{SIDES[nearest % 8]}")
