"""How answers of the office are put on paper: parts of a page, money, days."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from decimal import Decimal
from typing import Any

from starlette.requests import Request
from starlette.responses import HTMLResponse

from evenfoot.office import answers, desk
from evenfoot.units import format_length
from evenfoot.web.paper import page, speaker_of, templates
from evenfoot.words import Speaker

SIGNS: Mapping[str, str] = {"fails": "▲", "outside_rule": "△", "not_checked": "◇", "ok": "○"}
"""The shape before a finding; a shape, not a colour alone, tells how it ended."""


Pair = tuple[answers.Finding, tuple[str, ...]]
"""A finding, and the marks of what it concerns on a drawing."""


def show(request: Request, name: str, *, status: int = 200, **facts: object) -> HTMLResponse:
    """Return a page; every page knows where it is, how to write a day, who looks at it and whether they may edit."""
    here = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    visitor = getattr(request.state, "visitor", None)
    may_edit = visitor is None or visitor.may("edit")
    known = {"here": here, "when": when, "visitor": visitor, "may_edit": may_edit}
    return page(name, speaker_of(request), status=status, **known, **facts)


def parts_of(view: desk.View, speaker: Speaker) -> dict[str, str]:
    """Return the parts of a station's page as HTML: form, picture, facts, findings."""
    return {
        "site": _write("site", speaker, site=view.site),
        "form": _write("form", speaker, form=view.form, usual=lambda field: _usual(field, speaker)),
        "picture": picture_part(view.picture, speaker),
        "facts": facts_part(view, speaker),
        "findings": _findings(view, speaker),
    }


def hold_of(view: desk.View) -> dict[str, Any]:
    """Return what a script needs to take hold of the drawings: names of marks, and what can be dragged."""
    return {"names": dict(view.names), "grips": [asdict(grip) for grip in view.grips]}


def card_part(card: desk.TimberCard, speaker: Speaker) -> str:
    """Return the card of one thing as HTML."""
    return _write("card", speaker, card=card, signs=SIGNS)


def picture_part(picture: desk.Picture | None, speaker: Speaker) -> str:
    """Return a drawing as HTML."""
    return _write("picture", speaker, picture=picture)


def facts_part(view: desk.View, speaker: Speaker) -> str:
    """Return the plan in a few numbers as HTML."""
    brief = view.summary
    if brief is None:
        return _write("facts", speaker, summary=None)
    counts = {sign: sum(f.verdict == sign for f in view.findings) for sign in SIGNS}
    is_short, unchecked = answers.falls_short(view.findings), counts["not_checked"]
    code = "page.verdict-short" if is_short else "page.verdict-open" if unchecked else "page.verdict-fine"
    short, fine = counts["fails"] + counts["outside_rule"], counts["ok"] + view.untold
    verdict = speaker.say(code, short=short, unchecked=unchecked, fine=fine)
    lengths = (format_length(brief.shortest_post, unit=view.unit), format_length(brief.longest_post, unit=view.unit))
    return _write(
        "facts",
        speaker,
        summary=brief,
        is_short=is_short,
        unchecked=unchecked,
        verdict=verdict,
        price=span(brief.price_low, brief.price_high, brief.currency),
        posts=" – ".join(lengths),
    )


def span(low: Decimal, high: Decimal, currency: str) -> str:
    """Return a price from low to high with its currency, thousands apart."""
    return f"{currency} {low:,} – {high:,}" if low != high else f"{currency} {low:,}"


def when(iso: str) -> str:
    """Return a moment as day and time, in UTC; a script on the page tells it by the clock of whoever looks."""
    return datetime.fromisoformat(iso).strftime("%Y-%m-%d %H:%M UTC")


def _findings(view: desk.View, speaker: Speaker) -> str:
    pairs = list(zip(view.findings, view.marks, strict=True))
    groups: dict[str, list[Any]] = {
        "grave": _alike([pair for pair in pairs if pair[0].verdict in answers.SHORTFALLS]),
        "open": [pair for pair in pairs if pair[0].verdict == "not_checked"],
        "fine": [pair for pair in pairs if pair[0].verdict == "ok"],
    }
    fine_count = len(groups["fine"]) + view.untold
    return _write("findings", speaker, summary=view.summary, signs=SIGNS, fine_count=fine_count, **groups)


def _alike(found: list[Pair]) -> list[list[Pair]]:
    """Return findings of one rule together, in the order of the gravest of each."""
    kinds: dict[tuple[str, str], list[Pair]] = {}
    for pair in found:
        kinds.setdefault((pair[0].verdict, pair[0].rule), []).append(pair)
    return list(kinds.values())


def usual_in(field: desk.FormField, speaker: Speaker) -> str:
    """Return what a field holds, or what is taken when it is empty, as its choices call it."""
    return dict(field.choices).get(field.typed, field.typed) or _usual(field, speaker)


def _usual(field: desk.FormField, speaker: Speaker) -> str:
    """Return what is taken when a field is left as it is, as its choices call it."""
    if field.kind == "yes-no":
        return speaker.say("page.yes" if field.default == "true" else "page.no")
    return dict(field.choices).get(field.default, field.default)


def _write(name: str, speaker: Speaker, **facts: object) -> str:
    return templates().get_template(f"parts/{name}.html").render(say=speaker.say, **facts)
