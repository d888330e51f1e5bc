"""Real plans of the example jobs, and their sheets, made once per run."""

from functools import cache
from pathlib import Path

import pytest

from evenfoot.job import read_job, read_log, read_shop
from evenfoot.plan import make_plan
from evenfoot.sheets import drawings
from evenfoot.words import Language, Speaker

EXAMPLES = Path(__file__).parents[3] / "examples"
JOBS = ("library-terrace", "side-door-landing", "marsh-boardwalk")


@cache
def _plan(name):
    file = EXAMPLES / name / "job.toml"
    job = read_job(file)
    log = file.parent / "log.jsonl"
    return make_plan(job, read_shop(None, standard=job.standard), read_log(log if log.exists() else None))


@cache
def _pages(name, language, paper, unit):
    plan = _plan(name)
    return drawings(plan, Speaker(Language(language), unit or plan.job.unit.value), paper)


@pytest.fixture(scope="session")
def plan_of():
    return _plan


@pytest.fixture(scope="session")
def pages_of():
    def pages(name, language="en", paper="A3", unit=""):
        return _pages(name, language, paper, unit)

    return pages


@pytest.fixture(params=JOBS)
def job(request):
    return request.param


@pytest.fixture(params=["en", "ja"])
def language(request):
    return request.param
