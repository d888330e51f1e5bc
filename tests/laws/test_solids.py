"""Laws of the solids: on any floor nothing overlaps, volumes are what plain geometry says, files hold the same things."""

from __future__ import annotations

import csv
import importlib.util
import pickle
from dataclasses import replace
from io import BytesIO, StringIO
from pathlib import Path
from xml.etree import ElementTree as ET

import openpyxl
import pytest

from evenfoot.ink import flat
from evenfoot.job import read_log, read_shop
from evenfoot.job.files import parse_job
from evenfoot.joints import CutKind
from evenfoot.plan import Memory, make_plan, standing
from evenfoot.press import csv_of, dxf_of, svg_of, workbook_of
from evenfoot.sheets import NAMES, drawing, drawings, tables
from evenfoot.words import Language, Speaker

SPEC = importlib.util.spec_from_file_location("laws_of_sheets", Path(__file__).parent / "test_sheets.py")
assert SPEC is not None
sheets = importlib.util.module_from_spec(SPEC)
assert SPEC.loader is not None
SPEC.loader.exec_module(sheets)


def random_plan(seed):
    job = parse_job(sheets.random_job(seed))
    return make_plan(job, read_shop(None, standard=job.standard), read_log(None))


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(10))
def test_nothing_overlaps_and_no_wood_is_lost_on_any_floor(seed):
    plan = random_plan(seed)
    # Footings of posts that stand close run together into one; everything else keeps its own room.
    things = [t for t in standing(plan) if t.thing != "footing"]
    told = {(c.subject, dict(c.facts)["other"]) for c in plan.checks if c.rule == "posts-apart"}
    boxes = [t.solid.bounds for t in things]
    for i, (low, high) in enumerate(boxes):
        for j in range(i):
            other_low, other_high = boxes[j]
            if all(low[k] < other_high[k] - 1e-6 and other_low[k] < high[k] - 1e-6 for k in range(3)):
                shared = things[i].solid.shared_with(things[j].solid).volume
                # Posts that an obstacle drove into each other are told by the frame, never passed over.
                is_told = (things[i].mark, things[j].mark) in told
                assert shared < 1.0 or is_told, (things[i].mark, things[j].mark)
    members = {m.mark: m for m in plan.frame.members}
    for thing in things:
        if thing.thing in {"beam", "joist", "block"}:
            m = members[thing.mark]
            left = m.width * m.depth * m.length
            for cut in plan.joinery.cuts_on(m.mark):
                if cut.kind is CutKind.LAP:
                    left -= (cut.finish - cut.begin) * cut.depth * m.width
                elif cut.kind is CutKind.HOUSING:
                    left -= (cut.finish - cut.begin) * cut.depth * cut.height
            assert thing.solid.volume == pytest.approx(left, rel=1e-9)
        if thing.thing == "post":
            # A head that leans about the axis takes as much on one side as it leaves on the other.
            assert thing.solid.volume == pytest.approx(thing.width * thing.depth * thing.length, rel=1e-9)


@pytest.mark.slow
def test_drawings_hold_the_same_texts_in_every_kind_of_file():
    import ezdxf

    plan = random_plan(3)
    pages = drawings(plan, Speaker(Language.JAPANESE, "mm"), "A3")
    for page in pages:
        if page.scale <= 0.0:
            continue
        told = sorted(s.text for s in flat(page) if hasattr(s, "text") and s.text)
        svg = sorted(t.text for t in ET.fromstring(svg_of(page)).iter("{http://www.w3.org/2000/svg}text"))
        space = ezdxf.read(StringIO(dxf_of(page).decode())).modelspace()
        dxf = sorted([e.dxf.text for e in space.query("TEXT")] + [e.dxf.text for e in space.query("DIMENSION")])
        assert svg == told, page.code
        assert dxf == told, page.code


def test_lists_hold_the_same_rows_in_both_kinds_of_file():
    listed = tables(random_plan(0), Speaker(Language.ENGLISH, "mm"))
    book = openpyxl.load_workbook(BytesIO(workbook_of(listed)))
    for table, name in zip(listed, book.sheetnames, strict=True):
        sheet = [[c.value for c in row] for row in book[name].iter_rows()]
        plain = list(csv.reader(StringIO(csv_of(table).decode("utf-8-sig"), newline="")))
        assert len(sheet) == len(plain) == len(table.rows) + 1
        for row, line in zip(sheet, plain, strict=True):
            for cell, text in zip(row, line, strict=True):
                if isinstance(cell, int | float):
                    assert float(text) == pytest.approx(cell, abs=5e-4)
                else:
                    assert text.removeprefix("'") == (cell or "").removeprefix("'")


@pytest.mark.slow
@pytest.mark.parametrize("seed", [0, 7])
def test_one_sheet_alone_is_the_same_drawing_as_in_the_set(seed):
    job = parse_job(sheets.random_job(seed))
    shop, log, memory = read_shop(None, standard=job.standard), read_log(None), Memory()
    plan, speaker = make_plan(job, shop, log, memory=memory), Speaker(Language.ENGLISH, "mm")
    whole = {page.code: page for page in drawings(plan, speaker, "A3")}
    seen = {"cover"}
    for name in NAMES:
        # A plan made anew has worked out none of its solids; the plan of the whole set has, for other sheets.
        anew = make_plan(job, shop, log, memory=memory)
        for page, again in zip(drawing(anew, speaker, "A3", name), drawing(plan, speaker, "A3", name), strict=True):
            seen.add(page.code)
            inner, held = (
                [s for s in one.shapes if s.layer not in {"title", "foot", "match"}] for one in (page, whole[page.code])
            )
            assert inner == held, page.code
            assert again == page
    assert seen == set(whole)


def test_solids_of_a_plan_are_worked_out_once_and_for_each_plan_anew():
    plan = random_plan(0)
    assert standing(plan) is standing(plan)
    other = replace(plan)
    assert other == plan
    assert standing(other) is not standing(plan)
    sent = pickle.loads(pickle.dumps(plan))
    assert [t.mark for t in standing(sent)] == [t.mark for t in standing(plan)]
