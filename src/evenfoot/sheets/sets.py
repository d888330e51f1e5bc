"""Which sheets there are, in the order in which they are needed on site, each made by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.lists.flow import SAMPLE, Flow, columns_for, fits
from evenfoot.sheets.lists.listing import Listing
from evenfoot.sheets.parts import (
    as_built,
    boards,
    findings,
    framing,
    ground,
    joint_details,
    lists,
    marking,
    order_of_work,
    posts,
    sawing,
    sections,
    space,
)

Write = Callable[[Bench, Flow], None]
Make = Callable[[Bench], tuple[Draft, ...]]


def _marking(bench: Bench) -> tuple[Draft, ...]:
    found = marking.patterns(bench)
    scale = marking.scale_for(bench, found)
    return _flowed(bench, "marking", lambda b, flow: marking.marking_flow(b, flow, scale, found), scale=scale)


def _joints(bench: Bench) -> tuple[Draft, ...]:
    scale = joint_details.scale_for(bench)
    return _flowed(bench, "joints", lambda b, flow: joint_details.joint_flow(b, flow, scale), scale=scale)


def _sawing(bench: Bench) -> tuple[Draft, ...]:
    scale = sawing.scale_for(bench)
    return _flowed(
        bench,
        "sawing",
        lambda b, flow: sawing.sawing_flow(b, flow, scale),
        columns=sawing.columns_of(bench),
        scale=scale,
    )


SHEETS: Mapping[str, Make] = {
    "ground": ground.ground_sheets,
    "boards": boards.board_sheets,
    "frame": framing.frame_sheets,
    "sections": sections.section_sheets,
    "sides": space.side_sheets,
    "whole": space.whole_sheets,
    "apart": space.apart_sheets,
    "assembly": space.step_sheets,
    "posts": lambda b: _listed(b, "posts", *_posts(b)),
    "timbers": lambda b: _listed(b, "timbers", lists.member_list(b), lists.joint_list(b)),
    "marking": _marking,
    "joints": _joints,
    "board-list": lambda b: _listed(b, "board-list", boards.row_list(b), boards.board_list(b)),
    "as-built": lambda b: _listed(b, "as-built", as_built.measured_list(b), as_built.moisture_list(b)),
    "sawing": _sawing,
    "order": lambda b: _listed(b, "order", lists.order_list(b), lists.order_told(b), has_prices=True),
    "fixings": lambda b: _listed(b, "fixings", lists.fixing_list(b), lists.coat_list(b)),
    "price": lambda b: _listed(b, "price", lists.work_list(b), lists.price_list(b), has_prices=True),
    "checks": lambda b: _flowed(b, "checks", findings.check_flow),
    "work": lambda b: _flowed(b, "work", order_of_work.work_flow),
}
"""Everything after the first sheet, by name; each may take several sheets or none."""


def _posts(bench: Bench) -> tuple[Listing, ...]:
    """Return the posts as one list where the paper is wide enough, else as two, and what they carry where reckoned."""
    whole = posts.post_list(bench)
    lengths = (whole,) if fits(whole, bench.area, bench.figures) else posts.post_lists(bench)
    carried = findings.post_load_brief(bench)
    return (*lengths, carried) if carried.rows else lengths


def _listed(bench: Bench, code: str, *listings: Listing, has_prices: bool = False) -> tuple[Draft, ...]:
    """Return sheets of lists, in columns where they are narrow; sample prices are told at the head."""
    shown = tuple(listing for listing in listings if listing.rows)
    if not shown:
        return ()

    def write(_: Bench, flow: Flow) -> None:
        if has_prices and bench.plan.shop.is_sample:
            flow.paragraph(bench.say("notice.sample-prices"), SAMPLE)
        for listing in shown:
            flow.listing(listing)

    return _flowed(bench, code, write, columns=columns_for(shown, bench.area, bench.figures))


def _flowed(
    bench: Bench, code: str, write: Write, *, columns: int = 1, scale: Scale | None = None
) -> tuple[Draft, ...]:
    """Return as many sheets as a text runs over."""
    flow = Flow(bench.area, bench.figures, columns=columns)
    write(bench, flow)
    pages = [page for page in flow.pages if page]
    count = len(pages)
    group = bench.title(code, number=1, count=1)
    return tuple(
        Draft(
            code=code if count == 1 else f"{code}-{number}",
            group=group,
            title=bench.title(code, number=number, count=count),
            shapes=tuple(page),
            scale=scale,
        )
        for number, page in enumerate(pages, start=1)
    )
