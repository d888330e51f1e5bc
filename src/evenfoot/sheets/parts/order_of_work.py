"""The order of work: how the frame goes together, the steps with their days and drying, cautions and upkeep."""

from __future__ import annotations

from evenfoot.ink import Column, Table
from evenfoot.joints import Step
from evenfoot.programme import WorkStep
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.lists.flow import Flow, Style
from evenfoot.sheets.lists.listing import Field, Kind, Listing, Value


def assembly_list(bench: Bench) -> Listing:
    """Return the steps of putting the frame together by hand."""
    return Listing(
        code="assembly",
        fields=(Field(code="number", kind=Kind.COUNT), Field(code="how")),
        rows=tuple((s.number, assembly_words(bench, s)) for s in bench.plan.joinery.steps),
    )


def assembly_words(bench: Bench, step: Step) -> str:
    """Return what is done in a step of assembly, and the play that it needs."""
    said = bench.say(f"assembly.{step.how}", marks=bench.figures.marks(tuple(step.marks)))
    if step.play <= 0.0:
        return said
    return bench.say("sheet.tilt-play", said=said, play=bench.figures.speaker.length(max(step.play, 0.5)))


def step_list(bench: Bench) -> Listing:
    """Return the steps of the whole work."""
    return Listing(
        code="steps",
        fields=(
            Field(code="number", kind=Kind.COUNT),
            Field(code="step", most=130.0),
            Field(code="days"),
            Field(code="dates"),
            Field(code="hours", kind=Kind.NUMBER),
            Field(code="wait", kind=Kind.NUMBER),
            Field(code="after"),
            Field(code="marks"),
        ),
        rows=tuple(_step(bench, step) for step in bench.plan.programme.steps),
    )


def _step(bench: Bench, step: WorkStep) -> tuple[Value, ...]:
    days = str(step.day_from) if step.day_from == step.day_to else f"{step.day_from} – {step.day_to}"
    dates = ""
    if step.date_from is not None and step.date_to is not None:
        first, last = bench.figures.day(step.date_from), bench.figures.day(step.date_to)
        dates = first if first == last else f"{first} – {last}"
    return (
        step.number,
        step_words(bench, step),
        days,
        dates,
        round(step.hours, 1) or None,
        round(step.wait_hours, 1) or None,
        bench.say("sheet.comma").join(str(n) for n in step.after),
        "" if step.how else bench.figures.some(step.marks),
    )


def calendar_table(bench: Bench) -> Table:
    """Return the dated steps for a calendar file: what is done, first and last day, hours, cautions."""
    say = bench.say
    rows = tuple(
        (
            step_words(bench, step),
            step.date_from.isoformat(),
            step.date_to.isoformat(),
            round(step.hours, 1) or None,
            " ".join(say(f"caution.{code}") for code in step.cautions),
        )
        for step in bench.plan.programme.steps
        if step.date_from is not None and step.date_to is not None
    )
    columns = (
        Column(title=say("sheet-field.step")),
        Column(title=say("sheet-field.date-from"), kind="date"),
        Column(title=say("sheet-field.date-to"), kind="date"),
        Column(title=say("sheet-field.hours"), kind="number"),
        Column(title=say("sheet-field.caution")),
    )
    return Table(code="calendar", title=say("sheet-table.calendar"), columns=columns, rows=rows)


def step_words(bench: Bench, step: WorkStep) -> str:
    """Return what is done in a step; putting the frame together says how, and with which timbers."""
    said = bench.say(f"step.{step.step}")
    if not step.how:
        return said
    how = bench.say(f"assembly.{step.how}", marks=bench.figures.marks(step.marks))
    return bench.say("sheet.step-how", step=said, how=how)


def caution_list(bench: Bench) -> Listing:
    """Return every caution with the steps that it belongs to."""
    codes = dict.fromkeys(c for step in bench.plan.programme.steps for c in step.cautions)
    return Listing(
        code="cautions",
        fields=(Field(code="steps"), Field(code="caution")),
        rows=tuple(
            (
                bench.say("sheet.comma").join(str(s.number) for s in bench.plan.programme.steps if code in s.cautions),
                bench.say(f"caution.{code}"),
            )
            for code in codes
        ),
    )


def upkeep_list(bench: Bench) -> Listing:
    """Return what to look after, and after how many years."""
    return Listing(
        code="upkeep",
        fields=(Field(code="what"), Field(code="years")),
        rows=tuple(
            (bench.say(f"upkeep.{u.what}"), bench.figures.range(u.years_low, u.years_high))
            for u in bench.plan.programme.upkeep
        ),
    )


def exposure_list(bench: Bench) -> Listing:
    """Return the details that rot first, the worst first; what would help stands with the checks."""
    figures = bench.figures
    worst = sorted(bench.plan.timber.exposures, key=lambda e: -e.ratio)
    return Listing(
        code="decay",
        fields=(
            Field(code="detail"),
            Field(code="species"),
            Field(code="exposure", kind=Kind.NUMBER),
        ),
        rows=tuple(
            (
                figures.said("detail", e.detail),
                figures.said("species", e.species),
                round(e.ratio, 2),
            )
            for e in worst
        ),
    )


def work_flow(bench: Bench, flow: Flow) -> None:
    """Write the order of assembly, the steps, the cautions and the upkeep."""
    flow.listing(assembly_list(bench))
    flow.listing(step_list(bench))
    flow.paragraph(bench.say("sheet.days-total", days=bench.plan.programme.days), Style(is_bold=True, after=3.0))
    flow.listing(caution_list(bench))
    flow.listing(upkeep_list(bench))
    if bench.plan.timber.exposures:
        flow.listing(exposure_list(bench))
