"""Plain lists of pieces and sticks: read as a spreadsheet writes them, every fault with its line and column."""

from __future__ import annotations

from decimal import Decimal

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import Yard, files, kinds
from evenfoot.job.lists.cut_list import PIECES, STICKS
from evenfoot.job.lists.grid import rows_of

SAW = Yard(stock=(), rack=(), kerf=3.0, end_trim=15.0, keep=600.0)
PLAIN = ("mark,length\na,1000\n", "length,price\n4000,8\n")


def read(tmp_path, pieces, sticks, unit="mm"):
    (tmp_path / "pieces.csv").write_text(pieces, encoding="utf-8")
    (tmp_path / "sticks.csv").write_text(sticks, encoding="utf-8")
    return files.read_cut_list(tmp_path / "pieces.csv", tmp_path / "sticks.csv", unit=unit, saw=SAW)


def faults(tmp_path, pieces=PLAIN[0], sticks=PLAIN[1]):
    with pytest.raises(JobFileError) as raised:
        read(tmp_path, pieces, sticks)
    return [(f.code, f.where, f.line, f.column, f.found, f.nearest) for f in raised.value.faults]


def test_a_row_is_a_kind_of_piece_and_a_kind_of_stick(tmp_path):
    made = read(
        tmp_path,
        "mark,length,count,width,depth,look,part,clear,rip,rests,place,wood\n"
        "A,1936,3,90,38,clear,board,yes,40,0 | 900 | 1800,row 1,cedar\n",
        "name,length,price,per,limit,width,depth,sawn_width,sawn_depth,wood,from,clean_ends,bad,flaws\n"
        "2x4,3900,7.5,m,,38,90,41,95,cedar,,,,\n"
        ",1500,2,,4,38,90,,,cedar,rack,1,100 .. 200 | 300..320,\n"
        "k1,3012,,,,38,90,,,cedar,hand,,,50..60\n",
    )
    (piece,) = made.pieces
    assert (piece.mark, piece.length, piece.count, piece.width, piece.depth, piece.rip) == ("A", 1936, 3, 90, 38, 40)
    assert (piece.look, piece.part, piece.is_clear, piece.rests) == (kinds.Look.CLEAR, "board", True, (0, 900, 1800))
    (item,) = made.yard.stock
    assert (item.label, item.lengths, item.price.low, item.price.by) == ("2x4", (3900,), Decimal("7.5"), "m")
    assert (item.rough_width, item.rough_depth, item.available) == (41, 95, None)
    (rest,) = made.yard.rack
    assert (rest.length, rest.count, rest.clean_ends, rest.value) == (1500, 4, 1, 2)
    assert rest.bad == ((100, 200), (300, 320))
    (fact,) = made.facts
    assert (fact.what, fact.mark, fact.value, fact.came.flaws) == ("stick", "k1", 3012, ((50, 60),))
    assert made.has_prices
    assert (made.yard.kerf, made.yard.end_trim) == (3.0, 15.0)


@pytest.mark.parametrize(
    ("text", "mm", "unit"),
    [
        ("1936", 1936, "mm"),
        ("1.94 m", 1940, "mm"),
        ("6' 4 1/4\"", 1936.75, "mm"),
        ("76 1/4", 1936.75, "in"),
        ("6尺4寸", 64000 / 33, "mm"),
    ],
)
def test_lengths_are_read_as_everywhere(tmp_path, text, mm, unit):
    made = read(tmp_path, f"length\n{text}\n", "length\n4 m\n", unit=unit)
    assert made.pieces[0].length == pytest.approx(mm, abs=1e-9)
    assert not made.has_prices


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_any_of_three_separators_parts_the_cells(tmp_path, between):
    made = read(tmp_path, between.join(["length", "count"]) + "\n" + between.join(["900", "2"]), "length\n4000\n")
    assert (made.pieces[0].length, made.pieces[0].count) == (900, 2)


def test_quotes_remarks_blanks_and_a_byte_order_mark_do_no_harm(tmp_path):
    text = '\ufeff# wanted\r\n mark , length\r\n\r\n "a ""b"", c" , "1000"\r\n,,\r\n'
    made = read(tmp_path, text, "length\n4000\n")
    assert [(p.mark, p.length) for p in made.pieces] == [('a "b", c', 1000)]


def test_columns_may_be_named_in_japanese(tmp_path):
    made = read(tmp_path, "番付,長さ,本数\nい,1000,2\n", "長さ,単価,出所\n4000,800,yard\n")
    assert (made.pieces[0].mark, made.pieces[0].count, made.yard.stock[0].price.low) == ("い", 2, 800)


def test_every_column_has_a_name_in_both_languages():
    from evenfoot.job.lists.columns import _japanese

    assert list(_japanese()["pieces"]) == list(PIECES)
    assert set(_japanese()["sticks"]) == set(STICKS)


def test_a_cell_knows_its_place():
    ((_, head), (_, cell)) = rows_of('a,b\n"x, y",  z\n', where="f")
    assert (head.line, head.column) == (1, 3)
    assert (cell.text, cell.line, cell.column) == ("z", 2, 10)


@pytest.mark.parametrize(
    ("pieces", "expected"),
    [
        ("", ("csv-empty", "pieces.csv", 1, 1, "", "")),
        ("length\n", ("csv-empty", "pieces.csv", 1, 1, "", "")),
        ('length\n"100\n', ("csv-quote-open", "pieces.csv", 2, 1, '"100', "")),
        ("lenght\n100\n", ("column-unknown", "pieces.csv", 1, 1, "lenght", "length")),
        ("mark\na\n", ("column-missing", "pieces.csv", 1, 1, "mark", "")),
        ("length,length\n1,1\n", ("column-twice", "pieces.csv", 1, 8, "length", "")),
        ("mark,length\na,\n", ("key-missing", "pieces.csv, length", 2, 3, "", "")),
        ("mark,length\na,10 furlongs\n", ("length-unit-unknown", "pieces.csv, length", 2, 3, "10 furlongs", None)),
        ("mark,length\na,40 m\n", ("too-large", "pieces.csv, length", 2, 3, "40 m", "30000 mm")),
        ("mark,length\na,0\n", ("too-small", "pieces.csv, length", 2, 3, "0", "0.1 mm")),
        ("length,count\n9,2.5\n", ("not-whole", "pieces.csv, count", 2, 3, "2.5", "")),
        ("length,look\n9,knotty\n", ("not-a-choice", "pieces.csv, look", 2, 3, "knotty", "small-knot")),
        ("length,clear\n9,ja\n", ("not-a-choice", "pieces.csv, clear", 2, 3, "ja", None)),
        ("length,count\n900,1,7\n", ("csv-row-long", "pieces.csv", 2, 7, "7", "")),
        ("length,width\n900,90\n", ("column-of-other-list", "sticks.csv", 1, 1, "pieces.csv", "")),
    ],
)
def test_a_fault_names_its_place_and_the_nearest_value(tmp_path, pieces, expected):
    (found, *others) = faults(tmp_path, pieces=pieces)
    assert others == []
    assert found[:5] == expected[:5]
    if expected[5] is not None:
        assert found[5] == expected[5]


@pytest.mark.parametrize(
    ("sticks", "expected"),
    [
        ("length,from,bad\n4000,rack,800\n", ("stretch-unread", "sticks.csv, bad", 2, 11, "800", "")),
        (
            "length,from,bad\n4000,rack,900..800\n",
            ("range-reversed", "sticks.csv, bad", 2, 11, "900..800", "800 .. 900"),
        ),
        ("length,from,bad\n4000,rack,900..4800\n", ("too-large", "sticks.csv, bad", 2, 1, "4800 mm", "4000 mm")),
        ("length,bad\n4000,900..950\n", ("not-a-choice", "sticks.csv, from", 2, 1, "yard", "hand")),
        ("length,price\n4000,8\n3000,\n", ("key-missing", "sticks.csv, price", 3, 1, "", "")),
        ("length,price,per\n4000,8,m3\n", ("key-missing", "sticks.csv, width", 2, 1, "", "")),
        ("length,price\n4000,cheap\n", ("not-a-figure", "sticks.csv, price", 2, 6, "cheap", "")),
        ("length,price\n4000,-1\n", ("too-small", "sticks.csv, price", 2, 6, "-1", "0")),
    ],
)
def test_a_fault_of_a_stick_names_its_place_too(tmp_path, sticks, expected):
    assert faults(tmp_path, sticks=sticks) == [expected]


def test_all_faults_of_both_lists_are_told_at_once(tmp_path):
    found = faults(tmp_path, "length,count\n-5,x\n900,1\n,1\n", "length\nlong\n")
    assert [(f[0], f[2]) for f in found] == [
        ("too-small", 2),
        ("not-whole", 2),
        ("key-missing", 4),
        ("length-unread", 2),
    ]
