from __future__ import annotations

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.tables import strength_jp


def test_a_wood_that_the_notice_does_not_list_is_refused_with_a_near_name():
    with pytest.raises(OutOfRangeError) as caught:
        strength_jp.wood_strength(species="hinok", grade="ungraded")
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found) == ("species", "species-not-in-standard", "hinok")
    assert fault.nearest == "hinoki"
    assert "western_redcedar" in fault.allowed


def test_a_wood_without_stiffness_on_record_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        strength_jp.wood_strength(species="dahurian_larch", grade="ko-1")
    assert caught.value.fault.code == "species-not-in-standard"


def test_a_grade_that_is_not_listed_for_a_wood_is_refused():
    with pytest.raises(OutOfRangeError) as caught:
        strength_jp.wood_strength(species="kuri", grade="ko-2")
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found) == ("strength_grade", "grade-not-in-standard", "ko-2")
    assert fault.allowed == "ungraded"


@pytest.mark.parametrize(
    ("call", "code", "where"),
    [
        (lambda: strength_jp.factor("duration.lng"), "factor-unknown", "name"),
        (lambda: strength_jp.live_load("dwelling"), "live-load-unknown", "use"),
    ],
)
def test_unknown_names_are_refused(call, code, where):
    with pytest.raises(OutOfRangeError) as caught:
        call()
    assert (caught.value.fault.code, caught.value.fault.where) == (code, where)
    assert caught.value.fault.nearest


def test_flags_of_the_rows_reach_the_wood():
    read = strength_jp.wood_strength(species="sugi", grade="e70")
    recalled = strength_jp.wood_strength(species="sugi", grade="ungraded")
    assert read.is_strength_confirmed
    assert not recalled.is_strength_confirmed
    assert not read.is_stiffness_confirmed
    assert "jp_machine" in read.sources


def test_every_wood_with_stiffness_has_strengths_in_its_grades():
    for species in strength_jp._stiffness():
        for grade in strength_jp._strengths()[species]:
            found = strength_jp.wood_strength(species=species, grade=grade)
            assert found.bending > found.tension > 0.0
            assert found.compression > found.across > found.shear > 0.0
            assert 5000.0 > found.modulus / 3.0 > 1000.0


def test_the_imported_woods_go_by_both_names():
    assert strength_jp.wood_strength(species="douglas_fir", grade="ko-2") == strength_jp.wood_strength(
        species="beimatsu", grade="ko-2"
    )
