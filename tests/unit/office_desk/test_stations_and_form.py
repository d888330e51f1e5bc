"""Every key has its field on one station, in both languages, and every fault is told at its field or beside the form."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfoot.errors import OutOfRangeError
from evenfoot.job import files
from evenfoot.office.desk import blank_job, change_job, faults_of, form_of, station_named, stations
from evenfoot.office.desk.tree import LISTS
from evenfoot.words import Language, Speaker

FACTS = files.key_facts()
BROKEN = sorted((Path(__file__).parents[2] / "journeys" / "broken").glob("*.toml"))
BLANK = blank_job("Yard", "japan", Language.ENGLISH).job
ENGLISH = Speaker(Language.ENGLISH)


def fields_of(form):
    """Every field of a form, those of grids and of their blank rows too."""
    grids = [g for group in form.groups for g in group.grids]
    while grids:
        grid = grids.pop()
        for row in (*grid.rows, grid.blank):
            yield from row.cells
            grids += [row.inner] if row.inner else []
    for group in form.groups:
        yield from group.fields


def wrongs_of(form):
    yield from (field.wrong for field in fields_of(form) if field.wrong)
    grids = [g for group in form.groups for g in group.grids]
    while grids:
        grid = grids.pop()
        yield from [grid.wrong] if grid.wrong else []
        grids += [row.inner for row in grid.rows if row.inner]


def test_every_key_of_the_job_file_stands_on_exactly_one_station():
    placed = [key for station in stations() for group in station.groups for key in group.keys]
    assert len(placed) == len(set(placed))
    within = {key for key in FACTS if any(key.startswith(f"{one}.") for one, f in FACTS.items() if f.kind in LISTS)}
    assert set(placed) | within == {key for key, fact in FACTS.items() if fact.kind is not files.KeyKind.TABLE}


def test_every_key_has_a_field_that_can_be_typed_into():
    text = change_job(BLANK, {"site.station[0]": ["sill", "1.2 m", "1.2 m"]})
    shown = {field.where for station in stations() for field in fields_of(form_of(text, station, ENGLISH))}
    keys = {re.sub(r"\[\d+\]", "", place) for place in shown}
    wanted = {key for key, fact in FACTS.items() if fact.kind not in LISTS and fact.kind is not files.KeyKind.TABLE}
    assert keys == wanted


@pytest.mark.parametrize("language", Language)
def test_labels_are_said_and_differ_within_their_group(language):
    for station in stations():
        for group in form_of(BLANK, station, Speaker(language)).groups:
            labels = [field.label for field in group.fields]
            assert len(labels) == len(set(labels)), group.code
            assert all(label.strip() and "key." not in label for label in (*labels, group.title))


def test_an_unknown_station_names_those_that_are_there():
    with pytest.raises(OutOfRangeError) as told:
        station_named("attic")
    assert told.value.fault.code == "station-unknown"
    assert told.value.fault.allowed.split(", ") == [one.code for one in stations()]


def test_a_fault_stands_at_its_field_with_the_nearest_value_that_works():
    text = change_job(BLANK, {"floor.board.species": "hinokki"})
    (field,) = [
        f for f in fields_of(form_of(text, station_named("timber"), ENGLISH, faults=faults_of(text))) if f.wrong
    ]
    assert (field.where, field.typed, field.wrong.nearest) == ("floor.board.species", "hinokki", "hinoki")
    assert "hinokki" in field.wrong.text


def test_a_fault_of_a_row_stands_at_its_grid_and_offers_no_button():
    text = BLANK.replace("[1800, 90, -459]", "[1800, 90]")
    grid = form_of(text, station_named("site"), ENGLISH, faults=faults_of(text)).groups[2].grids[1]
    assert (grid.where, grid.wrong.nearest) == ("site.levels", "")


def test_what_is_typed_and_what_is_usual_stand_apart():
    form = form_of(BLANK, station_named("strength"), ENGLISH)
    person = next(field for field in fields_of(form) if field.where == "loads.person")
    assert person.typed == ""
    assert person.default != ""


@pytest.mark.parametrize("path", BROKEN, ids=lambda p: p.stem)
def test_no_fault_of_a_broken_file_is_lost_at_any_station(path):
    text = path.read_bytes().decode("utf-8", errors="replace")
    faults = faults_of(text)
    for station in stations():
        form = form_of(text, station, ENGLISH, faults=faults)
        assert len([*wrongs_of(form), *form.elsewhere]) == len(set(faults))


@pytest.mark.parametrize("path", BROKEN, ids=lambda p: p.stem)
def test_the_nearest_value_that_is_offered_works(path):
    text = path.read_bytes().decode("utf-8", errors="replace")
    faults = faults_of(text)
    for station in stations():
        for field in fields_of(form_of(text, station, ENGLISH, faults=faults)):
            if field.wrong and field.wrong.nearest:
                told = {fault.code for fault in faults if fault.where == field.where}
                mended = change_job(text, {field.where: field.wrong.nearest})
                assert not told & {fault.code for fault in faults_of(mended) if fault.where == field.where}, field


VALUES = [
    key
    for key, fact in FACTS.items()
    if fact.kind not in LISTS and not any(key.startswith(f"{o}.") for o, f in FACTS.items() if f.kind in LISTS)
]
ODD = st.sampled_from(["[]", "{}", "true", "-1", "1e9", '"no such"', '""', "[[1]]", "1979-05-27", "[{a = 1}]", "nan"])


@settings(deadline=None, max_examples=30)
@given(
    broken=st.dictionaries(
        st.sampled_from(
            [*VALUES, *(k for k, f in FACTS.items() if f.kind in LISTS and "." not in k), "floor", "frame.board"]
        ),
        ODD,
        min_size=1,
        max_size=4,
    )
)
def test_no_fault_is_lost_whatever_stands_in_the_file(broken):
    text = "\n".join(f"{key} = {value}" for key, value in broken.items())
    faults = faults_of(text)
    for station in stations():
        form = form_of(text, station, ENGLISH, faults=faults)
        assert len([*wrongs_of(form), *form.elsewhere]) == len(set(faults))
