"""Planned and measured, side by side."""

from __future__ import annotations

from dataclasses import replace

import pytest

from evenfoot.job import Log, LogLine, files, read_job, read_shop
from evenfoot.plan import make_plan
from evenfoot.sheets import drawings, tables
from evenfoot.words import Language, Speaker

LINE = LogLine(
    time="2026-11-18T10:20:00", what="", mark="", x=None, y=None, value=0.0, accuracy=None, where="", who="Aki"
)


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    place = tmp_path_factory.mktemp("job") / "job.toml"
    place.write_text(files.job_template("japan", "en"), encoding="utf-8")
    return read_job(place)


def planned(job, *lines):
    return make_plan(job, read_shop(None, standard=job.standard), Log(lines=tuple(lines)))


def line(what, mark, value):
    return replace(LINE, what=what, mark=mark, value=value)


def table(plan, code, language=Language.ENGLISH):
    return next((t for t in tables(plan, Speaker(language)) if t.code == code), None)


def test_without_readings_there_is_no_such_sheet(job):
    plan = planned(job)
    assert table(plan, "measured") is None
    assert not [page for page in drawings(plan, Speaker(), "A3") if page.code.startswith("as-built")]


def test_every_reading_stands_beside_what_the_plan_has_there(job):
    bare = planned(job)
    cut, row = bare.posts.cuts[2], bare.layout.rows[6]
    plan = planned(
        job,
        line("post-length", cut.mark, cut.length + 1.5),
        line("board-width", "b7", row.width - 0.5),
        line("board-edge", "b7 left", row.far + 2.0),
        line("bow", "b7.1", 9.0),
        line("distance", "1-2", bare.layout.frame_x[1] - bare.layout.frame_x[0] + 3.0),
        line("post-length", cut.mark, cut.length + 0.5),
    )
    found = table(plan, "measured")
    assert found is not None
    off = {row[1]: row[4] for row in found.rows if row[0] != "bow under a string line"}
    assert off == {
        cut.mark: pytest.approx(0.5),
        "b7": pytest.approx(-0.5),
        "b7 left": pytest.approx(2.0),
        "1-2": pytest.approx(3.0),
    }
    assert {row[5] for row in found.rows} == {"2026-11-18 10:20"}
    assert [page.code for page in drawings(plan, Speaker(), "A3") if page.code.startswith("as-built")]


def test_a_measured_gap_stands_beside_what_the_ground_alone_said(job):
    bare = planned(job)
    cut = bare.posts.cuts[4]
    plan = planned(job, line("post-gap", cut.mark, cut.length + 6.0))
    (row,) = table(plan, "measured").rows
    assert row[2] == pytest.approx(cut.length, abs=1e-6)
    assert row[3] == pytest.approx(cut.length + 6.0)
    assert plan.posts.cuts[4].length == pytest.approx(cut.length + 6.0)


@pytest.mark.parametrize("language", list(Language))
def test_moisture_stands_beside_that_of_the_plan(job, language):
    plan = planned(job, line("moisture", "b7.1", 18.5))
    (row,) = table(plan, "moisture", language).rows
    assert row[1:3] == (job.climate.fixing, 18.5)
