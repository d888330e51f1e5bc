"""What this room hands out of one plan: the whole set, one sheet of it, labels, strips, tables, the calendar."""

from __future__ import annotations

from collections.abc import Callable

from evenfoot.ink import Page, Table
from evenfoot.plan import Plan
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft, bind, cover_of
from evenfoot.sheets.drafting.paper import paper_named
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.listing import Listing
from evenfoot.sheets.parts import (
    as_built,
    boards,
    cover,
    findings,
    ground,
    lists,
    marking,
    order_of_work,
    posts,
    sawing,
)
from evenfoot.sheets.parts import labels as labelling
from evenfoot.sheets.parts import strips as stripping
from evenfoot.sheets.sets import SHEETS
from evenfoot.words import Speaker

NAMES = tuple(SHEETS)
"""What ``drawing`` can draw."""


def drawings(plan: Plan, speaker: Speaker, paper: str) -> tuple[Page, ...]:
    """Return every sheet of the set in order, numbered, on paper A3, A4, letter or tabloid.

    Raises: OutOfRangeError ``paper-unknown``.
    """
    sheet = paper_named(paper)
    figures = Figures(speaker=speaker)
    bench = Bench(plan=plan, figures=figures, area=sheet.body)
    others = tuple(draft for make in SHEETS.values() for draft in make(bench))
    return bind((cover.cover_sheet(bench, others), *others), cover_of(plan, figures), sheet, figures)


def drawing(plan: Plan, speaker: Speaker, paper: str, name: str) -> tuple[Page, ...]:
    """Return the sheets of one name (one of ``NAMES``) alone, numbered among themselves: quick, for a screen.

    Raises: OutOfRangeError ``paper-unknown``.
    """
    return _bound(plan, speaker, paper, SHEETS[name])


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
        lists.order_told(bench),
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
