"""The cutting sheet as it hangs in the shop: what is bad, sawn, ripped, left out and idle; and what the order comes to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evenfoot.cutting import plan_cuts, with_spares
from evenfoot.ink import Pen, Text
from evenfoot.job import LogLine, files
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.drafting.paper import paper_named
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.flow import Flow
from evenfoot.sheets.parts import lists, sawing
from evenfoot.words import Language, Speaker

SUGI = {"species": "sugi", "look": "square-edged", "strength_grade": "ungraded", "width": 105.0, "depth": 105.0}


def line(what, mark, value, *, stick="", **came):
    from evenfoot.job import kinds

    told = {**SUGI, **came}
    given = files.CameStick(**{**told, "look": kinds.Look(told["look"])}) if what == "stick" else None
    return LogLine(
        time="", what=what, mark=mark, x=None, y=None, value=value, accuracy=None, where="", stick=stick, came=given
    )


@pytest.fixture
def cut(plan_of):
    """Return the terrace with two sticks in hand, a sawn piece, a slip, a ripped pair, a spare and a piece too long."""
    plan = plan_of("library-terrace")
    pieces = list(plan.cutting.pieces)
    boards = [n for n, p in enumerate(pieces) if p.use == "board"]
    for n in boards[:2]:
        pieces[n] = replace(pieces[n], rip_width=45.5)
    beam = next(n for n, p in enumerate(pieces) if p.mark == "C1-4")
    pieces[beam] = replace(pieces[beam], length=7200.0)
    facts = [
        line("stick", "k1", 4012.0, bad=((800.0, 950.0),), flaws=((3000.0, 3050.0),)),
        line("stick", "k2", 6010.0),
        line("stick", "k3", 900.0),
        line("sawn", "A1-4", 2697.5, stick="k2"),
        line("sawn", "B1-4", 2660.0, stick="k2"),
    ]
    cutting = plan_cuts(with_spares(pieces, (("board", 1),)), plan.yard, facts)
    return replace(plan, cutting=cutting)


def bench_of(plan, language):
    figures = Figures(speaker=Speaker(Language(language), plan.job.unit.value))
    return Bench(plan=plan, figures=figures, area=paper_named("A3").body)


def shapes_of(plan, language):
    bench = bench_of(plan, language)
    flow = Flow(bench.area, bench.figures, columns=sawing.columns_of(bench))
    sawing.sawing_flow(bench, flow, sawing.scale_for(bench))
    return [shape for page in flow.pages for shape in page]


@pytest.mark.parametrize(
    ("language", "words"),
    [
        (
            "en",
            ["k1", "k2", "A1-4 (sawn)  2697.5", "45.5", "On no stick: 1 pieces", "7200: C1-4", "spare 1", "planed to"],
        ),
        (
            "ja",
            [
                "k1",
                "k2",
                "い1-4（済）  2697.5",
                "45.5",
                "どの材からも取れない部材：1本",
                "7200：は1-4",
                "予備1",
                "挽き立て",
            ],
        ),
    ],
)
def test_the_cutting_sheet_tells_all_that_matters_at_the_saw(cut, language, words):
    texts = " ".join(shape.text for shape in shapes_of(cut, language) if isinstance(shape, Text))
    assert [word for word in words if word not in texts] == []


def test_bad_stretches_are_hatched_and_nothing_is_hatched_without_one(cut, plan_of):
    hatched = [s for s in shapes_of(cut, "en") if getattr(s, "layer", "") == "bad"]
    assert hatched
    assert all(shape.pen is Pen.ALARM for shape in hatched)
    assert not [s for s in shapes_of(plan_of("library-terrace"), "en") if getattr(s, "layer", "") == "bad"]


def test_every_piece_to_saw_is_on_the_sheet_once(cut):
    drawn = [
        s.member for s in shapes_of(cut, "en") if getattr(s, "layer", "") == "piece" and getattr(s, "points", None)
    ]
    firsts = [c.mark for section in cut.cutting.sections for k in section.sticks for c in k.cuts]
    assert set(drawn) <= {*firsts, *(c.mark for k in cut.cutting.idle for c in k.cuts)}
    listed = [row[5] for row in sawing.stick_list(bench_of(cut, "en")).rows]
    left_out, done = {p.mark for p in cut.cutting.left_out}, {d.mark for d in cut.cutting.done}
    wanted = [p.mark for p in cut.cutting.pieces if p.mark not in left_out | done]
    assert sorted(m for m in listed if m not in done) == sorted(wanted)


@pytest.mark.parametrize("language", ["en", "ja"])
def test_the_order_tells_spares_waste_bound_and_proof(cut, language):
    rows = dict(lists.order_told(bench_of(cut, language)).rows)
    speaker = Speaker(Language(language))
    assert speaker.mark("spare1") in rows[speaker.say("sheet-order.spares")]
    assert "%" in rows[speaker.say("sheet-order.waste")]
    assert "JPY" in rows[speaker.say("sheet-order.bound")]
    assert rows[speaker.say("sheet-order.proof")] == speaker.say("cut.proved-best")
    assert rows[speaker.say("sheet-order.left-out")] == "1"
