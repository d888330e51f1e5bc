"""Findings name their sources by title: ids are looked up, clauses and places in the job file stay."""

from pathlib import Path

import pytest

from evenfoot.job import read_job, read_log, read_shop
from evenfoot.plan import make_plan, source_titles

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*/job.toml"))


def test_ids_become_titles_in_their_order():
    found = source_titles("wh190_t4_3 wh_memory")
    assert [key for key, _ in found] == ["wh190_t4_3", "wh_memory"]
    assert found[0][1].startswith("Wood handbook, GTR-190, table 4-3")
    assert found[0][1].endswith("US Forest Products Laboratory, 2010")


def test_a_clause_behind_an_id_is_kept():
    first, second = source_titles("irc2018_r311_3_1 R311.3.1")
    assert first[0] == "irc2018_r311_3_1"
    assert second == ("", "R311.3.1")


@pytest.mark.parametrize(
    "text",
    ["site.wall[3]", "Enforcement Order (施行令) art. 43-6", "Notice 1024 of 2001 (平13国交告1024) 1; own art. 89"],
)
def test_clauses_and_places_in_the_job_stay_as_they_are(text):
    assert source_titles(text) == (("", text),)


def test_nothing_gives_nothing():
    assert source_titles("") == ()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.parent.name)
def test_no_id_of_a_source_is_left_in_what_a_person_reads(path):
    job = read_job(path)
    plan = make_plan(job, read_shop(None, standard=job.standard), read_log(None))
    texts = [title for c in plan.checks for _, title in source_titles(c.source)]
    assert texts
    assert not [t for t in texts if "_" in t and not t.startswith(("site.", "floor.", "frame."))]
