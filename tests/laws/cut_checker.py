"""Whether a cutting plan can be sawn, checked with a tape and a price list; knows nothing of how it was made."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import pairwise

NEAR = 1e-6


def problems_of(plan, yard, hand=()):
    """Return what is wrong with a plan, as sentences; ``hand`` are the log's lines of sticks that came."""
    return [
        *_pieces(plan),
        *(p for s in plan.sections for k in s.sticks for p in _stick(plan, s, k, yard, hand)),
        *_supply(plan, yard),
        *_money(plan, yard),
    ]


def _pieces(plan):
    wanted = Counter(p.mark for p in plan.pieces)
    found = Counter(p.mark for p in plan.left_out) + Counter(d.mark for d in plan.done)
    for section in plan.sections:
        for stick in section.sticks:
            found += Counter(m for cut in stick.cuts if not cut.is_done for m in cut.marks)
    if wanted != found:
        yield f"pieces: {wanted - found} are missing, {found - wanted} are too many"


def _given(stick, yard, hand):
    """Return clean ends, bad stretches, flaws and look of a stick as the files tell them."""
    if stick.source == "yard":
        item = next(i for i in yard.stock if i.where == stick.where and stick.length in i.lengths)
        return 0, (), (), item.look, item
    if stick.source == "rack":
        rest = next(r for r in yard.rack if r.where == stick.where and r.length == stick.length)
        return rest.clean_ends, rest.bad, rest.flaws, rest.look, rest
    came = next(line.came for line in hand if line.mark == stick.name)
    return came.clean_ends, came.bad, came.flaws, came.look, came


def _stick(plan, section, stick, yard, hand):
    name = f"{stick.source} {stick.name}{stick.where} {stick.length}"
    clean, bad, flaws, look, told = _given(stick, yard, hand)
    first, last = (0.0 if clean else yard.end_trim), stick.length - (0.0 if clean == 2 else yard.end_trim)
    by_mark = {p.mark: p for p in plan.pieces}
    cuts = sorted(stick.cuts, key=lambda c: c.begin)
    if list(cuts) != list(stick.cuts):
        yield f"{name}: cuts are not in the order of the saw"
    for one, other in pairwise(cuts):
        if other.begin - one.finish < yard.kerf - NEAR:
            yield f"{name}: no room for the saw between {one.mark} and {other.mark}"
    for cut in cuts:
        piece = by_mark[cut.mark]
        if cut.begin < first - NEAR or cut.finish > last + NEAR:
            yield f"{name}: {cut.mark} reaches into an end that is trimmed"
        if not cut.is_done and abs(cut.finish - cut.begin - piece.length) > NEAR:
            yield f"{name}: {cut.mark} is {cut.finish - cut.begin}, wanted {piece.length}"
        if any(a < cut.finish - NEAR and b > cut.begin + NEAR for a, b in bad):
            yield f"{name}: {cut.mark} holds a bad stretch"
        for mark in cut.marks:
            one = by_mark[mark]
            if one.is_clear and any(a < cut.finish - NEAR and b > cut.begin + NEAR for a, b in flaws):
                yield f"{name}: {mark} shows a flaw"
            if look.rank > one.look.rank:
                yield f"{name}: {mark} asks for a better look"
            same = {one.width, one.depth} == {told.width, told.depth} and one.strength_grade == told.strength_grade
            if one.species != told.species or not same:
                yield f"{name}: {mark} is of another wood, grade or section"
        yield from (f"{name}: {said}" for said in _rips(cut, by_mark, yard, max(section.width, section.depth)))


def _rips(cut, by_mark, yard, width):
    widths = [rip.width for rip in cut.rips]
    if widths and sum(widths) + yard.kerf * (len(widths) - 1) > width + NEAR:
        yield f"{cut.marks} are wider than the stick"
    for rip in cut.rips:
        if rip.length > cut.finish - cut.begin + NEAR or rip.width != by_mark[rip.mark].rip_width:
            yield f"{cut.marks} are not what was wanted"


def _supply(plan, yard):
    used = Counter((k.source, k.name, k.where, k.length) for s in plan.sections for k in s.sticks)
    for (source, name, where, length), count in used.items():
        if source == "hand" and count > 1:
            yield f"{name} is used {count} times"
        had = (
            next((r.count for r in yard.rack if r.where == where and r.length == length), None)
            if source == "rack"
            else None
        )
        if source == "yard":
            had = next(i.available for i in yard.stock if i.where == where and length in i.lengths)
        if had is not None and count > had:
            yield f"{where}: {count} used, {had} there"


def _money(plan, yard):
    for section in plan.sections:
        paid = sum((k.cost_low - k.kept_worth for k in section.sticks), Decimal(0))
        if paid != section.cost:
            yield f"a section costs {section.cost}, its sticks {paid}"
        if section.bound > section.cost or (section.is_proved and section.bound != section.cost):
            yield f"bound {section.bound}, cost {section.cost}, proved {section.is_proved}"
        for stick in section.sticks:
            if any(b - a < yard.keep - NEAR for a, b in stick.kept) or (stick.kept_worth and not stick.kept):
                yield f"an offcut under {yard.keep} is kept, or counts for {stick.kept_worth}"
