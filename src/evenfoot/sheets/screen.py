"""A drawing for a screen: the same drawing without the frame of a sheet, cut to what is drawn, its notes apart."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.ink import Circle, Dimension, Line, Page, Polygon, Text, flat
from evenfoot.plan import Plan
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.binding import Draft
from evenfoot.sheets.drafting.paper import Paper
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.parts.compared import compared_draft
from evenfoot.sheets.sets import SHEETS
from evenfoot.words import Speaker

Shape = Line | Polygon | Circle | Text | Dimension
_DRAWN = Paper(name="screen", width=320.0, height=270.0)
"""Room of a drawing: so many millimetres fill a screen, so that figures on it can be read."""
_LISTED = Paper(name="screen", width=230.0, height=2000.0)
"""Room of a list: it runs on downwards instead of turning a page."""
_LISTS = frozenset(
    {"posts", "timbers", "board-list", "as-built", "order", "fixings", "price", "checks", "work", "sawing"}
)
_PAD = 3.0
"""Paper left around what is drawn [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnScreen:
    """One drawing, and the notes that stand under it on paper."""

    page: Page
    notes: tuple[str, ...]


def on_screen(plan: Plan, speaker: Speaker, name: str) -> tuple[OnScreen, ...]:
    """Return the drawings of one name (one of ``SHEETS``) for a screen."""
    paper = _LISTED if name in _LISTS else _DRAWN
    bench = Bench(plan=plan, figures=Figures(speaker=speaker), area=paper.body)
    return tuple(_cut(draft) for draft in SHEETS[name](bench))


def compared(before: Plan, after: Plan, speaker: Speaker) -> OnScreen:
    """Return two plans of one floor on one drawing for a screen: what was in pencil, what is in ink."""
    figures = Figures(speaker=speaker)
    old, new = (Bench(plan=plan, figures=figures, area=_DRAWN.body) for plan in (before, after))
    return _cut(compared_draft(old, new))


def _cut(draft: Draft) -> OnScreen:
    waiting = {id(text) for _, text in draft.matches}
    drawn = tuple(s for s in draft.shapes if s.layer != "note" and id(s) not in waiting)
    notes = [s for s in draft.shapes if s.layer == "note" and isinstance(s, Text)]
    whole = Page(code=draft.code, title=draft.title, width=0.0, height=0.0, shapes=drawn)
    points = [point for shape in flat(whole) for point in shape.reach] or [(0.0, 0.0)]
    xs, ys = zip(*points, strict=True)
    page = Page(
        code=draft.code,
        title=draft.title,
        left=min(xs) - _PAD,
        top=min(ys) - _PAD,
        width=max(xs) - min(xs) + 2 * _PAD,
        height=max(ys) - min(ys) + 2 * _PAD,
        scale=draft.scale.ratio if draft.scale else 0.0,
        origin=draft.origin,
        shapes=drawn,
    )
    return OnScreen(page=page, notes=_sentences(notes))


def _sentences(notes: list[Text]) -> tuple[str, ...]:
    """Return the notes, each in one piece: a line that begins further in goes on with the one before."""
    found: list[str] = []
    edges: list[float] = []
    for text in notes:
        if not text.text.strip() or len(text.text.strip()) == 1:
            continue
        goes_on = bool(edges) and abs(edges[-1] - text.at[0]) < 0.01 and not _ends(found[-1])
        if goes_on:
            found[-1] += ("" if text.text[0] > "⺀" else " ") + text.text
        else:
            found.append(text.text)
        edges.append(text.at[0])
    return tuple(found)


def _ends(text: str) -> bool:
    return text.rstrip().endswith((".", "。", ")", "）"))
