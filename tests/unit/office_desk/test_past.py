"""What changed between two states is told key by key, and nothing else is."""

import tomllib
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.office.desk import change_job, key_changes, steps_of
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
