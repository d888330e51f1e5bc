"""The wood table: 26 woods, each figure with its flag, and figures that fit together."""

from __future__ import annotations

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.rules.movement import coefficient_from_total
from evenfoot.tables import species, species_ids, wood
from evenfoot.words import Language, Speaker

DERIVED_TOTALS = ("hinoki", "sugi", "hiba")
DERIVED_COEFFICIENTS = ("norway_spruce", "european_oak", "sweet_chestnut", "ipe", "cumaru")
RESISTANCE_OF = {1: "A", 2: "B", 3: "C", 4: "D", 5: "E"}
PUBLISHED_AS = {"scots_pine": "C", "european_larch": "C", "western_larch": "C", "robinia": "A"}
"""Woods of class 3-4 that the source itself puts in C, and robinia, which it names for A."""


def test_the_table_holds_26_woods():
    assert len(species_ids()) == 26
    assert len(set(species_ids())) == 26


@pytest.mark.parametrize("name", species_ids())
def test_every_wood_has_a_name_in_both_languages(name):
    english, japanese = Speaker(Language.ENGLISH), Speaker(Language.JAPANESE)
    assert english.say(f"species.{name}").isascii()
    assert not japanese.say(f"species.{name}").isascii()


@pytest.mark.parametrize(
    ("name", "japanese"),
    [
        ("hinoki", "ヒノキ"),
        ("sugi", "スギ"),
        ("hiba", "ヒバ"),
        ("western_redcedar", "ベイスギ"),
        ("douglas_fir", "ベイマツ"),
    ],
)
def test_japanese_names_are_those_of_the_timber_yard(name, japanese):
    assert Speaker(Language.JAPANESE).say(f"species.{name}") == japanese


@pytest.mark.parametrize("name", species_ids())
def test_figures_are_those_of_a_wood(name):
    one = species(name)
    assert one.id == name
    assert 300 < one.density < 1200
    assert 20 <= one.fsp <= 30
    assert 0.0008 < one.c_radial < one.c_tangential < 0.004
    assert one.c_radial < one.c_mean < one.c_tangential
    if one.shrink_radial is not None:
        assert 0 < one.shrink_radial < one.shrink_tangential < 12
    if one.en350_best is not None:
        assert 1 <= one.en350_best <= one.en350_worst <= 5
    assert one.sources


@pytest.mark.parametrize("name", species_ids())
def test_a_missing_figure_is_never_confirmed(name):
    one = species(name)
    assert not (one.shrink_radial is None and one.is_shrink_confirmed)
    assert not (one.en350_best is None and one.is_en350_confirmed)
    assert not (one.hardness is None and one.is_hardness_confirmed)
    assert not (not one.japan_class and one.is_japan_class_confirmed)
    assert not (not one.resistance_class and one.is_resistance_confirmed)


@pytest.mark.parametrize("name", DERIVED_TOTALS)
def test_totals_of_the_japanese_woods_are_coefficient_times_saturation(name):
    one = species(name)
    assert one.shrink_radial == pytest.approx(100 * one.c_radial * one.fsp, abs=0.05)
    assert one.shrink_tangential == pytest.approx(100 * one.c_tangential * one.fsp, abs=0.05)
    assert not one.is_shrink_confirmed


@pytest.mark.parametrize("name", DERIVED_COEFFICIENTS)
def test_derived_coefficients_come_from_the_totals(name):
    one = species(name)
    assert one.c_radial == pytest.approx(coefficient_from_total(total=one.shrink_radial, fsp=one.fsp), abs=6e-6)
    assert one.c_tangential == pytest.approx(coefficient_from_total(total=one.shrink_tangential, fsp=one.fsp), abs=6e-6)
    assert not one.is_c_confirmed


@pytest.mark.parametrize("name", [n for n in species_ids() if species(n).en350_worst is not None])
def test_resistance_class_follows_the_worse_end_of_the_durability_class(name):
    one = species(name)
    assert one.resistance_class == PUBLISHED_AS.get(name, RESISTANCE_OF[one.en350_worst])


@pytest.mark.parametrize(
    ("name", "attribute", "printed"),
    [
        ("hinoki", "density", 440),
        ("sugi", "c_tangential", 0.0025),
        ("european_larch", "shrink_tangential", 7.8),
        ("teak", "c_tangential", 0.00186),
        ("cumaru", "fsp", 22),
        ("ipe", "hardness", 15620),
    ],
)
def test_figures_are_as_read_in_their_sources(name, attribute, printed):
    assert getattr(species(name), attribute) == printed


def test_an_unknown_wood_is_named_with_the_nearest():
    with pytest.raises(OutOfRangeError) as caught:
        species("suggi")
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found, fault.nearest) == ("species-unknown", "species", "suggi", "sugi")
    assert "hinoki" in fault.allowed


def test_only_treated_pine_is_treated():
    assert [n for n in species_ids() if species(n).is_treated] == ["treated_pine"]


def test_decay_details_name_parts_and_known_factors():
    table = wood.decay_table()
    assert table.height(300.0).value == 1.0
    assert table.height(299.9).value == 1.5
    assert table.height(100.0).value == 1.5
    assert table.height(99.9).value == 2.0
    assert table.height(-20.0).value == 2.0
    assert [table.resistance(c).value for c in "ABCDE"] == sorted((10.0, 5.0, 2.0, 1.0, 0.7), reverse=True)
    assert {d.trap.value for d in table.details} <= {0.9, 1.0, 1.2, 1.4, 1.6}


@pytest.mark.parametrize(
    ("ask", "where", "found"),
    [
        (lambda: wood.decay_table().detail("ridge"), "detail", "ridge"),
        (lambda: wood.decay_table().site("mars"), "standard", "mars"),
        (lambda: wood.decay_table().resistance("F"), "resistance_class", "F"),
        (lambda: wood.guard("mars"), "standard", "mars"),
        (lambda: wood.coat_life("lacquer"), "finish", "lacquer"),
    ],
)
def test_names_that_no_table_holds_are_refused(ask, where, found):
    with pytest.raises(OutOfRangeError) as caught:
        ask()
    fault = caught.value.fault
    assert (fault.code, fault.where, fault.found) == ("name-unknown", where, found)
