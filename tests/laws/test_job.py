"""Laws of job files: writing back is identity, an edit is what was asked, places are right, no text breaks the reader."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import tomlkit
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenfoot.errors import EvenfootError
from evenfoot.job import files, kinds, parse_job
from evenfoot.job.file.faults import parsed, written
from evenfoot.job.file.outline import doubled_area, outline_faults
from evenfoot.job.file.places import Places

EXAMPLES = [
    path.read_text(encoding="utf-8") for path in sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))
]
TEMPLATES = [files.job_template(standard, language) for standard in kinds.Standard for language in ("en", "ja")]
TEXTS = EXAMPLES + TEMPLATES

keys = st.from_regex(r"\A[A-Za-z0-9_-]{1,8}\Z")
scalars = (
    st.integers(-(10**9), 10**9)
    | st.booleans()
    | st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12)
    | st.dates(min_value=date(1000, 1, 1))
    | st.decimals(min_value=-(10**6), max_value=10**6, places=3).map(float)
)
values = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3), max_leaves=6
)
trees = st.dictionaries(
    keys, values | st.lists(st.dictionaries(keys, values, min_size=1, max_size=3), min_size=1, max_size=3), max_size=5
)


def leaves(tree, path=()):
    for key, value in tree.items() if isinstance(tree, dict) else enumerate(tree):
        yield (*path, key), value
        if isinstance(value, dict | list):
            yield from leaves(value, (*path, key))


@given(text=st.sampled_from(TEXTS), seed=st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_blanks_and_remarks_anywhere_stay_through_an_edit(text, seed):
    lines = []
    for line in text.split("\n"):
        if seed.random() < 0.2:
            lines.append(seed.choice(["", "# remark 備考", "   ", "\t# tab"]))
        lines.append(line + (seed.choice(["", "  ", " # side"]) if line and not line.endswith(('"', "[", "]")) else ""))
    roughened = "\n".join(lines)
    tomllib.loads(roughened)
    assert files.edit_job(roughened, {}) == roughened
    edited = files.edit_job(roughened, {"floor.board.gap": 4})
    differing = [(a, b) for a, b in zip(roughened.split("\n"), edited.split("\n"), strict=True) if a != b]
    assert all(b.startswith("gap = 4") for _, b in differing)


@given(text=st.sampled_from(TEXTS), seed=st.randoms(use_true_random=False), value=scalars)
@settings(max_examples=80, deadline=None)
def test_an_edit_changes_that_value_and_nothing_else(text, seed, value):
    tree = tomllib.loads(text)
    path, old = seed.choice([(p, v) for p, v in leaves(tree) if not isinstance(v, dict | list)])
    edited = files.edit_job(text, {written(path): value})
    after = dict(leaves(tomllib.loads(edited)))
    before = dict(leaves(tree))
    assert after[path] == value
    assert {p: v for p, v in after.items() if path[: len(p)] != p} == {
        p: v for p, v in before.items() if path[: len(p)] != p
    }
    if isinstance(old, str | int) and not isinstance(old, bool):
        assert (
            files.edit_job(edited, {written(path): old}).split() == files.edit_job(text, {written(path): old}).split()
        )


@given(text=st.sampled_from(TEXTS), seed=st.randoms(use_true_random=False), one=scalars, other=scalars)
@settings(max_examples=80, deadline=None)
def test_two_edits_one_after_the_other_write_what_both_at_once_write(text, seed, one, other):
    places = [written(p) for p, v in leaves(tomllib.loads(text)) if not isinstance(v, dict | list)]
    first, second = seed.sample(places, 2)
    assert files.edit_job(files.edit_job(text, {first: one}), {second: other}) == files.edit_job(
        text, {first: one, second: other}
    )


@given(tree=trees)
@settings(max_examples=80, deadline=None)
def test_every_value_of_any_toml_text_is_found_on_its_line(tree):
    text = tomlkit.dumps(tree)
    assume(tomllib.loads(text) == tree)
    places = Places(text)
    lines = text.split("\n")
    for path, value in leaves(tree):
        place = places.find(path)
        assert place is not None
        rest = lines[place.line - 1][place.column - 1 :]
        if isinstance(value, bool):
            assert rest.startswith(str(value).lower())
        elif isinstance(value, int):
            assert re.match(r"[-+]?\d+", rest)[0] == str(value)
        elif isinstance(value, str):
            assert rest.startswith(('"', "'"))
        elif isinstance(value, date):
            assert rest.startswith(value.isoformat())


@given(text=st.sampled_from(TEXTS))
@settings(max_examples=20, deadline=None)
def test_every_value_of_a_real_file_is_found_at_its_text(text):
    places = Places(text)
    lines = text.split("\n")
    for path, value in leaves(tomllib.loads(text, parse_float=Decimal)):
        place = places.find(path)
        rest = lines[place.line - 1][place.column - 1 :]
        if isinstance(value, int | Decimal) and not isinstance(value, bool):
            assert re.match(r"-?[\d.]+", rest)[0] == str(value)
        elif isinstance(value, str):
            assert rest[0] in "\"'"


@given(path=st.lists(keys | st.integers(0, 99), min_size=1, max_size=5).filter(lambda p: isinstance(p[0], str)))
@settings(max_examples=100)
def test_a_path_is_written_and_read_back(path):
    assert parsed(written(path)) == tuple(path)


@given(text=st.sampled_from(TEXTS), seed=st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_a_file_with_one_slip_is_read_or_refused_with_a_line(text, seed):
    at = seed.randrange(len(text))
    slip = seed.choice(["", "x", "0", '"', "[", "]", "=", "\n", "-", ".", "1e9", "尺", "#", ",", "\0"])
    slipped = text[:at] + slip + text[at + 1 :]
    try:
        parse_job(slipped)
    except EvenfootError as error:
        faults = error.faults
    else:
        faults = ()
    for fault in faults:
        assert fault.line is not None
        assert 1 <= fault.line <= slipped.count("\n") + 1


@given(text=st.text(max_size=200))
@settings(max_examples=100, deadline=None)
def test_any_text_is_refused_with_a_line(text):
    try:
        parse_job(text)
    except EvenfootError as error:
        lines = {fault.line is not None for fault in error.faults}
    assert lines == {True}


corners = st.tuples(st.integers(0, 9), st.integers(0, 9)).map(lambda p: (Fraction(p[0] * 1000), Fraction(p[1] * 1000)))


@given(points=st.lists(corners, min_size=3, max_size=8))
@settings(max_examples=300)
def test_an_outline_is_simple_by_our_check_just_when_it_is_by_shapely(points):
    """shapely.is_valid is the second opinion; it forgives corners that repeat, which we do not."""
    from shapely import Polygon

    assume(len(set(points)) == len(points))
    is_simple = Polygon([(float(x), float(y)) for x, y in points]).is_valid and doubled_area(points) != 0
    assert (not outline_faults(points, str)) == is_simple
