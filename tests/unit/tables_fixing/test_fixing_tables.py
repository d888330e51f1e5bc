"""Fixings, finishes and work rates on record, and how a wrong name is refused."""

from __future__ import annotations

import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.job import kinds
from evenfoot.tables import coating, fasteners, labour, species_ids
from evenfoot.tables.coating import WoodSurface
from evenfoot.tables.fasteners import FastenerKind, Way
from evenfoot.words import catalogue

SOURCES = Path(__file__).parents[3] / "src" / "evenfoot" / "tables" / "data" / "sources"


def test_marks_are_unique_and_a_longer_nail_is_never_thinner():
    marks = [f.mark for f in fasteners.all_fasteners()]
    assert len(marks) == len(set(marks))
    for kind in FastenerKind:
        if kind is not FastenerKind.SCREW:
            nails = [f for f in fasteners.all_fasteners() if f.kind is kind]
            assert [f.length for f in nails] == sorted({f.length for f in nails})
            assert [f.shank for f in nails] == sorted(f.shank for f in nails)


@pytest.mark.parametrize(
    ("mark", "length", "shank"), [("N90", 90.0, 3.75), ("CN50", 50.8, 2.87), ("4.2x65", 65.0, 4.2)]
)
def test_a_mark_has_its_size(mark, length, shank):
    one = fasteners.fastener(mark)
    assert (one.length, one.shank) == (length, shank)


def test_screw_marks_say_their_size():
    for one in fasteners.all_fasteners():
        if one.kind is FastenerKind.SCREW:
            assert one.mark == f"{one.shank}x{one.length:.0f}"


def test_only_screws_and_stainless_nails_are_stainless():
    for one in fasteners.all_fasteners():
        assert (one.metal == "stainless") == (one.kind in (FastenerKind.SCREW, FastenerKind.NAIL_STAINLESS))


def test_a_mark_that_is_not_on_record_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        fasteners.fastener("N91")
    assert (caught.value.fault.where, caught.value.fault.code, caught.value.fault.found) == (
        "mark",
        "fastener-unknown",
        "N91",
    )
    assert "N90" in caught.value.fault.allowed


def test_withdrawal_of_a_nail_that_the_table_lacks_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        fasteners.hold_jp("N19", group=1)
    assert (caught.value.fault.code, caught.value.fault.found) == ("fastener-unknown", "N19")


def test_the_softer_group_holds_less():
    for mark in ("N38", "N75", "N150"):
        assert fasteners.hold_jp(mark, group=2).per_mm < fasteners.hold_jp(mark, group=1).per_mm


@pytest.mark.parametrize(
    ("kind", "density", "ratio"),
    [
        (FastenerKind.SCREW, 449.9, 0.0),
        (FastenerKind.SCREW, 450.0, 0.65),
        (FastenerKind.SCREW, 600.0, 0.65),
        (FastenerKind.SCREW, 600.1, 0.75),
        (FastenerKind.NAIL_N, 449.9, 0.0),
        (FastenerKind.NAIL_N, 450.0, 0.75),
        (FastenerKind.NAIL_N, 600.1, 0.80),
    ],
)
def test_the_pilot_hole_follows_the_density(kind, density, ratio):
    assert fasteners.pilot(kind).ratio(density) == ratio


def test_tannin_woods_are_on_record():
    assert fasteners.tannin_species() <= set(species_ids())
    assert "western_redcedar" in fasteners.tannin_species()
    assert "sugi" not in fasteners.tannin_species()


def test_every_connection_is_named_in_both_languages():
    for connection in fasteners.connections():
        assert f"fixing.{connection.use}" in catalogue()
        assert connection.per_crossing >= 1
    assert {c.use: c.way for c in fasteners.connections()}["board-joist"] is Way.BOARD


def test_each_standard_has_its_board_rule():
    for standard in kinds.Standard:
        rule = fasteners.board_rule(standard)
        assert (rule.screw_times_board, rule.into_joist, rule.nail_times_board) == (2.0, 20.0, 2.5)
    assert fasteners.board_rule("europe").shank_min == 4.2


def test_every_finish_that_a_job_can_ask_for_has_a_coverage():
    for finish in kinds.Coating:
        if finish is not kinds.Coating.NONE:
            for surface in WoodSurface:
                for coat in (1, 2, 3, 7):
                    one = coating.spread(finish, surface, coat=coat)
                    assert 0 < one.low <= one.high
            assert (
                coating.spread(finish, WoodSurface.SAWN, coat=1).high
                > coating.spread(finish, WoodSurface.PLANED, coat=1).high
            )


def test_penetrating_finish_goes_as_far_as_the_handbook_says():
    one = coating.spread("penetrating", WoodSurface.PLANED, coat=2)
    assert (1 / one.high, 1 / one.low) == pytest.approx((4.9, 9.8))
    assert one.is_confirmed


def test_a_finish_that_is_not_on_record_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        coating.spread("varnish", WoodSurface.PLANED, coat=1)
    assert (caught.value.fault.where, caught.value.fault.code, caught.value.fault.found) == (
        "finish",
        "finish-unknown",
        "varnish",
    )
    assert caught.value.fault.allowed == "penetrating, water-repellent"


def test_every_task_is_named_and_its_range_holds_its_typical_value():
    for rate in labour.rates():
        assert f"work.{rate.task}" in catalogue()
        assert 0 < rate.low < rate.typical < rate.high


def test_a_task_that_is_not_on_record_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        labour.rate("weld")
    assert (caught.value.fault.where, caught.value.fault.code, caught.value.fault.found) == (
        "task",
        "task-unknown",
        "weld",
    )


def test_the_parts_of_laying_boards_add_up_to_the_measured_whole():
    """On the deck that was measured a square metre had about 35 screws and 4 trimmed ends."""
    parts = labour.rate("lay-boards").typical + 35 * labour.rate("screw").typical + 4 * labour.rate("trim-end").typical
    assert parts == pytest.approx(labour.rate("lay-boards-whole").typical, abs=0.005)


@pytest.mark.parametrize(("currency", "decimals"), [("JPY", 0), ("EUR", 2), ("USD", 2), ("KWD", 3)])
def test_a_currency_has_its_smallest_unit(currency, decimals):
    assert labour.currency_decimals(currency) == decimals


@pytest.mark.parametrize("currency", ["yen", "jpy", "JP", "JPYX", "J1Y", "¥¥¥"])
def test_what_is_no_currency_code_is_refused(currency):
    with pytest.raises(OutOfRangeError) as caught:
        labour.currency_decimals(currency)
    assert (caught.value.fault.where, caught.value.fault.code, caught.value.fault.found) == (
        "currency",
        "currency-unknown",
        currency,
    )


def test_no_source_id_of_fixings_stands_in_another_file():
    mine = tomllib.loads((SOURCES / "fixing.toml").read_text(encoding="utf-8"), parse_float=Decimal)
    for path in SOURCES.glob("*.toml"):
        if path.name != "fixing.toml":
            assert not set(mine) & set(tomllib.loads(path.read_text(encoding="utf-8"))), path.name
