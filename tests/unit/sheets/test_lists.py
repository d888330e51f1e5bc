"""Lists, figures and wrapped texts: what is written on a sheet and what goes into the workbook."""

import re
from decimal import Decimal
from io import BytesIO

import openpyxl
import pytest

from evenfoot.checks import Check, Verdict
from evenfoot.ink import Text, text_width
from evenfoot.ink.expand import flat
from evenfoot.plan import source_titles
from evenfoot.press import workbook_of
from evenfoot.sheets import tables
from evenfoot.sheets.drafting.paper import Area
from evenfoot.sheets.figures import Figures
from evenfoot.sheets.lists.flow import Flow, columns_for
from evenfoot.sheets.lists.listing import Field, Kind, Listing, written
from evenfoot.sheets.lists.wrap import wrap
from evenfoot.sheets.parts.findings import groups
from evenfoot.sheets.parts.sources import references
from evenfoot.words import Language, Speaker

MM, FT = Figures(speaker=Speaker()), Figures(speaker=Speaker(unit="ft"))


@pytest.mark.parametrize(
    ("sigma", "said"),
    [(0.0, "± 0"), (0.255, "± 0.5"), (0.256, "± 1"), (1.0, "± 2"), (1.2755, "± 2.5"), (1.2756, "± 3")],
)
def test_uncertainty_is_nineteen_in_twenty_and_never_rounded_down(sigma, said):
    assert MM.spread(sigma) == said


@pytest.mark.parametrize(("ratio", "said"), [(0.5, "50 %"), (1.0, "100 %"), (1.002, "101 %"), (0.991, "100 %")])
def test_a_ratio_just_over_one_never_reads_as_a_hundred(ratio, said):
    assert MM.percent(ratio) == said


@pytest.mark.parametrize(("mm", "said"), [(412.26, "412.5"), (412.24, "412"), (-3.0, "-3"), (0.0, "0")])
def test_lengths_stand_bare_to_half_a_millimetre(mm, said):
    assert MM.length(mm) == said


def test_levels_carry_their_sign():
    assert [MM.level(v) for v in (12.5, 0.0, -443.0)] == ["+12.5", "0", "-443"]


def test_cut_lengths_in_inches_are_finer_than_others():
    assert FT.length(100.0) == '3 15/16"'
    assert FT.cut(100.8) == '3 31/32"'


def test_money_names_its_currency_and_shows_a_range():
    assert MM.money(Decimal("1234.5"), Decimal(1300), "EUR") == "1,234.50 – 1,300.00 EUR"
    assert MM.money(Decimal(12000), Decimal(12000), "JPY") == "12,000 JPY"


def test_many_marks_are_named_by_first_last_and_count():
    marks = tuple(f"b{k}.1" for k in range(1, 31))
    assert MM.some(marks) == "b1.1 to b30.1 (30)"
    assert MM.some(("A1", "A2")) == "A1, A2"


@pytest.mark.parametrize("width", [20.0, 37.0, 80.0])
@pytest.mark.parametrize(
    "text",
    [
        "A1-6, end at A1: cut 52.5 mm deep into its underside, 52.5 mm left.",
        "端部の相欠き（深さ52.5 mm）は、規準の範囲を超えます。束を両方の材の下に立ててください。",
        "averyveryverylongwordthatdoesnotfitanywhereatall",
    ],
)
def test_wrapped_lines_fit_and_lose_nothing(text, width):
    lines = wrap(text, width, 3.3)
    assert max(text_width(line, 3.3) for line in lines) <= width
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_a_japanese_line_never_begins_with_a_closing_sign():
    text = "束の足元、土台、大引、根太（欠込み）を、順に、確かめる。" * 4
    for width in range(14, 60):
        assert not [line for line in wrap(text, float(width), 3.3) if line[0] in "、。）"]


LISTING = Listing(
    code="posts",
    fields=(
        Field(code="mark", kind=Kind.MARK),
        Field(code="cut-length", kind=Kind.KEY),
        Field(code="basis"),
        Field(code="count", kind=Kind.COUNT),
    ),
    rows=(("A1", 412.5, "", 1200), ("B1", 398.24, "", None)),
)


def test_an_empty_column_is_left_out_on_the_sheet_and_kept_in_the_workbook():
    assert [f.code for f in LISTING.trimmed().fields] == ["mark", "cut-length", "count"]
    assert len(LISTING.table(MM).columns) == 4


def test_a_list_is_written_and_stored_from_the_same_rows():
    assert LISTING.cells(LISTING.rows[0], MM) == ("A1", "412.5", "", "1,200")
    table = LISTING.table(FT)
    assert [c.title for c in table.columns] == ["mark", "cut length", "cut length mm", "length from", "count"]
    assert table.rows[0] == ("A1", "1' 4 1/4\"", 412.5, "", 1200.0)
    assert LISTING.table(MM).rows[1] == ("B1", 398.24, "", None)


def test_a_long_list_runs_on_with_its_headings_again():
    many = Listing(code="posts", fields=LISTING.fields, rows=tuple((f"A{k}", 400.0 + k, "", k) for k in range(200)))
    flow = Flow(Area(left=10.0, top=20.0, right=200.0, bottom=250.0), MM)
    flow.listing(many)
    assert len(flow.pages) > 2
    texts = [[s.text for s in page if hasattr(s, "text")] for page in flow.pages]
    assert all("mark" in page for page in texts)
    assert [t for page in texts for t in page if t.startswith("A")] == [f"A{k}" for k in range(200)]
    for page in flow.pages:
        assert max(s.at[1] for s in page if hasattr(s, "text")) <= 250.0


def test_narrow_lists_go_into_more_columns():
    area = Area(left=0.0, top=0.0, right=402.0, bottom=250.0)
    assert columns_for((LISTING,), area, MM) == 4
    wide = Listing(code="posts", fields=(Field(code="mark"),), rows=(("x" * 70,),))
    assert columns_for((wide,), area, MM) < 4


def _check(subject, ratio, verdict=Verdict.FAILS, rule="bending"):
    return Check(subject=subject, rule=rule, verdict=verdict, demand=ratio, capacity=1.0, ratio=ratio)


def test_findings_are_grouped_by_kind_gravest_first_and_none_is_lost():
    checks = (
        _check("A1", 0.4, Verdict.OK),
        _check("B1", 1.2),
        _check("C1", 1.5),
        _check("D1", None, Verdict.NOT_CHECKED, "hangers"),
        _check("E1", 0.9, Verdict.OK),
    )
    found = groups(checks)
    assert [(g.worst.subject, g.others) for g in found] == [("C1", ("B1",)), ("D1", ()), ("E1", ("A1",))]


def test_the_workbook_holds_every_post_timber_board_stick_and_finding(plan_of, job, language):
    plan = plan_of(job)
    speaker = Speaker(Language(language), plan.job.unit.value)
    found = {t.code: t for t in tables(plan, speaker)}
    book = openpyxl.load_workbook(BytesIO(workbook_of(tuple(found.values()), title=plan.job.name)))
    assert len(book.worksheets) == len(found)
    assert len(found["posts"].rows) == len(plan.posts.cuts)
    assert [r[0] for r in found["timbers"].rows] == [speaker.mark(m.mark) for m in plan.frame.members]
    assert len(found["boards"].rows) == len(plan.layout.pieces)
    assert len(found["sawing"].rows) == sum(len(s.cuts) for p in plan.cutting.sections for s in p.sticks)
    assert len(found["checks"].rows) == len(plan.checks)
    assert len(found["order"].rows) == len(plan.estimate.order)
    column = next(
        k
        for k, c in enumerate(found["posts"].columns)
        if c.kind == "length" and found["posts"].rows[0][k] == plan.posts.cuts[0].length
    )
    assert [r[column] for r in found["posts"].rows] == [c.length for c in plan.posts.cuts]


def test_money_on_the_price_list_adds_up(plan_of, job):
    plan = plan_of(job)
    rows = {t.code: t for t in tables(plan, Speaker())}["price"].rows
    for column in (1, 2):
        assert sum(r[column] for r in rows[:-1]) == pytest.approx(rows[-1][column], abs=0.02)


def test_sources_are_numbered_in_the_order_in_which_findings_name_them():
    found = references(
        ("jp_temp_works fixing_own", "site.wall[3]", "fixing_own wh190_t4_3", "irc2018_r311_3_1 R311.3.1")
    )
    assert list(found.titles) == ["jp_temp_works", "fixing_own", "wh190_t4_3", "irc2018_r311_3_1"]
    assert found.cite(("fixing_own jp_temp_works",)) == "[1] [2]"
    assert found.cite(("irc2018_r311_3_1 R311.3.1",)) == "[4] R311.3.1"
    assert found.cite(("site.wall[3]",)) == "site.wall[3]"
    assert found.cite(("",)) == ""
    numbers, titles = zip(*found.listing().rows, strict=True)
    assert numbers == ("[1]", "[2]", "[3]", "[4]")
    assert titles[2].startswith("Wood handbook")


def test_every_number_on_the_checks_sheets_stands_in_the_list_of_sources(plan_of, pages_of, job, language):
    texts = [
        t.text for p in pages_of(job, language) if p.code.startswith("checks") for t in flat(p) if isinstance(t, Text)
    ]
    listed = [t for t in texts if re.fullmatch(r"\[\d+\]", t)]
    named = {key for c in plan_of(job).checks for key, _ in source_titles(c.source) if key}
    assert {int(t[1:-1]) for t in listed} == set(range(1, len(named) + 1))
    said = " ".join(texts)
    assert not [key for key in named if "_" in key and key in said]


def test_the_workbook_has_one_sheet_for_sources(plan_of, job):
    found = {t.code: t for t in tables(plan_of(job), Speaker())}
    numbers = {row[0] for row in found["sources"].rows}
    clauses = next(i for i, c in enumerate(found["checks"].columns) if c.title == "by")
    cited = {n for row in found["checks"].rows for n in re.findall(r"(?<!\S)\[\d+\]", str(row[clauses] or ""))}
    assert cited == numbers


def test_money_keeps_all_its_places():
    assert written(Decimal("1286.20"), Kind.MONEY, MM) == "1,286.20"
    assert written(Decimal(347393), Kind.MONEY, MM) == "347,393"


def test_boards_and_frame_left_unchecked_are_told_apart():
    def unchecked(kind):
        facts = (("kind_code", f"kind.{kind}"),)
        return Check(subject=kind, rule="unchecked", verdict=Verdict.NOT_CHECKED, facts=facts)

    assert [g.worst.subject for g in groups((unchecked("boards"), unchecked("frame")))] == ["boards", "frame"]


def test_a_heading_is_never_parted_from_the_first_row_of_its_list():
    for start in range(40):
        flow = Flow(Area(left=0.0, top=0.0, right=200.0, bottom=60.0), MM)
        flow.gap(20.0 + start)
        flow.listing(LISTING)
        for page in flow.pages:
            texts = [s.text for s in page if isinstance(s, Text)]
            assert ("Posts" in texts) is ("A1" in texts), start
