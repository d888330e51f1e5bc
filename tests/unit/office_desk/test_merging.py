"""Two people at one job: what both changed is kept, what both meant differently is told, nothing is lost."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenfoot.office.desk import Clash, change_job, merge
from evenfoot.office.desk.tree import as_typed, tree_of, typed_at

BASE = """name = "Yard"
[site]
levels = [[0, 0, -450], [900, 0, -455], [1800, 0, -460]]
[floor]
width = 3600
depth = 1800
[[site.obstacle]]
name = "drain"
x = 100
"""


def test_changes_of_different_fields_both_stand():
    theirs = change_job(BASE, {"floor.width": "3000"})
    made = merge({"floor.depth": "1900"}, base=BASE, standing=theirs)
    assert made.clashes == ()
    assert (typed_at(made.text, "floor.width"), typed_at(made.text, "floor.depth")) == (3000, 1900)


def test_the_same_field_is_a_clash_that_keeps_what_stands_and_tells_all_three():
    theirs = change_job(BASE, {"floor.width": "3000"})
    made = merge({"floor.width": "3300", "floor.depth": "1900"}, base=BASE, standing=theirs)
    assert made.clashes == (Clash(where="floor.width", before="3600", theirs="3000", mine="3300"),)
    assert (typed_at(made.text, "floor.width"), typed_at(made.text, "floor.depth")) == (3000, 1900)


@pytest.mark.parametrize("typed", ["3000", "３０００", " 3000 "])
def test_the_same_value_twice_is_no_clash(typed):
    theirs = change_job(BASE, {"floor.width": "3000"})
    assert merge({"floor.width": typed}, base=BASE, standing=theirs).clashes == ()


def test_a_page_may_know_better_than_its_state_what_was_on_the_screen():
    made = merge({"floor.width": "3300"}, base=BASE, standing=BASE, seen={"floor.width": "3000"})
    assert made.clashes == (Clash(where="floor.width", before="3000", theirs="3600", mine="3300"),)
    assert made.text == BASE
    assert merge({"floor.width": "3300"}, base=BASE, standing=BASE, seen={"floor.width": "3600"}).clashes == ()


def test_two_rows_added_at_once_both_stand():
    theirs = change_job(BASE, {"site.levels[3]": ["", "1", "1", "1"]})
    made = merge(
        {"site.levels[3]": ["", "2", "2", "2"], "site.levels[4]": ["", "3", "3", "3"]}, base=BASE, standing=theirs
    )
    assert made.clashes == ()
    assert typed_at(made.text, "site.levels")[3:] == [[1, 1, 1], [2, 2, 2], [3, 3, 3]]


def test_a_row_that_is_sent_again_is_added_once():
    added = {"site.levels[3]": ["A", "2", "2", "2 m"]}
    once = merge(added, base=BASE, standing=BASE).text
    assert merge(added, base=BASE, standing=once).text == once
    both = change_job(once, {"site.levels[4]": ["", "9", "9", "9"]})
    assert merge(added, base=BASE, standing=both).text == both


def test_a_row_is_followed_to_where_it_stands_now():
    theirs = change_job(BASE, {"site.levels[0]": None})
    made = merge({"site.levels[2].z": "-1"}, base=BASE, standing=theirs)
    assert made.clashes == ()
    assert typed_at(made.text, "site.levels") == [[900, 0, -455], [1800, 0, -1]]
    assert typed_at(merge({"site.levels[2]": None}, base=BASE, standing=theirs).text, "site.levels") == [[900, 0, -455]]


def test_a_change_of_a_row_that_was_taken_out_is_told():
    theirs = change_job(BASE, {"site.levels[2]": None})
    made = merge({"site.levels[2].z": "-1"}, base=BASE, standing=theirs)
    assert made.clashes == (Clash(where="site.levels[2].z", before="-460", theirs="", mine="-1"),)
    assert made.text == theirs


def test_a_row_taken_out_by_both_is_taken_out_once():
    theirs = change_job(BASE, {"site.levels[1]": None})
    made = merge({"site.levels[1]": None}, base=BASE, standing=theirs)
    assert (made.text, made.clashes) == (theirs, ())


def test_a_row_that_somebody_changed_is_not_taken_out_unseen():
    theirs = change_job(BASE, {"site.levels[1].z": "-500"})
    made = merge({"site.levels[1]": None}, base=BASE, standing=theirs)
    assert made.clashes == (Clash(where="site.levels[1]", before="900, 0, -455", theirs="900, 0, -500", mine=""),)
    assert made.text == theirs


def test_figures_of_one_row_changed_by_two_people_both_stand():
    theirs = change_job(BASE, {"site.levels[1].z": "-500"})
    made = merge({"site.levels[1].x": "910"}, base=BASE, standing=theirs)
    assert typed_at(made.text, "site.levels[1]") == [910, 0, -500]


def test_a_row_that_somebody_moved_and_changed_takes_a_figure_of_another_cell():
    theirs = change_job(BASE, {"site.levels[0]": None, "site.levels[1].z": "-500"})
    made = merge({"site.levels[2].x": "1810"}, base=BASE, standing=theirs)
    assert made.clashes == ()
    assert typed_at(made.text, "site.levels") == [[900, 0, -455], [1810, 0, -500]]


def test_a_cell_that_both_changed_in_a_row_that_moved_is_told_where_it_stands_now():
    theirs = change_job(BASE, {"site.levels[0]": None, "site.levels[1].z": "-500"})
    made = merge({"site.levels[2].z": "-470"}, base=BASE, standing=theirs)
    assert made.clashes == (Clash(where="site.levels[1].z", before="-460", theirs="-500", mine="-470"),)
    assert made.text == theirs
    put = merge({made.clashes[0].where: "-470"}, base=theirs, standing=theirs, seen={made.clashes[0].where: "-500"})
    assert typed_at(put.text, "site.levels") == [[900, 0, -455], [1800, 0, -470]]


def test_taking_out_a_row_that_was_moved_and_changed_is_told_and_nothing_is_taken_out():
    theirs = change_job(BASE, {"site.levels[0]": None, "site.levels[1].z": "-500"})
    made = merge({"site.levels[2]": None}, base=BASE, standing=theirs)
    assert made.clashes == (Clash(where="site.levels[1]", before="1800, 0, -460", theirs="1800, 0, -500", mine=""),)
    assert made.text == theirs


def test_a_row_that_could_have_become_either_of_two_is_told_and_not_guessed():
    theirs = change_job(BASE, {"site.levels[2]": None, "site.levels[1]": None})
    theirs = change_job(theirs, {"site.levels[0]": ["", "1800", "0", "-1"], "site.levels[1]": ["", "1800", "0", "-2"]})
    for changes in ({"site.levels[2].y": "30"}, {"site.levels[2]": None}):
        made = merge(changes, base=BASE, standing=theirs)
        assert [clash.where for clash in made.clashes] == list(changes)
        assert made.text == theirs


def test_a_figure_is_never_written_into_another_row_that_came_to_its_place():
    """The second row went, another came at the end: as many rows as before, and the third stands in its place."""
    theirs = change_job(BASE, {"site.levels[1]": None, "site.levels[2]": ["", "5", "5", "5"]})
    assert len(typed_at(theirs, "site.levels")) == 3
    made = merge({"site.levels[1].y": "30"}, base=BASE, standing=theirs)
    assert made.text == theirs
    assert [(clash.where, clash.mine) for clash in made.clashes] == [("site.levels[1].y", "30")]


def test_rows_that_read_alike_keep_their_order_and_are_told_when_one_went():
    alike = change_job(BASE, {"site.levels[1]": ["", "0", "0", "-450"]})
    moved = change_job(alike, {"site.levels[3]": ["", "0", "0", "-450"], "site.levels[0]": None})
    made = merge({"site.levels[0].z": "-1", "site.levels[1].z": "-2"}, base=alike, standing=moved)
    assert typed_at(made.text, "site.levels") == [[0, 0, -1], [1800, 0, -460], [0, 0, -2]]
    fewer = change_job(alike, {"site.levels[0]": None})
    made = merge({"site.levels[0].z": "-1", "site.levels[1].z": "-2"}, base=alike, standing=fewer)
    assert [clash.mine for clash in made.clashes] + [row[2] for row in typed_at(made.text, "site.levels")] == [
        "-2",
        -1,
        -460,
    ]


EDITS = st.lists(
    st.tuples(st.sampled_from(["out", "z", "x", "add"]), st.integers(0, 2), st.integers(10, 99)), min_size=1, max_size=3
)


def edited(text, edits):
    """A text after edits of its rows, one after the other."""
    for kind, index, figure in edits:
        rows = len(typed_at(text, "site.levels") or [])
        if kind == "add":
            text = change_job(text, {f"site.levels[{rows}]": ["", str(figure), str(figure + 100), str(figure)]})
        elif index < rows:
            text = change_job(
                text,
                {f"site.levels[{index}]{'' if kind == 'out' else f'.{kind}'}": None if kind == "out" else str(figure)},
            )
    return text


@settings(deadline=None, max_examples=200)
@given(edits=EDITS, index=st.integers(0, 2), cell=st.sampled_from("xz"))
def test_a_figure_typed_into_a_row_stands_in_that_row_or_is_told(edits, index, cell):
    """Every row has figures of its own and nobody changes its second one: by that it is known here."""
    base = change_job(BASE, {f"site.levels[{n}]": ["", str(1000 + n), str(2000 + n), str(3000 + n)] for n in range(3)})
    standing = edited(base, edits)
    made = merge({f"site.levels[{index}].{cell}": "7777"}, base=base, standing=standing)
    rows, before = typed_at(made.text, "site.levels") or [], typed_at(base, "site.levels")[index]
    if made.clashes:
        assert made.text == standing
        return
    (row,) = [row for row in rows if 7777 in row]
    assert row["xyz".index(cell)] == 7777
    assert row[1] == before[1]


def test_over_a_state_that_nobody_knows_only_empty_fields_are_set():
    made = merge({"floor.width": "3300", "floor.drop": "20"}, base="", standing=BASE)
    assert made.clashes == (Clash(where="floor.width", before="", theirs="3600", mine="3300"),)
    assert typed_at(made.text, "floor.drop") == 20


PLACES = [
    "name",
    "floor.width",
    "floor.depth",
    "floor.drop",
    "site.levels[0].z",
    "site.levels[2].x",
    "site.obstacle[0].x",
    "frame.beam.depth",
]
CHANGES = st.dictionaries(st.sampled_from(PLACES), st.sampled_from(["", "7", "8", "1 m"]), max_size=4)


@settings(deadline=None, max_examples=40)
@given(mine=CHANGES, theirs=CHANGES)
def test_changes_that_do_not_meet_give_the_same_in_either_order(mine, theirs):
    assume(not mine.keys() & theirs.keys())
    first = merge(mine, base=BASE, standing=change_job(BASE, theirs))
    second = merge(theirs, base=BASE, standing=change_job(BASE, mine))
    assert first.clashes == second.clashes == ()
    assert tree_of(first.text) == tree_of(second.text)


@settings(deadline=None, max_examples=40)
@given(mine=CHANGES, theirs=CHANGES)
def test_everything_typed_stands_or_is_told(mine, theirs):
    standing = change_job(BASE, theirs)
    made = merge(mine, base=BASE, standing=standing)
    told = {clash.where: clash for clash in made.clashes}
    for where, typed in mine.items():
        if where in told:
            assert told[where].theirs == as_typed(typed_at(standing, where)) == as_typed(typed_at(made.text, where))
            assert told[where].mine == typed
        else:
            assert as_typed(typed_at(made.text, where)) == typed
    for where, typed in theirs.items():
        if where not in mine:
            assert as_typed(typed_at(made.text, where)) == typed


ROWS = st.lists(st.integers(0, 5), max_size=3, unique=True)


@settings(deadline=None, max_examples=40)
@given(out=st.none() | st.integers(0, 2), mine=ROWS, theirs=ROWS)
def test_rows_of_both_are_a_union(out, mine, theirs):
    def adding(figures, first):
        return {f"site.levels[{first + i}]": ["", str(n), str(n), str(n)] for i, n in enumerate(figures)}

    changes = {} if out is None else {f"site.levels[{out}]": None}
    standing = change_job(BASE, {**changes, **adding(theirs, 3 - len(changes))})
    made = merge(adding(mine, 3), base=BASE, standing=standing)
    found = [row[0] for row in typed_at(made.text, "site.levels")]
    assert made.clashes == ()
    stood = [row[0] for row in typed_at(standing, "site.levels")]
    known = stood[3 - len(changes) :]
    assert found == [*stood, *(figure for figure in mine if figure not in known)]
