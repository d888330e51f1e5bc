"""What the page shows of one job at one station: a drawing, the plan in a few numbers, the findings in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from evenfoot.checks import Verdict
from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.office.actions import speaker_for
from evenfoot.office.answers import Finding, findings_in, in_order
from evenfoot.office.desk.asking import SiteForm, site_form
from evenfoot.office.desk.form import Form, form_of
from evenfoot.office.desk.grips import Grip, grips_of, names_of
from evenfoot.office.desk.marks import place_of_check
from evenfoot.office.desk.reckoning import Desk, Texts
from evenfoot.office.desk.stations import Station
from evenfoot.office.summary import Summary, summarise
from evenfoot.plan import Plan
from evenfoot.words import ON_PAGE, Language, Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One drawing for the screen: its name, and for each sheet its title, the SVG text, and the notes under it."""

    name: str
    titles: tuple[str, ...]
    svgs: tuple[str, ...]
    notes: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One job at one station. Without a plan there is neither picture nor summary, and the form tells why.

    ``site`` is what can be read on site, at the station where it is asked.
    """

    form: Form
    picture: Picture | None
    summary: Summary | None
    findings: tuple[Finding, ...]
    marks: tuple[tuple[str, ...], ...] = ()
    """Of each finding, what it concerns on a drawing."""
    untold: int = 0
    """How many findings pass and are not told."""
    site: SiteForm | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    """How each mark on a drawing is called."""
    grips: tuple[Grip, ...] = ()
    """What can be dragged on a plan."""
    unit: str = "mm"
    """In which the lengths of the job are told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A plan in a few numbers, and its findings in words, each with the marks of what it concerns on a drawing."""

    summary: Summary
    findings: tuple[Finding, ...]
    marks: tuple[tuple[str, ...], ...]
    untold: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What a person looks at: the station, one of its drawings, the language.

    What passes fills most of the findings and is seldom read: it is told only to whom ``has_fine``.
    """

    station: Station
    drawing: str
    language: Language
    has_fine: bool = True


def view_of(desk: Desk, job: int, texts: Texts, look: Look) -> View:
    """Return what the page shows; a job that does not plan gives its faults at their fields."""
    try:
        plan = desk.plan(job, texts)
    except EvenfootError as error:
        form = form_of(texts.job, look.station, Speaker(look.language), faults=error.faults)
        return View(form=form, picture=None, summary=None, findings=())
    speaker = speaker_for(plan, look.language)
    told = told_of(plan, look.language, has_fine=look.has_fine)
    return View(
        form=form_of(texts.job, look.station, speaker),
        site=site_form(plan, speaker) if look.station.is_on_site else None,
        picture=picture_of(plan, look.drawing, look.language),
        summary=told.summary,
        findings=told.findings,
        marks=told.marks,
        untold=told.untold,
        names=names_of(plan, speaker),
        grips=grips_of(plan, speaker),
        unit=speaker.unit,
    )


def told_of(plan: Plan, language: Language, *, has_fine: bool = True) -> Told:
    """Return a plan in a few numbers and its findings in words, the gravest first; those that pass if ``has_fine``."""
    checks = in_order(c for c in plan.checks if has_fine or c.verdict is not Verdict.OK)
    return Told(
        summary=summarise(plan),
        findings=findings_in(checks, speaker_for(plan, language, instead=(ON_PAGE,))),
        marks=tuple(place_of_check(plan, check) for check in checks),
        untold=len(plan.checks) - len(checks),
    )


def picture_of(plan: Plan, name: str, language: Language) -> Picture:
    """Return one drawing of a plan for the screen; no sheets when the plan has none of that name.

    Raises: OutOfRangeError ``drawing-unknown``.
    """
    from evenfoot.press import svg_of
    from evenfoot.sheets import NAMES, on_screen

    if name not in NAMES:
        raise OutOfRangeError(Fault(where="drawing", code="drawing-unknown", found=name, allowed=", ".join(NAMES)))
    shown = on_screen(plan, speaker_for(plan, language), name)
    return Picture(
        name=name,
        titles=tuple(one.page.title for one in shown),
        svgs=tuple(svg_of(one.page) for one in shown),
        notes=tuple(one.notes for one in shown),
    )


def sheet_of(picture: Picture, number: int) -> str:
    """Return one sheet of a drawing, counted from 1; raises OutOfRangeError ``sheet-unknown``."""
    if not 1 <= number <= len(picture.svgs):
        fault = Fault(where="sheet", code="sheet-unknown", found=str(number), allowed=f"1 … {len(picture.svgs)}")
        raise OutOfRangeError(fault)
    return picture.svgs[number - 1]


def drawing_names() -> tuple[str, ...]:
    """Return the names of all drawings, in the order in which they are needed on site."""
    from evenfoot.sheets import NAMES

    return NAMES
