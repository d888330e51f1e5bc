"""A cutting plan in words: three lines first, then what to buy, then every stick as a bar."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from evenfoot.cutting import CuttingPlan, PlacedCut, SectionPlan, Stick, told
from evenfoot.office.cutting.bars import BAD, DONE, FLAW, KEPT, PIECE, Part, bar, columns, in_a_row, wrapped
from evenfoot.words import Speaker

MARKS_WIDE = 96
"""Columns that a row of marks takes at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutWords:
    """A plan and the way to tell it; ``currency`` is empty where none is known, ``has_prices`` False without prices."""

    name: str
    plan: CuttingPlan
    kerf: float
    trim: float
    keep: float
    currency: str
    has_prices: bool
    speaker: Speaker

    def money(self, amount: Decimal) -> str:
        """Return an amount with its currency."""
        return f"{amount:,.2f} {self.currency}".replace(".00 ", " ").removesuffix(".00").strip()

    def said(self, group: str, name: str) -> str:
        """Return the words of a code, or what a person typed."""
        code = f"{group}.{name}"
        return self.speaker.say(code) if self.speaker.knows(code) else name

    def proof(self, tally: told.Tally) -> str:
        """Return whether a plan is the best there is, or what a better one could save at most."""
        if not tally.is_proved and not self.has_prices:
            return self.speaker.say("cut.gap-length", gap_mm=float(tally.gap) * 1000.0)
        proof = told.proof_of(tally)
        return self.speaker.say(proof.code, gap=self.money(proof.gap), percent=proof.percent, count=proof.sticks)


def first_lines(words: CutWords) -> tuple[str, ...]:
    """Return what is so, what is lost, and what was reckoned with."""
    plan, speaker = words.plan, words.speaker
    tally = told.tally(plan.sections)
    code = "cut.first" if words.has_prices else "cut.first-no-price"
    first = speaker.say(
        code,
        name=words.name,
        pieces=len(plan.pieces) - len(plan.left_out),
        done=len(plan.done),
        sticks=tally.sticks,
        price=words.money(tally.price_low),
        proof=words.proof(tally),
    )
    second = speaker.say(
        "cut.waste" if words.has_prices else "cut.waste-no-price",
        percent=f"{tally.waste_share * 100:.1f}",
        waste_mm=tally.waste_length,
        money=words.money(tally.waste_cost),
        kept_mm=tally.kept_length,
    )
    if plan.left_out:
        second = " ".join((speaker.say("cut.left-out", count=len(plan.left_out), marks=_marks(words)), second))
    third = speaker.say("cut.reckoned-with", kerf_mm=words.kerf, trim_mm=words.trim, keep_mm=words.keep)
    return first, second, third


def _marks(words: CutWords) -> str:
    marks = tuple(dict.fromkeys(words.speaker.mark(piece.mark) for piece in words.plan.left_out))
    some = ", ".join(marks[:8])
    return some if len(marks) <= 8 else f"{some} …"


def detail_lines(words: CutWords) -> list[str]:
    """Return what to buy, then every section with its sticks."""
    lines = [words.speaker.say("cut.order")]
    lines += [
        f"  {line}"
        for line in columns([_order_row(words, line) for line in told.bought(words.plan.sections)], right=(0, 4, 5))
    ]
    spares = sum(piece.is_spare for piece in words.plan.pieces)
    if spares:
        lines.append("  " + words.speaker.say("cut.spares-counted", count=spares))
    longest = max((s.length for section in words.plan.sections for s in section.sticks), default=1.0)
    for section in words.plan.sections:
        lines += ["", *_section(words, section, longest)]
    if words.plan.idle:
        lines += ["", words.speaker.say("cut.idle-heading")]
        longest = max(longest, *(s.length for s in words.plan.idle))
        lines += [line for stick in words.plan.idle for line in _stick(words, [stick], longest)]
    return lines


def _order_row(words: CutWords, line: told.Bought) -> tuple[str, ...]:
    length = words.speaker.length
    section = f"{length(line.section[0])} × {length(line.section[1])}" if any(line.section) else ""
    count = {"m": f"{line.amount:.2f} m", "m3": f"{line.amount:.4f} m³"}.get(line.unit, "")
    names = dict.fromkeys((line.label, words.said("species", line.species)))
    return (
        f"{line.quantity} × {length(line.length)}",
        " ".join(name for name in names if name),
        section,
        words.said("sheet-look", line.look.value),
        count,
        words.money(line.low) if words.has_prices and line.kind != "hand" else "",
        "" if line.kind == "yard" else words.speaker.say(f"sheet-source.{line.kind}"),
    )


def _section(words: CutWords, section: SectionPlan, longest: float) -> Iterator[str]:
    speaker = words.speaker
    tally = told.tally((section,))
    length = speaker.length
    sizes = f"{length(section.width)} × {length(section.depth)}" if section.width or section.depth else ""
    sawn = (section.rough_width, section.rough_depth)
    if sizes and sawn != (section.width, section.depth):
        sizes = speaker.say("cut.sawn-and-planed", planed=sizes, sawn=f"{length(sawn[0])} × {length(sawn[1])}")
    names = dict.fromkeys((section.label, words.said("species", section.species)))
    head = (*(n for n in names if n), sizes, words.said("sheet-look", section.look.value))
    yield speaker.say("cut.comma").join(part for part in head if part)
    yield "  " + speaker.say(
        "cut.section", sticks=len(section.sticks), percent=f"{tally.waste_share * 100:.1f}", proof=words.proof(tally)
    )
    groups: dict[object, list[Stick]] = {}
    for stick in section.sticks:
        places = tuple((round(c.begin * 2), round(c.finish * 2), c.is_done) for c in stick.cuts)
        groups.setdefault((stick.source, stick.name, stick.length, places), []).append(stick)
    for sticks in groups.values():
        yield from _stick(words, sticks, longest)


def _stick(words: CutWords, sticks: Sequence[Stick], longest: float) -> Iterator[str]:
    """Yield the bar of sticks that are sawn alike, where to saw, how long the pieces are, and their marks."""
    speaker, first = words.speaker, sticks[0]
    source = speaker.say(f"sheet-source.{first.source}")
    named = first.where if first.source == "rack" else first.name
    yield f"  {len(sticks)} × {speaker.length(first.length)}  {source} {named}".rstrip()
    marks = Counter(" + ".join(_marked(words, cut) for cut in stick.cuts) for stick in sticks)
    parts = [
        *(Part(begin=a, finish=b, fill=KEPT, text=speaker.say("cut.keep", length_mm=b - a)) for a, b in first.kept),
        *(Part(begin=a, finish=b, fill=FLAW) for a, b in first.flaws),
        *(Part(begin=a, finish=b, fill=BAD) for a, b in first.bad),
        *(_piece(words, cut, is_marked=len(marks) == 1) for cut in first.cuts),
    ]
    yield f"    {bar(parts, length=first.length, longest=longest)}"
    places = _places(first.cuts)
    if places:
        yield "    " + speaker.say("cut.saw-at", places=in_a_row(places, speaker))
    if first.cuts:
        lengths = in_a_row([cut.finish - cut.begin for cut in first.cuts], speaker)
        yield "    " + speaker.say("cut.lengths", lengths=lengths)
    told_marks = [said if count == 1 or len(marks) == 1 else f"{count} × {said}" for said, count in marks.items()]
    yield from (f"    {line}" for line in wrapped(told_marks, " / ", MARKS_WIDE))


def _places(cuts: Sequence[PlacedCut]) -> list[float]:
    """Return where the saw is set: the near end of a piece that begins a clear run, and the far end of each piece."""
    places: list[float] = []
    for n, cut in enumerate(cuts):
        is_apart = n == 0 or cut.begin - cuts[n - 1].finish > 20.5  # wider than any kerf: a bad stretch lies between
        if not cut.is_done:
            places += [cut.begin, cut.finish] if is_apart and cut.begin > 0 else [cut.finish]
    return places


def _piece(words: CutWords, cut: PlacedCut, *, is_marked: bool) -> Part:
    """Return a piece of a bar: its mark, or its length where sticks alike hold different pieces."""
    speaker = words.speaker
    text = "/".join(speaker.mark(mark) for mark in cut.marks) if is_marked else speaker.length(cut.finish - cut.begin)
    return Part(begin=cut.begin, finish=cut.finish, fill=DONE if cut.is_done else PIECE, text=text, is_piece=True)


def _marked(words: CutWords, cut: PlacedCut) -> str:
    """Return what is written on a piece, the widths of those that are ripped, and whether it is sawn already."""
    speaker = words.speaker
    said = speaker.mark(cut.mark)
    if cut.rips:
        sizes = (f"{speaker.mark(r.mark)} {speaker.length(r.length)} × {speaker.length(r.width)}" for r in cut.rips)
        said = speaker.say("cut.ripped", rips=" | ".join(sizes))
    return speaker.say("cut.is-sawn", piece=said) if cut.is_done else said
