"""One question about cutting: of a job with its shop and log, or of two plain lists; facts are written down first."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal, InvalidOperation

from evenfoot.cutting import pieces_listed, plan_cuts, timber_facts, told, with_spares
from evenfoot.errors import Fault, OutOfRangeError, at
from evenfoot.job import Yard, files, kinds, read_shop
from evenfoot.office.actions import Request, reckon, speaker_for
from evenfoot.office.answers import SHORTFALLS, findings_in
from evenfoot.office.cutting.asked import CutAsked
from evenfoot.office.cutting.facts import note_facts
from evenfoot.office.cutting.lines import CutWords, detail_lines, first_lines
from evenfoot.office.record import record_of
from evenfoot.office.setting import Answer
from evenfoot.units import parse_length
from evenfoot.words import Speaker


def cut(asked: CutAsked, *, on_stage: Callable[[str], None] | None = None) -> Answer:
    """Return the cutting plan that was asked for, in words and as plain data; not fine when it is not proved the best.

    ``on_stage`` is told the name of each stage before it starts.

    Raises: JobFileError with all faults of the files; OutOfRangeError for what was typed.
    """
    return _of_job(asked, on_stage) if asked.job is not None else _of_lists(asked)


def _of_job(asked: CutAsked, on_stage: Callable[[str], None] | None) -> Answer:
    assert asked.job is not None
    log = asked.log if asked.log is not None else asked.job.parent / "log.jsonl"
    request = Request(job=asked.job, shop=asked.shop, log=log)
    plan = reckon(request, on_stage=on_stage)
    if asked.came is not None or asked.sawn or asked.gone:
        note_facts(asked, plan, log)
        plan = reckon(request, on_stage=on_stage)
    cutting = plan.cutting
    if asked.nodes is not None:
        cutting = plan_cuts(cutting.pieces, plan.yard, timber_facts(plan.log), asked.nodes)
    words = CutWords(
        name=plan.job.name,
        plan=cutting,
        kerf=plan.yard.kerf,
        trim=plan.yard.end_trim,
        keep=plan.yard.keep,
        currency=plan.shop.currency,
        has_prices=True,
        speaker=speaker_for(plan, asked.language),
    )
    return _answer(words)


def _of_lists(asked: CutAsked) -> Answer:
    assert asked.pieces is not None
    assert asked.sticks is not None
    unit = asked.unit or "mm"
    shop = read_shop(asked.shop)
    saw = Yard(
        stock=(),
        rack=(),
        kerf=_length(asked.kerf, "--kerf", unit, most=20.0, otherwise=shop.kerf),
        end_trim=_length(asked.trim, "--trim", unit, most=500.0, otherwise=shop.end_trim),
        keep=_length(asked.keep, "--keep", unit, most=10_000.0, otherwise=shop.keep),
        keep_worth=_share(asked.worth, otherwise=shop.keep_worth),
        goals=tuple(kinds.CutGoal(goal) for goal in asked.goals) or shop.goals,
        together=tuple(kinds.Part(part) for part in asked.together),
    )
    wanted = files.read_cut_list(asked.pieces, asked.sticks, unit=unit, saw=saw)
    pieces = with_spares(pieces_listed(wanted.pieces), tuple(_spare(text) for text in asked.spares))
    words = CutWords(
        name=asked.pieces.stem,
        plan=plan_cuts(pieces, wanted.yard, wanted.facts, asked.nodes),
        kerf=saw.kerf,
        trim=saw.end_trim,
        keep=saw.keep,
        currency="" if asked.shop is None else shop.currency,
        has_prices=wanted.has_prices,
        speaker=Speaker(asked.language, {"in": "ft", "cm": "mm"}.get(unit, unit)),
    )
    return _answer(words)


def _answer(words: CutWords) -> Answer:
    plan = words.plan
    findings = findings_in(plan.checks, words.speaker)
    tally = told.tally(plan.sections)
    is_fine = tally.is_proved and not plan.left_out and not any(f.verdict in SHORTFALLS for f in findings)
    return Answer(
        what="cut",
        lines=first_lines(words),
        detail=(*detail_lines(words), *(("", *(f"{f.text}" for f in findings)) if findings else ())),
        record=_record(words, tally) | {"findings": [record_of(finding) for finding in findings]},
        is_fine=is_fine,
    )


def _record(words: CutWords, tally: told.Tally) -> dict[str, object]:
    plan = words.plan
    return {
        "name": words.name,
        "is_proved": tally.is_proved,
        "proof": words.proof(tally),
        "currency": words.currency,
        "has_prices": words.has_prices,
        "kerf_mm": words.kerf,
        "trim_mm": words.trim,
        "keep_mm": words.keep,
        "tally": _tally(tally),
        "order": [record_of(line) for line in told.bought(plan.sections)],
        "sections": [record_of(section) for section in plan.sections],
        "left_out": [record_of(piece) for piece in plan.left_out],
        "done": [record_of(piece) for piece in plan.done],
        "idle": [record_of(stick) for stick in plan.idle],
    }


def _tally(tally: told.Tally) -> dict[str, object]:
    return {
        "sticks": tally.sticks,
        "price_low": str(tally.price_low),
        "price_high": str(tally.price_high),
        "cost": str(tally.cost),
        "bound": str(tally.bound),
        "gap": str(tally.gap),
        "gap_sticks": tally.gap_sticks,
        "kept_worth": str(tally.kept_worth),
        "pieces_mm": tally.net_length,
        "taken_mm": tally.bought_length,
        "kept_mm": tally.kept_length,
        "waste_mm": tally.waste_length,
        "waste_share": tally.waste_share,
        "waste_cost": str(tally.waste_cost),
    }


def _length(text: str, where: str, unit: str, *, most: float, otherwise: float) -> float:
    if not text:
        return otherwise
    with at(where):
        mm = float(parse_length(text, unit=unit))
        if not 0 <= mm <= most:
            code, near = ("too-small", 0.0) if mm < 0 else ("too-large", most)
            fault = Fault(where="", code=code, found=text, allowed=f"0 … {most:g} mm", nearest=f"{near:g} mm")
            raise OutOfRangeError(fault)
    return mm


def _share(text: str, *, otherwise: Decimal) -> Decimal:
    if not text:
        return otherwise
    try:
        share = Decimal(text.removesuffix("%")) / (100 if text.endswith("%") else 1)
    except InvalidOperation:
        raise OutOfRangeError(Fault(where="--worth", code="not-a-figure", found=text)) from None
    if not 0 <= share <= MOST_WORTH:
        near = "0" if share < 0 else str(MOST_WORTH)
        code = "too-small" if share < 0 else "too-large"
        raise OutOfRangeError(Fault(where="--worth", code=code, found=text, allowed=f"0 … {MOST_WORTH}", nearest=near))
    return share


MOST_WORTH = Decimal("0.9")


def _spare(text: str) -> tuple[str, int]:
    """Return the part and the number of spares in ``board=2``."""
    part, _, count = text.partition("=")
    words = (*(one.value for one in kinds.Part), "piece")
    if part not in words or not count.isdecimal() or int(count) > 100:
        allowed = ", ".join(f"{one}=1" for one in words)
        raise OutOfRangeError(
            Fault(where="--spare", code="not-a-choice", found=text, allowed=allowed, nearest=f"{words[0]}=1")
        )
    return part, int(count)
