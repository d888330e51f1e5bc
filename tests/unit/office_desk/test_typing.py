"""What is typed into a field is what the file holds and what the field shows again; nothing typed breaks anything."""

import tomllib
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.errors import EvenfootError, JobFileError, OutOfRangeError
from evenfoot.job import files
from evenfoot.office.desk import blank_job, change_job, faults_of
from evenfoot.office.desk.tree import LISTS, as_typed, columns_of, typed_at
from evenfoot.office.desk.typing import MOST_CHANGES, value_of
from evenfoot.words import Language

BLANK = blank_job("Yard", "japan", Language.ENGLISH).job
FACTS = files.key_facts()
K = files.KeyKind
SAMPLES = {
    K.LENGTH: ["455", "1.5 m", "6' 2 1/2\"", "3尺5寸", "12.5", "-3"],
    K.FIGURE: ["0.4", "12", "-1.25"],
    K.WHOLE: ["2", "14"],
    K.SLOPE: ["1/80", "0", "1.25 %"],
    K.FORCE: ["1.5", "250 kg", "2 kN"],
    K.PRESSURE: ["30", "50 kPa"],
    K.TEMPERATURE: ["21.5", "-4", "70 °F"],
    K.YES_NO: ["true", "false"],
    K.DAY: ["2026-11-03"],
    K.PRICE: ["1200", "980.5", "900, 1250"],
    K.TEXT: ["Yard of the mill", "北の縁側", 'with "marks" and \\ back'],
}
VALUES = [fact for fact in FACTS.values() if fact.kind is not K.TABLE and fact.kind not in LISTS]


def place_of(key):
    """A place of the key, the first entry of every list on the way."""
    place, path = "", ""
    for part in key.split("."):
        path = f"{path}.{part}".lstrip(".")
        place = f"{place}.{part}".lstrip(".") + ("[0]" if FACTS[path].kind in LISTS else "")
    return place


def samples(fact):
    words = [f"{fact.choices[0]}, {fact.choices[-1]}"] if fact.is_many and fact.choices else list(fact.choices)
    return words or SAMPLES[fact.kind]


SMALL = '# First.\nname = "Yard"\n\n[site]\n# Second.\nlevels = [\n  [0, 10, -450], # Third.\n  [900, 20, -455],\n]\n'


@pytest.mark.parametrize("fact", VALUES, ids=lambda f: f.key)
def test_every_key_shows_again_what_was_typed_leaves_the_rest_alone_and_can_be_emptied(fact):
    place, typed = place_of(fact.key), samples(fact)[0]
    changed = change_job(SMALL, {place: typed})
    assert as_typed(typed_at(changed, place)) == typed
    assert all(f"# {word}." in changed for word in ("First", "Second", "Third"))
    assert as_typed(typed_at(change_job(changed, {place: "  "}), place)) == ""


@pytest.mark.parametrize("kind", SAMPLES)
def test_every_way_of_typing_a_kind_is_shown_again(kind):
    fact = next(f for f in VALUES if f.kind is kind and not f.is_many)
    for typed in SAMPLES[kind]:
        assert as_typed(typed_at(change_job(SMALL, {place_of(fact.key): typed}), place_of(fact.key))) == typed


@pytest.mark.parametrize(
    ("kind", "typed", "held"),
    [
        (K.LENGTH, "４５５", 455),
        (K.LENGTH, " 12.50 ", Decimal("12.50")),
        (K.LENGTH, "12,5", "12,5"),
        (K.WHOLE, "two", "two"),
        (K.YES_NO, "yes", "yes"),
        (K.DAY, "2026-11-03", date(2026, 11, 3)),
        (K.DAY, "3 November", "3 November"),
        (K.PRICE, "900..1250", [900, 1250]),
        (K.PRICE, "900〜1250", [900, 1250]),
        (K.PRICE, "900, 1250", [900, 1250]),
        (K.PRICE, "-5", "-5"),
        (K.TEXT, "１２", "１２"),
        (K.LENGTH, "9" * 5000, "9" * 5000),
    ],
)
def test_a_text_is_a_figure_only_where_it_is_one(kind, typed, held):
    found = value_of(typed, files.KeyFact(key="any", kind=kind))
    assert (found, type(found)) == (held, type(held))


def test_a_list_of_words_is_typed_with_commas_of_either_language():
    for typed in ("board, post", "board、post", "board;post,"):
        assert typed_at(change_job(BLANK, {"cutting.together": typed}), "cutting.together") == ["board", "post"]
    assert typed_at(change_job(BLANK, {"cutting.together": " , "}), "cutting.together") is None


def test_one_figure_of_a_row_is_changed_where_it_stands():
    changed = change_job(BLANK, {"site.levels[1].z": "-461"})
    assert typed_at(changed, "site.levels[1]") == [1800, 90, -461]
    assert "  [1800, 90, -461],\n" in changed


def test_an_emptied_figure_of_a_row_does_not_move_the_others():
    changed = change_job(BLANK, {"site.levels[1].x": ""})
    assert typed_at(changed, "site.levels[1]") == ["", 90, -459]
    assert [typed_at(changed, f"site.levels[1].{c}") for c in "xyz"] == ["", 90, -459]
    assert {f.where for f in faults_of(changed)} == {"site.levels[1].x"}


def test_a_name_is_put_before_a_row_and_taken_away_again():
    named = change_job(BLANK, {"site.levels[2].name": "drain"})
    assert typed_at(named, "site.levels[2]") == ["drain", 3600, 120, -468]
    assert change_job(named, {"site.levels[2].name": ""}) == BLANK


def test_rows_are_added_begun_from_nothing_and_taken_out():
    without = change_job(BLANK, {"site.levels[0]": None})
    assert len(typed_at(without, "site.levels")) == 8
    added = change_job(without, {"site.levels[8]": ["", "3600", "2620", "-497"]})
    assert typed_at(added, "site.levels[8]") == [3600, 2620, -497]
    begun = change_job(BLANK, {"site.wall[0]": ["0", "3"], "site.wall[1]": ["900", "5.5"]})
    assert typed_at(begun, "site.wall") == [[0, 3], [900, Decimal("5.5")]]
    assert change_job(begun, {"site.wall[0].out": "4"}) == begun.replace("[0, 3]", "[0, 4]")


def test_a_figure_typed_into_a_row_that_is_not_there_begins_it():
    begun = change_job(BLANK, {"site.wall[0].x": "900"})
    assert typed_at(begun, "site.wall") == [[900, ""]]
    assert typed_at(change_job(BLANK, {"site.levels[9].z": "-5"}), "site.levels[9]") == ["", "", -5]


def test_tables_are_added_by_row_and_by_cell_and_taken_out():
    added = change_job(BLANK, {"site.obstacle[1]": ["pipe", "100", "200", "60", "60", ""]})
    assert typed_at(added, "site.obstacle[1]") == {"name": "pipe", "x": 100, "y": 200, "width": 60, "depth": 60}
    assert typed_at(change_job(added, {"site.obstacle[1].clearance": "20"}), "site.obstacle[1].clearance") == 20
    assert change_job(added, {"site.obstacle[1]": None}) == BLANK
    none = change_job(BLANK, {"site.obstacle[0]": None})
    assert typed_at(none, "site.obstacle") is None
    assert len(typed_at(change_job(none, {"site.obstacle[0].x": "5"}), "site.obstacle")) == 1


def test_a_list_within_a_list_is_typed_too():
    text = change_job(BLANK, {"site.station[0]": ["sill", "1.2 m", "1.203 m"]})
    text = change_job(text, {"site.station[0].readings[0]": ["", "0", "100", "1.652 m"]})
    text = change_job(text, {"site.station[0].readings[1]": ["B", "900", "100", "1.66 m"]})
    assert typed_at(text, "site.station[0].readings") == [[0, 100, "1.652 m"], ["B", 900, 100, "1.66 m"]]
    assert typed_at(change_job(text, {"site.station[0].readings[0].rod": "1.7 m"}), "site.station[0].readings[0].rod")


def test_a_pasted_block_is_one_change_that_keeps_order():
    block = {f"site.levels[{9 + i}]": ["", str(i), str(2 * i), str(-i)] for i in range(300)}
    changed = change_job(BLANK, block)
    assert typed_at(changed, "site.levels")[9:] == [[i, 2 * i, -i] for i in range(300)]


def test_changes_of_one_sending_follow_one_another():
    changes = {
        "site.levels[1].z": "-1",
        "site.levels[0]": None,
        "site.levels[0].x": "7",
        "site.levels[1]": ["", "1", "2", "3"],
    }
    assert typed_at(change_job(SMALL, changes), "site.levels") == [[7, 20, -1], [1, 2, 3]]


@pytest.mark.parametrize(
    ("where", "typed"),
    [
        ("floor", "wide"),
        ("floor", None),
        ("site.levels", None),
        ("site.levels", "1, 2, 3"),
        ("site.levels", ["", "1", "2", "3"]),
        ("site.levels.z", "3"),
        ("site.levels[-1].z", "3"),
        ("site.levels[0][1]", "3"),
        ("site[0].levels", "3"),
        ("name[0]", "x"),
        ("floor..width", "3"),
        ("", "3"),
        ("flor.width", "3"),
        ("stock[7].width", "3"),
        ("site.wall[4]", ["1", "2"]),
    ],
)
def test_a_place_that_leads_nowhere_is_refused(where, typed):
    with pytest.raises(OutOfRangeError) as told:
        change_job(BLANK, {where: typed})
    assert (told.value.fault.code, told.value.fault.where) == ("path-unknown", where)


def test_a_figure_of_a_row_far_past_the_end_is_refused():
    with pytest.raises(OutOfRangeError) as told:
        change_job(BLANK, {"site.levels[99].z": "3"})
    assert told.value.fault.code == "path-unknown"


@pytest.mark.parametrize(("where", "typed"), [("site.levels[0]", ["1", "2"]), ("site.levels[0]", "3"), ("name", ["a"])])
def test_a_row_of_another_length_is_refused(where, typed):
    with pytest.raises(OutOfRangeError) as told:
        change_job(BLANK, {where: typed})
    assert (told.value.fault.code, told.value.fault.where) == ("row-length", where)


def test_too_many_changes_are_refused_and_as_many_as_allowed_are_not():
    with pytest.raises(OutOfRangeError) as told:
        change_job(BLANK, {f"site.levels[{i}]": None for i in range(MOST_CHANGES + 1)})
    assert told.value.fault.code == "too-many"


@pytest.mark.parametrize("typed", ["", "5", None])
@pytest.mark.parametrize("text", ["name = ", "a = [" * 400, "x = " + "9" * 5000])
def test_a_text_that_cannot_be_read_is_not_typed_into(text, typed):
    with pytest.raises(JobFileError):
        change_job(text, {"floor.width": typed})


TYPED = st.one_of(
    st.text(max_size=40),
    st.text(alphabet="0123456789.-+/'\" ,尺寸mkN%", max_size=12),
    st.lists(st.text(max_size=8), max_size=5),
    st.none(),
)
PLACES = st.sampled_from(
    [
        *(place_of(f.key) for f in VALUES),
        "site.levels[0]",
        "site.levels[9]",
        "site.obstacle[0]",
        "stock[0]",
        "floor",
        "x",
    ]
)


@settings(deadline=None, max_examples=40)
@given(changes=st.dictionaries(PLACES, TYPED, max_size=4))
def test_whatever_is_typed_gives_a_text_or_an_error_of_ours(changes):
    try:
        text = change_job(SMALL, changes)
    except EvenfootError:
        return
    tomllib.loads(text)
    assert all(fault.code for fault in faults_of(text))


@settings(deadline=None, max_examples=40)
@given(fact=st.sampled_from(VALUES), typed=st.text(min_size=1, max_size=30))
def test_a_field_shows_again_what_was_typed_whatever_it_was(fact, typed):
    place = place_of(fact.key)
    try:
        text = change_job(SMALL, {place: typed})
    except EvenfootError:
        return
    shown = as_typed(typed_at(text, place))
    assert as_typed(typed_at(change_job(text, {place: shown}), place)) == shown, "typing what stands changes nothing"
    assert shown == as_typed(value_of(typed, fact))


def test_columns_that_hold_lists_are_not_typed_in_a_row():
    assert columns_of(FACTS["site.station"]) == ("on", "backsight", "closing")
