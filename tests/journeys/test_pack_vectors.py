"""What the phone works out without a signal is what the engine says: its own modules on the engine's cases."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from evenfoot.office import Request, pack, reckon
from evenfoot.words import catalogue

HERE = Path(__file__).parent
ASSETS = HERE.parents[1] / "src" / "evenfoot" / "web" / "assets" / "pack"
VECTORS = HERE.parent / "golden" / "pack"
EXAMPLES = HERE.parents[1] / "examples"
MODULES = (
    "lengths",
    "slips",
    "fit",
    "square",
    "square_answer",
    "run",
    "contact",
    "log",
    "words",
    "level_answer",
    "boards_answer",
    "posts_answer",
)
SMALL = ("lengths", "slips", "chances", "squares", "runs", "contacts", "lines")
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def bench(browser):
    """A page that has loaded the modules as they stand in the source."""
    context = browser.new_context()
    page = context.new_page()

    def serve(route):
        name = route.request.url.rsplit("/", 1)[1]
        if name == "bench.html":
            route.fulfill(body="<!doctype html><title>bench</title>", content_type="text/html")
            return
        file = HERE / name if name == "pack_compare.js" else ASSETS / name
        route.fulfill(body=file.read_text(encoding="utf-8"), content_type="text/javascript")

    page.route("http://bench.invalid/**", serve)
    page.goto("http://bench.invalid/bench.html")
    page.evaluate(
        """async (names) => {
          globalThis.modules = {};
          for (const name of names) globalThis.modules[name] = await import(`/${name}.js`);
          globalThis.compared = await import("/pack_compare.js");
        }""",
        list(MODULES),
    )
    yield page
    context.close()


def kept(name):
    return json.loads((VECTORS / f"{name}.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", SMALL)
def test_the_phone_gives_the_engines_numbers(bench, name):
    found = bench.evaluate("([name, cases]) => compared.compare(name, cases, modules)", [name, kept(name)])
    assert not found[:20]


def test_every_station_answers_as_the_engine_in_both_languages(bench, tmp_path, monkeypatch):
    monkeypatch.setattr("evenfoot.office.pack.whole.drawings_record", lambda plan, speakers: [])
    cases = kept("answers")
    packs = {name: plain_pack(name, tmp_path) for name in {case["job"] for case in cases}}
    found = bench.evaluate("([cases, packs]) => compared.compareAnswers(cases, packs, modules)", [cases, packs])
    assert not found[:20]


def plain_pack(name, folder):
    """The pack of an example without a log, in the words of ``evenfoot set`` itself."""
    place = folder / name / "job.toml"
    place.parent.mkdir()
    place.write_bytes((EXAMPLES / name / "job.toml").read_bytes())
    record = pack.pack_record(reckon(Request(job=place)))
    return record | {"words": {code: dict(catalogue()[code]) for code in record["words"]}}


def test_a_wrong_number_would_be_seen(bench):
    cases = kept("runs")[:3]
    cases[1]["answer"]["misses"] += 1e-6
    found = bench.evaluate("([name, cases]) => compared.compare(name, cases, modules)", ["runs", cases])
    assert len(found) == 1
    assert found[0].startswith("run 1.misses: ")
