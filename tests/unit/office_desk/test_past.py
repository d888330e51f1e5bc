"""What changed between two states is told key by key, and nothing else is."""

import tomllib
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.office.desk import Shelf, change_job, key_changes, steps_of
from evenfoot.office.desk.past import KeyChange
from evenfoot.store import Store

LEAVES = st.one_of(st.integers(-5, 5), st.text("ab ", max_size=3), st.booleans(), st.decimals(-2, 2, places=1).map(str))
TREES = st.recursive(
    LEAVES,
    lambda inner: (
        st.lists(inner, min_size=1, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, min_size=1, max_size=3)
    ),
    max_leaves=8,
)
FILES = st.dictionaries(st.sampled_from(["name", "site", "floor"]), TREES, max_size=3)


def toml(value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {toml(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)


def text_of(tree):
    return "".join(f"{key} = {toml(value)}\n" for key, value in tree.items())


@settings(deadline=None, max_examples=60)
@given(before=FILES, after=FILES)
def test_no_change_is_told_if_and_only_if_the_values_are_equal(before, after):
    old, new = (tomllib.loads(text_of(tree), parse_float=Decimal) for tree in (before, after))
    assert (key_changes(text_of(before), text_of(after)) == ()) == (repr(old) == repr(new))


def test_remarks_and_blanks_are_no_change():
    assert key_changes('name = "A"\n', '# A remark.\n\nname    = "A" # and another\n') == ()


def test_a_change_tells_both_texts_and_a_key_that_went_stays_named():
    assert key_changes("a = 1\nb = 2\n[c]\nd = [[1, 2]]\n", "a = 1\n[c]\nd = [[1, 3], [4, 5]]\n") == (
        KeyChange(where="c.d[0]", before="1, 2", after="1, 3"),
        KeyChange(where="c.d[1]", before="", after="4, 5"),
        KeyChange(where="b", before="2", after=""),
    )


def test_a_text_that_cannot_be_read_counts_as_empty():
    assert key_changes("a = ", "a = 1") == (KeyChange(where="a", before="", after="1"),)
    assert key_changes("a = " + "[" * 5000, "") == ()


def test_each_state_tells_what_it_changed_of_the_one_it_came_from(tmp_path):
    store = Store(f"sqlite:///{tmp_path / 'jobs.db'}")
    text = 'name = "A"\n'
    job = store.create(name="A", job_text=text)
    wide = store.save(job, job_text=change_job(text, {"floor.width": "3000"}), over=store.head(job).digest, who="Aki")
    store.undo(job)
    store.save(job, job_text=text, shop_text="[rates]\nx = 1\n", over=store.head(job).digest, who="Ben")
    steps = steps_of(store.trail(job, most=10))
    assert [(s.number, s.who, [(c.where, c.before, c.after) for c in s.changes]) for s in steps] == [
        (3, "Ben", [("shop.rates.x", "", "1")]),
        (2, "Aki", [("floor.width", "", "3000")]),
        (1, "", []),
    ]
    assert wide.number == 2


class Typist:
    """Somebody who types into one job by a clock of their own, one state for every key."""

    def __init__(self, folder):
        self.now = datetime(2026, 11, 26, 9, 0, tzinfo=UTC)
        self.shelf = Shelf(Store(f"sqlite:///{folder / 'jobs.db'}", clock=lambda: self.now))
        self.job = self.shelf.take_in('name = "Yard"\n[floor]\nwidth = 3600\n')

    def press(self, *texts, where="floor.width", who="Aki", pause_s=1):
        for text in texts:
            self.now += timedelta(seconds=pause_s)
            self.shelf.change(self.job, {where: text}, over=self.shelf.state(self.job).digest, who=who)

    def undone(self):
        return self.shelf.undo(self.job).number

    def told(self):
        return [[(c.where, c.before, c.after) for c in s.changes] for s in steps_of(self.shelf.trail(self.job))][:-1]


@pytest.fixture
def typist(tmp_path):
    return Typist(tmp_path)


@pytest.mark.parametrize(
    "keys", [("4", "42", "420", "4200"), ("360", "36", "3", "", "4", "4 ", "4 m"), ("36500", "365")]
)
def test_what_was_typed_key_by_key_is_one_step_there_and_back(typist, keys):
    typist.press(*keys)
    last = typist.shelf.state(typist.job)
    assert typist.told() == [[("floor.width", "3600", keys[-1])]]
    assert typist.undone() == 1
    assert typist.shelf.redo(typist.job) == last


def test_a_pause_another_word_another_field_and_another_person_begin_a_step_of_their_own(typist):
    typist.press("36", "360")
    typist.press("3600", pause_s=6)
    typist.press("5200", "5400")
    typist.press("2", "27", where="floor.depth")
    typist.press("270", where="floor.depth", who="Ben")
    assert [typist.undone() for _ in range(6)] == [8, 6, 5, 4, 3, 1]
    assert [typist.shelf.redo(typist.job).number for _ in range(6)] == [3, 4, 5, 6, 8, 9]
    assert len(typist.told()) == 6


@given(
    presses=st.lists(st.tuples(st.sampled_from(["", "3", "36", "360", "4", "45"]), st.sampled_from([1, 9])), max_size=9)
)
@settings(deadline=None, max_examples=15)
@pytest.mark.slow
def test_undo_and_redo_pass_the_same_states_and_each_step_told_is_one_of_them(tmp_path_factory, presses):
    typist = Typist(tmp_path_factory.mktemp("typed"))
    for text, pause_s in presses:
        typist.press(text, pause_s=pause_s)
    stops = [typist.shelf.state(typist.job).number]
    while typist.shelf.state(typist.job).can_undo:
        stops.append(typist.undone())
    assert [step.number for step in steps_of(typist.shelf.trail(typist.job))] == stops
    assert [typist.shelf.redo(typist.job).number for _ in stops[1:]] == stops[-2::-1]
    assert not typist.shelf.state(typist.job).can_redo
