"""The checks: what fails, what lies outside its rule, what was not checked, and what governs the rest."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.frame import Mark
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.lists.flow import Flow, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing, Value
from evenfoot.sheets.parts.sources import References, references
from evenfoot.strength import PostLoad
from evenfoot.units import measure

MANY = 40
"""More marks than this in one finding get a wider column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Findings alike in rule, verdict, reason and load case; the worst stands for all."""

    worst: Check
    others: tuple[str, ...]
    """Marks of the rest."""
    sources: tuple[str, ...]
    """What they rest on, the worst first."""


def groups(checks: tuple[Check, ...]) -> tuple[Group, ...]:
    """Return all findings, gravest first; every subject is named in some group."""
    alike: dict[object, list[Check]] = {}
    for check in checks:
        case = check.case if check.ratio is not None else ""
        key = (check.verdict, check.rule, check.reason, check.remedy, case, *_kinds(check))
        alike.setdefault(key, []).append(check)
    out: list[Group] = []
    for found in alike.values():
        worst = max(found, key=lambda c: c.ratio if c.ratio is not None else 0.0)
        rest = dict.fromkeys(c.subject for c in found if c is not worst and c.subject != worst.subject)
        sources = dict.fromkeys((worst.source, *(c.source for c in found)))
        out.append(Group(worst=worst, others=tuple(rest), sources=tuple(sources)))
    return tuple(sorted(out, key=lambda g: (g.worst.verdict.order, -(g.worst.ratio or 0.0))))


def _kinds(check: Check) -> tuple[object, ...]:
    """Return what an unchecked finding is about: boards and frame left unchecked are two things to be told."""
    return tuple(v for n, v in check.facts if n.endswith("_code")) if check.verdict is Verdict.NOT_CHECKED else ()


def cited(bench: Bench) -> References:
    """Return the sources behind all findings, in the order in which the sheets name them."""
    return references(source for group in groups(bench.plan.checks) for source in group.sources)


def check_list(bench: Bench, verdicts: tuple[Verdict, ...], code: str) -> Listing:
    """Return the findings with one of some verdicts."""
    sources = cited(bench)
    found = [g for g in groups(bench.plan.checks) if g.worst.verdict in verdicts]
    many = any(len(g.others) > MANY for g in found)
    return Listing(
        code=code,
        fields=(
            Field(code="verdict", kind=Kind.VERDICT),
            Field(code="subject", kind=Kind.MARK, most=30.0),
            Field(code="ratio"),
            Field(code="finding", most=220.0),
            Field(code="also", most=110.0 if many else 40.0),
            Field(code="case", most=34.0),
            Field(code="clause", most=44.0),
        ),
        rows=tuple(_row(bench, group, sources) for group in found),
    )


def _row(bench: Bench, group: Group, sources: References) -> tuple[Value, ...]:
    check, figures = group.worst, bench.figures
    said = figures.speaker.check(check)
    return (
        check.verdict,
        figures.subject(check.subject),
        figures.percent(check.ratio) if check.ratio is not None else "–",
        said if check.confirmed else bench.say("sheet.doubted", said=said),
        bench.say("sheet.comma").join(figures.subject(s) for s in group.others),
        _case(bench, check.case),
        sources.cite(group.sources),
    )


def _case(bench: Bench, case: str) -> str:
    return bench.figures.said("case", case) if case else ""


def check_flow(bench: Bench, flow: Flow) -> None:
    """Write the findings, gravest first, and what a second opinion is worth."""
    flow.paragraph(bench.say("notice.second-opinion"), Style(is_bold=True, after=1.0))
    flow.paragraph(bench.say("notice.sound-timber"), Style(after=3.0))
    strength = bench.plan.strength
    flow.paragraph(bench.say(f"sheet-standard.{strength.standard.value}"), Style(after=1.0))
    if not strength.is_complete:
        flow.paragraph(bench.say("sheet.strength-incomplete"), Style(is_bold=True, after=3.0))
    for verdict, code in (
        (Verdict.FAILS, "checks-fail"),
        (Verdict.OUTSIDE_RULE, "checks-outside"),
        (Verdict.NOT_CHECKED, "checks-open"),
        (Verdict.OK, "checks-ok"),
    ):
        listing = check_list(bench, (verdict,), code)
        if listing.rows:
            flow.listing(listing)
    listing = cited(bench).listing()
    if listing.rows:
        flow.listing(listing)


def post_load_list(bench: Bench) -> Listing:
    """Return what each post carries in each load case, in kN, or in lb where lengths are inches."""
    unit, per = _force_unit(bench)
    return Listing(
        code="post-loads",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="case"),
            Field(code=f"force-{unit}", kind=Kind.NUMBER),
        ),
        rows=tuple(
            (load.mark, _case(bench, load.case), round(load.force * per, 2 if unit == "kn" else 0))
            for load in bench.plan.strength.post_loads
        ),
    )


def post_load_brief(bench: Bench) -> Listing:
    """Return what each post carries by itself and at the most, with the load that does it; a row for each post."""
    unit, per = _force_unit(bench)
    digits = 2 if unit == "kn" else 0
    own = {p.mark: p.force for p in bench.plan.strength.post_loads if p.case == "dead"}
    most: dict[Mark, PostLoad] = {}
    for load in bench.plan.strength.post_loads:
        if load.mark not in most or load.force > most[load.mark].force:
            most[load.mark] = load
    return Listing(
        code="post-loads",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code=f"own-{unit}", kind=Kind.NUMBER),
            Field(code=f"most-{unit}", kind=Kind.NUMBER),
            Field(code="case"),
        ),
        rows=tuple(
            (mark, round(own[mark] * per, digits), round(load.force * per, digits), _case(bench, load.case))
            for mark, load in most.items()
            if mark in own
        ),
    )


def _force_unit(bench: Bench) -> tuple[str, float]:
    """Return the unit of the post loads and how many of it make one newton."""
    if not bench.figures.is_inch:
        return "kn", 1e-3
    return measure("N", length_unit="in")


def all_checks(bench: Bench) -> Listing:
    """Return every single finding, for the workbook."""
    sources = cited(bench)
    return Listing(
        code="checks",
        fields=(
            Field(code="verdict", kind=Kind.VERDICT),
            Field(code="subject", kind=Kind.MARK),
            Field(code="demand", kind=Kind.NUMBER),
            Field(code="capacity", kind=Kind.NUMBER),
            Field(code="unit"),
            Field(code="ratio", kind=Kind.NUMBER),
            Field(code="finding"),
            Field(code="case"),
            Field(code="clause"),
            Field(code="confirmed"),
        ),
        rows=tuple(
            (
                c.verdict,
                bench.figures.subject(c.subject),
                c.demand,
                c.capacity,
                c.unit,
                c.ratio,
                bench.figures.speaker.check(c),
                _case(bench, c.case),
                sources.cite((c.source,)),
                "" if c.confirmed else bench.say("sheet.unconfirmed"),
            )
            for c in sorted(bench.plan.checks, key=lambda c: c.verdict.order)
        ),
    )
