"""The shelf of jobs: begun, taken in and given out byte for byte, undone across a new opening, never losing a line."""

from pathlib import Path

import pytest

from evenfoot.errors import ConflictError, JobFileError, NoSolutionError, OutOfRangeError, StoreError
from evenfoot.office.desk import example_names, open_shelf
from evenfoot.office.desk.tree import typed_at
from evenfoot.words import Language

EXAMPLES = Path(__file__).parents[3] / "examples"


@pytest.fixture
def url(tmp_path):
    return f"sqlite:///{tmp_path / 'jobs.db'}"


@pytest.fixture
def shelf(url):
    return open_shelf(url)


def code(told):
    return told.value.fault.code


@pytest.mark.parametrize("name", example_names())
def test_an_example_begins_as_the_bytes_that_ship(shelf, name):
    state = shelf.state(shelf.begin_example(name))
    assert state.texts.job.encode() == (EXAMPLES / name / "job.toml").read_bytes()
    log = EXAMPLES / name / "log.jsonl"
    assert state.texts.log == tuple(log.read_text(encoding="utf-8").splitlines() if log.exists() else ())
    assert not state.can_undo


def test_an_example_that_does_not_ship_is_refused(shelf):
    with pytest.raises(OutOfRangeError) as told:
        shelf.begin_example("../secret")
    assert code(told) == "not-a-choice"


@pytest.mark.parametrize("text", ["", "name = ", 'name = "Crlf"\r\n', "# é 縁側\n", "x" * 900_000, 'name = ["a"]'])
def test_what_is_taken_in_stands_as_it_came(shelf, text):
    assert shelf.state(shelf.take_in(text, name="file")).texts.job == text


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ('name = "Yard"', "Yard"),
        ("", "file"),
        ('name = "  "', "file"),
        ('name = "a\\n b"', "a b"),
        ("name = 3", "file"),
        ('name = "a\\u0000b"', "file"),
        (f'name = "{"x" * 500}"', "x" * 80),
    ],
)
def test_the_card_takes_the_name_in_the_file(shelf, text, name):
    assert shelf.state(shelf.take_in(text, name="file")).card.name == name


def test_a_copy_has_its_name_and_not_the_log(shelf):
    job = shelf.begin_example("library-terrace")
    shelf.add_lines(job, [LINE])
    copied = shelf.state(shelf.copy(job, "Again"))
    assert (copied.card.name, typed_at(copied.texts.job, "name"), copied.texts.log) == ("Again", "Again", ())
    assert LINE in shelf.state(job).texts.log


def test_the_card_follows_a_name_that_is_changed_and_turned_back(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    turns = [shelf.change(job, {"name": "Quay"}, over=shelf.state(job).digest).state, shelf.undo(job), shelf.redo(job)]
    assert [state.card.name for state in turns] == ["Quay", "Yard", "Quay"]
    assert shelf.cards()[0].name == "Quay"


def test_undo_and_redo_go_on_after_a_new_opening(shelf, url):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    for width in ("3000", "3100"):
        shelf.change(job, {"floor.width": width}, over=shelf.state(job).digest)
    again = open_shelf(url)
    assert typed_at(again.undo(job).texts.job, "floor.width") == 3000
    assert typed_at(open_shelf(url).undo(job).texts.job, "floor.width") == 3600
    with pytest.raises(NoSolutionError) as told:
        again.undo(job)
    assert code(told) == "nothing-to-undo"
    assert typed_at(open_shelf(url).redo(job).texts.job, "floor.width") == 3000
    state = again.redo(job)
    assert (typed_at(state.texts.job, "floor.width"), state.can_redo) == (3100, False)


def test_going_back_is_a_new_state_that_can_be_undone(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    first = shelf.state(job)
    shelf.change(job, {"floor.width": "3000"}, over=first.digest)
    back = shelf.go_back_to(job, 1)
    assert (back.number, back.texts.job) == (3, first.texts.job)
    assert typed_at(shelf.undo(job).texts.job, "floor.width") == 3000
    assert [r.number for r in shelf.trail(job)] == [3, 2, 1]


def test_a_change_over_an_old_state_meets_what_stands(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    old = shelf.state(job).digest
    shelf.change(job, {"floor.width": "3000"}, over=old, who="Aki")
    made = shelf.change(job, {"floor.depth": "1900", "floor.width": "3300"}, over=old, who="Ben")
    assert [c.where for c in made.clashes] == ["floor.width"]
    assert (typed_at(made.state.texts.job, "floor.width"), typed_at(made.state.texts.job, "floor.depth")) == (
        3000,
        1900,
    )


def test_whole_texts_are_saved_over_what_was_read_only(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    old = shelf.state(job).digest
    shelf.rewrite(job, over=old, job_text='name = "Mill"\n')
    with pytest.raises(ConflictError) as told:
        shelf.rewrite(job, over=old, job_text="lost")
    assert code(told) == "job-changed"
    assert shelf.state(job).card.name == "Mill"


LINE = '{"time": "2026-05-01T09:00:00", "what": "level", "mark": "B2", "x_mm": 900, "y_mm": 1010, "value_mm": -459}'
OTHER = '{"time": "2026-05-01T10:00:00", "what": "level", "mark": "E1", "x_mm": 3120, "y_mm": 1480, "value_mm": -491}'


def test_lines_of_two_phones_are_a_union(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    assert shelf.add_lines(job, [LINE, OTHER]) == 2
    assert shelf.add_lines(job, [OTHER, LINE, "  ", LINE]) == 0
    assert shelf.state(job).texts.log == (LINE, OTHER)


def test_a_line_that_is_no_fact_is_refused_and_none_is_added(shelf):
    job = shelf.begin_blank("Yard", "japan", Language.ENGLISH)
    with pytest.raises(JobFileError):
        shelf.add_lines(job, [LINE, '{"kind": "no such"}'])
    assert shelf.state(job).texts.log == ()


def test_cards_are_sought_put_away_and_moved_along(shelf):
    first, second = (shelf.begin_blank(name, "japan", Language.ENGLISH) for name in ("Yard", "縁側 Mill"))
    assert [card.number for card in shelf.cards(search="mill")] == [second]
    shelf.archive(second, is_archived=True)
    assert [card.number for card in shelf.cards()] == [first]
    assert {card.number for card in shelf.cards(has_archived=True)} == {first, second}
    shelf.set_stage(first, "order")
    assert shelf.state(first).card.stage.value == "order"
    with pytest.raises(OutOfRangeError) as told:
        shelf.set_stage(first, "finished")
    assert code(told) == "not-a-choice"


def test_a_job_that_is_not_there_is_told(shelf):
    for ask in (shelf.state, shelf.undo, shelf.redo, shelf.trail):
        with pytest.raises(StoreError) as told:
            ask(77)
        assert code(told) == "job-unknown"
