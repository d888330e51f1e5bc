"""What the page shows of one job at one station: a drawing, the plan in a few numbers, the findings in words."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.office.actions import speaker_for
from evenfoot.office.answers import Finding, findings_of
from evenfoot.office.desk.form import Form, form_of
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.stations import Station
from evenfoot.office.summary import Summary, summarise
from evenfoot.plan import Plan
from evenfoot.words import Language, Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One drawing for the screen: its name, titles of its sheets, and each sheet as SVG text."""

    name: str
    titles: tuple[str, ...]
    svgs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One job at one station. Without a plan there is neither picture nor summary, and the form tells why."""

    form: Form
    picture: Picture | None
    summary: Summary | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What a person looks at: the station, one of its drawings, the language."""

    station: Station
    drawing: str
    language: Language


def view_of(desk: Desk, job: int, texts: Texts, look: Look) -> View:
    """Return what the page shows; a job that does not plan gives its faults at their fields."""
    try:
        plan = desk.plan(job, texts)
    except EvenfootError as error:
        form = form_of(texts.job, look.station, Speaker(look.language), more=error.faults)
        return View(form=form, picture=None, summary=None, findings=())
    speaker = speaker_for(plan, look.language)
    return View(
        form=form_of(texts.job, look.station, speaker),
        picture=picture_of(plan, look.drawing, look.language),
        summary=summarise(plan),
        findings=findings_of(plan, speaker),
    )


def picture_of(plan: Plan, name: str, language: Language) -> Picture:
    """Return one drawing of a plan for the screen; no sheets when the plan has none of that name.

    Raises: OutOfRangeError ``drawing-unknown``.
    """
    from evenfoot.press import svg_of
    from evenfoot.sheets import NAMES, drawing

    if name not in NAMES:
        raise OutOfRangeError(Fault(where="drawing", code="drawing-unknown", found=name, allowed=", ".join(NAMES)))
    pages = drawing(plan, speaker_for(plan, language), plan.job.paper, name)
    return Picture(name=name, titles=tuple(page.title for page in pages), svgs=tuple(svg_of(page) for page in pages))
