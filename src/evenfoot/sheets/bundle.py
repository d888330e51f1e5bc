"""The whole set of sheets of one plan, and its tables: the two things this room hands out."""

from __future__ import annotations

from collections.abc import Callable

from evenfoot.ink import Page, Table
from evenfoot.plan import Plan
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft, bind, cover_of
from evenfoot.sheets.drafting.paper import paper_named
from evenfoot.sheets.drafting.scale import Scale
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.flow import SAMPLE, Flow, columns_for, fits
from evenfoot.sheets.lists.listing import Listing
from evenfoot.sheets.parts import (
    as_built,
    boards,
    cover,
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
from evenfoot.sheets.parts import labels as labelling
from evenfoot.sheets.parts import strips as stripping
from evenfoot.words import Speaker

Write = Callable[[Bench, Flow], None]


def drawings(plan: Plan, speaker: Speaker, paper: str) -> tuple[Page, ...]:
    """Return every sheet of the set in order, numbered, on paper A3, A4, letter or tabloid.

    Raises: OutOfRangeError ``paper-unknown``.
    """
    sheet = paper_named(paper)
    figures = Figures(speaker=speaker)
    bench = Bench(plan=plan, figures=figures, area=sheet.body)
    others = _drafts(bench)
    return bind((cover.cover_sheet(bench, others), *others), cover_of(plan, figures), sheet, figures)


def labels(plan: Plan, speaker: Speaker, paper: str) -> tuple[Page, ...]:
    """Return a label for every piece, in the order of the work."""
    return _bound(plan, speaker, paper, labelling.label_sheets)


def strips(plan: Plan, speaker: Speaker, paper: str) -> tuple[Page, ...]:
    """Return where boards and joists lie, at full size, on paper strips."""
    return _bound(plan, speaker, paper, stripping.strip_sheets)


def _bound(plan: Plan, speaker: Speaker, paper: str, draw: Callable[[Bench], tuple[Draft, ...]]) -> tuple[Page, ...]:
    sheet = paper_named(paper)
    figures = Figures(speaker=speaker)
    drafts = draw(Bench(plan=plan, figures=figures, area=sheet.body))
    return bind(drafts, cover_of(plan, figures), sheet, figures)


def tables(plan: Plan, speaker: Speaker) -> tuple[Table, ...]:
    """Return every list of the set for the workbook; lengths are numbers in mm."""
    figures = Figures(speaker=speaker)
    bench = Bench(plan=plan, figures=figures, area=paper_named("A3").body)
    return tuple(listing.table(figures) for listing in _listings(bench) if listing.rows)


def calendar(plan: Plan, speaker: Speaker) -> Table:
    """Return the steps that have dates; no rows when the job names no first day."""
    return order_of_work.calendar_table(Bench(plan=plan, figures=Figures(speaker=speaker), area=paper_named("A3").body))


def _listings(bench: Bench) -> tuple[Listing, ...]:
    return (
        posts.post_list(bench),
        lists.member_list(bench),
        lists.joint_list(bench),
        boards.row_list(bench),
        boards.board_list(bench),
        as_built.measured_list(bench),
        as_built.moisture_list(bench),
        marking.all_cuts(bench),
        sawing.stick_list(bench),
        lists.order_list(bench),
        lists.fixing_list(bench),
        lists.coat_list(bench),
        lists.work_list(bench),
        lists.price_list(bench),
        findings.all_checks(bench),
        findings.cited(bench).listing(),
        findings.post_load_list(bench),
        ground.reading_list(bench),
        order_of_work.assembly_list(bench),
        order_of_work.step_list(bench),
        order_of_work.caution_list(bench),
        order_of_work.upkeep_list(bench),
        order_of_work.exposure_list(bench),
    )


def _drafts(bench: Bench) -> tuple[Draft, ...]:
    """Return all sheets after the first, in the order in which they are needed on site."""
    found = marking.patterns(bench)
    cut_scale, saw_scale = marking.scale_for(bench, found), sawing.scale_for(bench)
    joint_scale = joint_details.scale_for(bench)
    return (
        *ground.ground_sheets(bench),
        *boards.board_sheets(bench),
        *framing.frame_sheets(bench),
        *sections.section_sheets(bench),
        *space.space_sheets(bench),
        *_listed(bench, "posts", *_posts(bench)),
        *_listed(bench, "timbers", lists.member_list(bench), lists.joint_list(bench)),
        *_flowed(bench, "marking", lambda b, flow: marking.marking_flow(b, flow, cut_scale, found), scale=cut_scale),
        *_flowed(bench, "joints", lambda b, flow: joint_details.joint_flow(b, flow, joint_scale), scale=joint_scale),
        *_listed(bench, "board-list", boards.row_list(bench), boards.board_list(bench)),
        *_listed(bench, "as-built", as_built.measured_list(bench), as_built.moisture_list(bench)),
        *_flowed(
            bench,
            "sawing",
            lambda b, flow: sawing.sawing_flow(b, flow, saw_scale),
            columns=sawing.columns_of(bench),
            scale=saw_scale,
        ),
        *_listed(bench, "order", lists.order_list(bench), has_prices=True),
        *_listed(bench, "fixings", lists.fixing_list(bench), lists.coat_list(bench)),
        *_listed(bench, "price", lists.work_list(bench), lists.price_list(bench), has_prices=True),
        *_flowed(bench, "checks", findings.check_flow),
        *_flowed(bench, "work", order_of_work.work_flow),
    )


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
