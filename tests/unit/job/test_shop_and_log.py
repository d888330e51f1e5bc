"""Shops are read with their prices and days, logs line by line; what is wrong is told with its place."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import files, job_template, kinds, parse_job, read_log, read_shop, yard_for

SHOP = """
unit = "mm"
currency = "EUR"
tax = 0.21
overhead = 0.1
asked_on = 2026-09-01
[saw]
kerf = 3.2
end_trim = 15
keep = 500
[price]
hour = [40, 55]
coating = 21.50
footing = [7, 9]
[[stock]]
species = "scots_pine"
look = "common"
width = 45
depth = 145
lengths = [4200, 3600]
price = [2.10, 2.60]
price_by = "m"
[[stock]]
species = "scots_pine"
look = "fine"
width = 145
depth = 45
lengths = [3600]
available = 12
price = 3
price_by = "m"
asked_on = 2026-10-02
[[rack]]
species = "scots_pine"
look = "common"
width = 45
depth = 145
length = "1.8 m"
count = 3
clean_ends = 1
[[fixing]]
mark = "4.5x75"
per_box = 200
price = 31
[rates]
"pilot hole and drive one screw" = 0.01
"""


def test_a_shop_is_read_with_its_days_and_ranges():
    shop = files.parse_shop(SHOP)
    assert (shop.currency, shop.tax, shop.overhead) == ("EUR", Decimal("0.21"), Decimal("0.1"))
    assert (shop.kerf, shop.end_trim, shop.keep, shop.is_sample) == (3.2, 15, 500, False)
    assert (shop.hour.low, shop.hour.high, shop.hour.by) == (40, 55, kinds.PriceBy.HOUR)
    assert (str(shop.coating.low), str(shop.coating.high), shop.coating.by) == ("21.50", "21.50", kinds.PriceBy.LITRE)
    assert [item.price.asked_on for item in shop.stock] == [date(2026, 9, 1), date(2026, 10, 2)]
    assert shop.stock[0].lengths == (3600, 4200)
    assert (shop.rack[0].length, shop.rack[0].count, shop.rack[0].value) == (1800, 3, 0)
    assert (shop.fixings[0].mark, shop.fixings[0].price.by) == ("4.5x75", kinds.PriceBy.BOX)
    assert shop.rates == (("pilot hole and drive one screw", 0.01),)


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_the_shop_that_ships_is_a_sample_and_says_when_each_price_was_put_down(standard):
    shop = read_shop(None, standard)
    assert shop.is_sample
    prices = [shop.hour, shop.coating, shop.footing, *(i.price for i in shop.stock), *(i.price for i in shop.fixings)]
    assert all(price.asked_on is not None and price.low < price.high for price in prices)


@pytest.mark.parametrize("standard", list(kinds.Standard))
@pytest.mark.parametrize("style", list(kinds.Style))
def test_the_shop_that_ships_sells_every_default_section(standard, style):
    lines = job_template(standard, "en").split("\n")
    job = parse_job("\n".join(_without_tables(lines)) + f'\n[frame]\nstyle = "{style}"\n')
    yard = yard_for(job, read_shop(None, standard))
    frame, board = job.frame, job.floor.board
    for timber in (frame.beam, frame.joist, frame.post):
        assert yard.longest(species=timber.species, width=timber.width, depth=timber.depth) >= 2900
        assert any(
            item.strength_grade == timber.strength_grade for item in yard.stock if item.species == timber.species
        )
    assert yard.longest(species=board.species, width=board.width, depth=board.thickness) >= 2900


def _without_tables(lines):
    """Return the lines that do not belong to a [frame...] or [floor.board] table: those take their defaults."""
    kept, is_out = [], False
    for line in lines:
        if line.startswith("["):
            is_out = line.startswith(("[frame", "[floor.board"))
        if not is_out:
            kept.append(line)
    return kept


def test_the_job_s_own_stock_takes_the_place_of_the_shop_s_same_section_either_way_up():
    shop = files.parse_shop(SHOP)
    job = parse_job(job_template(kinds.Standard.EUROPE, "en"))
    own = replace(shop.stock[0], width=145, depth=45, lengths=(2400,), where="stock[0]")
    yard = yard_for(replace(job, stock=(own,)), shop)
    assert yard.stock == (own,)
    other = replace(own, species="sugi")
    assert yard_for(replace(job, stock=(other,)), shop).stock == (other, *shop.stock)
    assert (yard.rack, yard.kerf, yard.end_trim, yard.keep) == (shop.rack, 3.2, 15, 500)


@pytest.mark.parametrize(
    ("old", "new", "code", "where", "found", "nearest"),
    [
        ('"EUR"', '"euro"', "not-a-currency", "currency", "euro", ""),
        ("tax = 0.21", "tax = 21", "too-large", "tax", "21", "0.21"),
        ("tax = 0.21", "tax = -0.1", "too-small", "tax", "-0.1", "0"),
        ("tax = 0.21", "tax = 210", "too-large", "tax", "210", "1"),
        ("tax = 0.21", 'tax = "21 %"', "not-a-figure", "tax", "21 %", ""),
        ("tax = 0.21", "tax = nan", "not-finite", "tax", "nan", ""),
        ("tax = 0.21\n", "", "key-missing", "tax", "", ""),
        ("hour = [40, 55]", "hour = [55, 40]", "range-reversed", "price.hour", "[55, 40]", "[40, 55]"),
        ("hour = [40, 55]", "hour = [40, 50, 60]", "not-a-price", "price.hour", "[40, 50, 60]", ""),
        ("hour = [40, 55]", "hour = -40", "too-small", "price.hour", "-40", "0"),
        ("hour = [40, 55]", "hour = 4e12", "too-large", "price.hour", "4E+12", "1000000000"),
        ("hour = [40, 55]", "hour = [40, inf]", "not-finite", "price.hour", "inf", ""),
        ("hour = [40, 55]", "hour = true", "not-a-figure", "price.hour", "true", ""),
        ("kerf = 3.2", "kerff = 3.2", "key-unknown", "saw.kerff", "kerff", "kerf"),
        ("kerf = 3.2", 'kerf = "wide"', "length-unread", "saw.kerf", "wide", ""),
        ("clean_ends = 1", "clean_ends = 3", "too-large", "rack[0].clean_ends", "3", "2"),
        ('mark = "4.5x75"', 'mark = ""', "text-unfit", "fixing[0].mark", "", ""),
        ("= 0.01", "= 0", "too-small", "rates.pilot hole and drive one screw", "0 h", "1 h"),
        ('look = "fine"', 'look = "common"', "stock-twice", "stock[1]", "scots_pine 145 mm × 45 mm", ""),
        (
            'price_by = "m"\n[[stock]]',
            'price_by = "yard"\n[[stock]]',
            "not-a-choice",
            "stock[0].price_by",
            "yard",
            "hour",
        ),
    ],
)
def test_a_fault_of_a_shop_is_told_with_its_place(old, new, code, where, found, nearest):
    assert old in SHOP
    with pytest.raises(JobFileError) as raised:
        files.parse_shop(SHOP.replace(old, new, 1))
    faults = [f for f in raised.value.faults if f.code == code]
    (fault,) = faults
    assert (fault.where, fault.found) == (where, found)
    assert fault.line is not None
    if nearest:
        assert fault.nearest == nearest


def test_a_fixing_given_twice_is_a_fault():
    with pytest.raises(JobFileError) as raised:
        files.parse_shop(SHOP.replace("[rates]", '[[fixing]]\nmark = "4.5x75"\nper_box = 9\nprice = 1\n[rates]'))
    fault = raised.value.fault
    assert (fault.code, fault.where, fault.found, fault.allowed) == (
        "name-twice",
        "fixing[1].mark",
        "4.5x75",
        "fixing[0]",
    )


def test_a_shop_is_read_from_its_file(tmp_path):
    path = tmp_path / "ours.toml"
    path.write_text(SHOP, encoding="utf-8")
    assert read_shop(path) == files.parse_shop(SHOP)
    path.write_text("kerf", encoding="utf-8")
    with pytest.raises(JobFileError) as raised:
        read_shop(path)
    assert (raised.value.fault.code, raised.value.fault.where, raised.value.fault.found) == (
        "toml-syntax",
        "ours.toml",
        "kerf",
    )


LEVEL = '{"time": "2026-11-18T09:40", "what": "level", "mark": "B2", "x_mm": 900, "y_mm": 1010, "value_mm": -459.5}'
GAP = '{"time": "2026-11-18T10:02", "what": "post-gap", "mark": "C2", "value_mm": 281, "accuracy_mm": 1}'


def test_no_log_and_a_log_not_begun_are_empty(tmp_path):
    assert read_log(None).lines == ()
    assert read_log(tmp_path / "log.jsonl").lines == ()


def test_lines_keep_their_order_and_blank_ones_are_passed_over(tmp_path):
    path = tmp_path / "log.jsonl"
    path.write_text(f"{GAP}\n\n{LEVEL}\n", encoding="utf-8")
    log = read_log(path)
    assert [(line.what, line.mark, line.value, line.where) for line in log.lines] == [
        ("post-gap", "C2", 281, "lines[1]"),
        ("level", "B2", -459.5, "lines[3]"),
    ]
    assert (log.lines[0].x, log.lines[0].accuracy, log.lines[1].x, log.lines[1].accuracy) == (None, 1, 900, None)
    assert log.notes == ()


@pytest.mark.parametrize("length", range(1, len(GAP)))
def test_a_last_line_torn_anywhere_is_passed_over_with_a_note(length):
    log = files.parse_log(f"{LEVEL}\n{GAP[:length]}")
    assert len(log.lines) == 1
    (note,) = log.notes
    assert (note.code, note.where, note.line) == ("log-line-torn", "lines[2]", 2)
    assert GAP.startswith(note.found)


def test_a_last_line_torn_in_the_middle_of_a_letter_is_passed_over_with_a_note(tmp_path):
    path = tmp_path / "log.jsonl"
    torn = '{"time": "2026-11-18T10:02", "mark": "は'.encode()[:-1]
    path.write_bytes(LEVEL.encode() + b"\n" + torn)
    log = read_log(path)
    assert [line.mark for line in log.lines] == ["B2"]
    assert (log.notes[0].code, log.notes[0].where, log.notes[0].line) == ("log-line-torn", "lines[2]", 2)
    path.write_bytes(torn + b"\n" + LEVEL.encode())
    with pytest.raises(JobFileError) as raised:
        read_log(path)
    assert (raised.value.fault.code, raised.value.fault.line, raised.value.fault.found) == (
        "not-utf8",
        1,
        "e3 81 0a 7b",
    )


def test_a_last_line_that_is_whole_counts_even_without_its_line_end():
    assert len(files.parse_log(f"{LEVEL}\n{GAP}").lines) == 2


@pytest.mark.parametrize(
    ("row", "code", "where", "found"),
    [
        (GAP[:40], "json-syntax", "lines[1]", GAP[:40]),
        ("[1, 2]", "not-a-table", "lines[1]", "[1, 2]"),
        (GAP.replace("281", "NaN"), "not-finite", "lines[1].value_mm", "nan"),
        (GAP.replace("281", "-281"), "too-small", "lines[1].value_mm", "-281 mm"),
        (GAP.replace("281", '"281 mm"'), "not-a-figure", "lines[1].value_mm", "281 mm"),
        (GAP.replace('"C2"', '""'), "key-missing", "lines[1].mark", ""),
        (GAP.replace("post-gap", "postgap"), "not-a-choice", "lines[1].what", "postgap"),
        (GAP.replace("2026-11-18T10:02", "this morning"), "not-a-time", "lines[1].time", "this morning"),
        (GAP.replace('"2026-11-18T10:02"', "5"), "not-a-time", "lines[1].time", "5"),
        (GAP.replace("value_mm", "value"), "key-unknown", "lines[1].value", "value"),
        (LEVEL.replace('"x_mm": 900, ', ""), "key-missing", "lines[1].x_mm", ""),
        ("[" * 5000, "json-syntax", "lines[1]", "[" * 60),
    ],
)
def test_a_bad_line_is_a_fault_with_its_number(row, code, where, found):
    with pytest.raises(JobFileError) as raised:
        files.parse_log(f"{row}\n{LEVEL}\n")
    fault = next(f for f in raised.value.faults if f.code == code)
    assert (fault.where, fault.found, fault.line) == (where, found, 1)


def test_all_bad_lines_are_told_at_once():
    with pytest.raises(JobFileError) as raised:
        files.parse_log("x\n" + LEVEL + "\ny\nz\n")
    assert [(f.line, f.code, f.where, f.found) for f in raised.value.faults] == [
        (1, "json-syntax", "lines[1]", "x"),
        (3, "json-syntax", "lines[3]", "y"),
        (4, "json-syntax", "lines[4]", "z"),
    ]


def test_a_log_over_a_megabyte_is_refused():
    with pytest.raises(JobFileError) as raised:
        files.parse_log("\n" * 1_000_001)
    assert (raised.value.fault.code, raised.value.fault.where, raised.value.fault.found) == (
        "file-too-large",
        "log",
        "> 1 MB",
    )
