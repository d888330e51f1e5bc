"""A floor that stands free is measured from a base line and a datum, and nothing speaks of a house."""

import json
import re
import string
from pathlib import Path

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import Log, files, read_job, read_shop
from evenfoot.office import desk, pack, speaker_for
from evenfoot.plan import make_plan
from evenfoot.sheets import drawings
from evenfoot.words import STANDS_FREE, Language, catalogue

EXAMPLES = Path(__file__).parents[3] / "examples"
HOUSE = {
    "en": re.compile(r"\b(house|wall|sill)\b|indoors", re.IGNORECASE),
    "ja": re.compile("建物(?!への緊結|につな)|家側|壁|敷居|室内"),
}
FREE = {code: entry for code, entry in catalogue().items() if code.startswith(STANDS_FREE)}


def landing_with(**changes):
    """The landing without the readings of its wall, with other values in dotted keys of its file."""
    text = (EXAMPLES / "side-door-landing" / "job.toml").read_text(encoding="utf-8")
    return files.edit_job(text, {"site.wall": None} | {key.replace("__", "."): one for key, one in changes.items()})


def planned(job):
    return make_plan(job, read_shop(None, standard=job.standard), Log(lines=()))


@pytest.fixture(scope="module")
def landing():
    """The same small floor at a house and without one."""
    return {has: planned(files.parse_job(landing_with(site__house=has))) for has in (True, False)}


def texts_of(page):
    return [shape.text for shape in page.shapes if hasattr(shape, "text")]


@pytest.mark.parametrize("code", FREE)
def test_what_is_said_instead_says_the_same_of_the_same_facts(code):
    other = catalogue()[code.removeprefix(STANDS_FREE)]
    for language in ("en", "ja"):
        own, usual = (
            {name for _, name, _, _ in string.Formatter().parse(e[language]) if name} for e in (FREE[code], other)
        )
        assert own == usual
        assert not HOUSE[language].search(FREE[code][language])


@pytest.mark.slow
@pytest.mark.parametrize("language", list(Language))
def test_no_sheet_of_a_free_floor_names_a_house(landing, language):
    said = {
        has: [text for page in drawings(plan, speaker_for(plan, language), "A4") for text in texts_of(page)]
        for has, plan in landing.items()
    }
    assert [text for text in said[True] if HOUSE[language.value].search(text)]
    assert [text for text in said[False] if HOUSE[language.value].search(text)] == []


@pytest.mark.parametrize("language", list(Language))
def test_no_part_of_the_page_nor_of_the_pack_names_a_house(language):
    texts = desk.example_job("marsh-boardwalk")
    one = desk.Desk()
    for station in desk.stations():
        view = desk.view_of(one, 1, texts, desk.Look(station=station, drawing="frame", language=language))
        told = [field.label for group in view.form.groups for field in group.fields] + [*view.names.values()]
        told += [grip.name for grip in view.grips] + [finding.text for finding in view.findings]
        known = (
            "the floor is at a house",
            "on the house",
            "wall in and out",
            "tied to the building",
            "建物に付く",
            "壁の出入り",
        )
        assert [t for t in told if HOUSE[language.value].search(t) and t not in known] == []
    words = pack.pack_record(one.plan(1, texts))["words"]
    assert HOUSE[language.value].search(json.dumps(words["pack.square-how"][language.value])) is None


def test_only_what_a_house_brings_with_it_differs(landing):
    at_house, free = landing[True], landing[False]
    assert [(c.mark, c.length) for c in free.posts.cuts] == [(c.mark, c.length) for c in at_house.posts.cuts]
    assert free.layout == at_house.layout
    rules = {has: {check.rule for check in plan.checks} for has, plan in landing.items()}
    assert rules[False] <= rules[True]
    assert {r.detail for r in free.timber.exposures} == {r.detail for r in at_house.timber.exposures} - {
        "wall-tight",
        "wall-near",
        "wall-open",
    }


@pytest.mark.parametrize(
    ("where", "brought"),
    [
        ("site.wall", {"site__wall": [[0, 0], [2000, 4]]}),
        ("frame.ledger", {"frame__ledger": {"fixing": "half-inch-lags", "spacing": "16 in", "end": "2 in"}}),
    ],
)
def test_what_belongs_to_a_house_needs_one(where, brought):
    with pytest.raises(JobFileError) as told:
        files.parse_job(landing_with(site__house=False, **brought))
    assert [(fault.where, fault.code) for fault in told.value.faults] == [(where, "no-house")]


def test_the_boardwalk_stands_free():
    assert not read_job(EXAMPLES / "marsh-boardwalk" / "job.toml").site.has_house
