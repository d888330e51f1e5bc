"""A carpenter with a phone on the slab and no signal: square, posts, gap, steps; nothing typed is ever lost."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from evenfoot.cli.main import FINE, run
from evenfoot.job import files
from evenfoot.office import Request, reckon, setting
from evenfoot.web import pack_html
from evenfoot.words import Language

EXAMPLES = Path(__file__).parents[2] / "examples"
STATIONS = ("square", "level", "posts", "boards", "timbers", "steps", "drawings", "readings")
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def slab(tmp_path_factory):
    """The library terrace and the side door landing, each a folder with its job and its pack."""
    folder = tmp_path_factory.mktemp("slab")
    for name in ("library-terrace", "side-door-landing"):
        shutil.copytree(EXAMPLES / name, folder / name)
        plan = reckon(Request(job=folder / name / "job.toml"))
        (folder / name / "pack.html").write_bytes(pack_html(plan, Language.ENGLISH))
    return folder


class Slab:
    """One open pack, with everything that went wrong."""

    def __init__(self, context, file):
        self.page = context.new_page()
        self.file = file
        self.wrong = []
        self.asked = []
        self.page.on("console", lambda m: self.wrong.append(m.text) if m.type in {"error", "warning"} else None)
        self.page.on("pageerror", lambda e: self.wrong.append(str(e)))
        self.page.on("request", lambda r: self.asked.append(r.url))
        self.open("")

    def open(self, station):
        self.page.goto(f"file://{self.file}{'#' + station if station else ''}")
        self.page.wait_for_selector("h1")

    def type_in(self, **figures):
        for label, value in figures.items():
            self.page.get_by_label(label.replace("_", "-"), exact=False).first.fill(value)
        self.page.get_by_role("button", name="Note what is typed").click()

    @property
    def lines(self):
        return self.page.locator(".answer p").all_inner_texts()

    def says(self, text):
        self.page.locator(".answer .first", has_text=text).wait_for(timeout=60_000)


@pytest.fixture
def terrace(phone, slab):
    opened = Slab(phone, slab / "library-terrace" / "pack.html")
    yield opened
    assert opened.wrong == []
    outside = [url for url in opened.asked if not url.startswith(("file:///", "blob:"))]
    assert outside == []


def test_a_carpenter_squares_the_frame_and_a_reload_keeps_it(terrace):
    page = terrace.page
    page.get_by_role("link", name="Square").click()
    terrace.says("Measure four sides and both diagonals.")
    figures = {"1-2": "3576.5", "2-3": "2697.5", "3-4": "3.5765 m", "1-4": "2697.5 mm", "1-3": "4486", "2-4": "4473.5"}
    for label, value in figures.items():
        page.get_by_label(label).fill(value)
    page.get_by_role("button", name="Note what is typed").click()
    terrace.says("Not square: opposite sides are equal, but the outer side stands")
    assert terrace.lines[1].startswith("Push corner 3 (outer right) to the left by")
    before = terrace.lines
    page.reload()
    page.wait_for_selector("h1")
    assert terrace.lines == before
    for label in ("1-3", "2-4"):
        page.get_by_label(label).fill("4480")
    page.get_by_role("button", name="Note what is typed").click()
    terrace.says("Square")
    assert "supersede" not in page.inner_text("main")


def test_a_slip_is_doubted_and_only_noted_when_it_is_meant(terrace):
    page = terrace.page
    terrace.open("square")
    page.get_by_label("1-2").fill("3567 cm")
    page.get_by_role("button", name="Note what is typed").click()
    alert = page.get_by_role("alert")
    assert "35670 mm looks like a slip; 3567 mm would fit" in alert.inner_text()
    assert page.get_by_label("1-2").get_attribute("aria-invalid") == "true"
    terrace.says("Measure four sides and both diagonals.")
    page.get_by_label("1-2").fill("some")
    page.get_by_role("button", name="Note what is typed").click()
    assert "cannot be read as a length" in alert.inner_text()
    page.get_by_label("1-2").fill("3767")
    page.get_by_role("button", name="Note what is typed").click()
    page.get_by_role("button", name="It is as typed: note it").click()
    terrace.says("It cannot be told yet")


def test_posts_are_cut_and_looked_at_one_by_one(terrace):
    page = terrace.page
    page.get_by_role("link", name="Posts").click()
    terrace.says("None of 20 posts is measured yet")
    page.get_by_role("link", name="A1 rough").click()
    page.get_by_role("button", name="A jack stands here").click()
    assert page.get_by_role("button", name="A jack stands here").get_attribute("aria-pressed") == "true"
    for mark in ("I1", "A4", "I4"):
        terrace.open(f"posts/{mark}")
        page.get_by_role("button", name="A jack stands here").click()
    terrace.open("posts/A1")
    page.get_by_label("Clear gap").fill("268.5")
    page.get_by_role("button", name="Note what is typed").click()
    page.get_by_role("link", name="Back").click()
    terrace.says("Cut now: A1 268.5 mm (1 of 20 posts are measured).")
    page.get_by_role("link", name="C1 rough").click()
    page.get_by_role("button", name="The foot stands").click()
    page.get_by_label("Back").click()
    terrace.says("steady")
    page.get_by_role("link", name="I1 stands").click()
    page.get_by_label("Gap under the foot").fill("2.5")
    page.get_by_role("button", name="Note what is typed").click()
    page.get_by_label("Back").click()
    terrace.says("at post I1")
    page.locator(".answer .do", has_text="Pack under I1 2.5 mm. The others stay.").wait_for(timeout=60_000)
    assert page.locator("a.post.hand").count() == 1
    page.get_by_role("button", name="Rather pack").click()
    page.locator(".answer .do", has_text="Pack under I1").wait_for(timeout=60_000)
    assert page.get_by_role("button", name="Rather pack").get_attribute("aria-pressed") == "true"


def test_jacks_that_cannot_hold_the_frame_are_told(terrace):
    terrace.open("posts/A1")
    terrace.page.get_by_role("button", name="A jack stands here").click()
    terrace.page.get_by_label("Clear gap").fill("268.5")
    terrace.page.get_by_role("button", name="Note what is typed").click()
    terrace.open("posts")
    terrace.says("The frame would fall from jacks at A1 alone")


def test_the_next_gap_follows_the_last_edge(terrace):
    page = terrace.page
    page.get_by_role("link", name="Next gap").click()
    page.get_by_label("Row", exact=False).first.fill("9")
    page.get_by_label("Row", exact=False).first.press("Tab")
    planned = page.locator(".field .hint", has_text="planned").first.inner_text()
    page.get_by_label("Far edge").first.fill(str(float(planned.split()[1]) + 2))
    page.get_by_role("button", name="Note what is typed").first.click()
    terrace.says("Spacer before row")
    assert page.locator("table tbody tr").count() == 25 - 9
    assert page.get_by_label("Row", exact=False).first.input_value() == "10"


def test_level_readings_name_the_feet_to_turn(terrace):
    page = terrace.page
    page.get_by_role("link", name="Level Hold").click()
    for mark, value in {"A1": "1000", "I1": "1001", "A4": "1038", "I4": "1033"}.items():
        page.get_by_label(mark, exact=True).first.fill(value)
    page.get_by_role("button", name="Note what is typed").click()
    terrace.says("stands")
    assert terrace.lines[1].startswith("Turn ")
    page.get_by_role("button", name="Feet were turned: begin a new survey").click()
    assert "Survey 2, stand 1" in page.inner_text("form h2")


def test_steps_are_ticked_and_timed_and_a_drawing_is_looked_at(terrace):
    page = terrace.page
    page.get_by_role("link", name="Steps and hours").click()
    page.get_by_label("Set out and level").first.check()
    terrace.says("Next: 2.")
    page.get_by_role("button", name="Start clock: Order").click()
    page.reload()
    assert page.get_by_role("button", name="Stop clock: Order").count() == 1
    assert page.get_by_label("Set out and level").first.is_checked()
    page.get_by_role("link", name="Back").click()
    page.get_by_role("link", name="Drawings").click()
    page.get_by_role("link", name="Frame plan").click()
    width = page.locator(".sheet svg").bounding_box()["width"]
    page.get_by_role("button", name="Larger").click()
    assert page.locator(".sheet svg").bounding_box()["width"] > 1.3 * width


def test_marks_for_the_timber_in_hand_are_the_plans(terrace, slab):
    page = terrace.page
    plan = reckon(Request(job=slab / "library-terrace" / "job.toml"))
    mark = plan.frame.members[0].mark
    terrace.open(f"timbers/{mark}")
    cuts = [c for c in plan.joinery.cuts_on(mark) if c.kind.value != "square-end"]
    assert page.locator("tbody tr").count() == len(cuts)
    assert page.locator("tbody tr").first.locator("td").first.inner_text() == f"{round(cuts[0].begin * 2) / 2:g}"


def test_a_bow_and_what_a_moisture_meter_says_go_home_as_facts(terrace, slab, tmp_path):
    page = terrace.page
    job = tmp_path / "job.toml"
    shutil.copy(slab / "library-terrace" / "job.toml", job)
    plan = reckon(Request(job=job))
    mark = plan.frame.members[0].mark
    terrace.open("boards")
    page.get_by_label("Bow in the middle").fill("900")
    page.get_by_role("button", name="Note what is typed").nth(1).click()
    page.locator(".trouble", has_text="looks like a slip").wait_for()
    page.get_by_label("Bow in the middle").fill("-9")
    page.get_by_role("button", name="Note what is typed").nth(1).click()
    page.locator(".hint", has_text="-9").wait_for()
    terrace.open(f"timbers/{mark}")
    page.get_by_label("Moisture %").fill("21,5")
    page.get_by_role("button", name="Note what is typed").click()
    page.locator(".trouble", has_text="no moisture").wait_for()
    page.get_by_label("Moisture %").fill("21.5")
    page.get_by_role("button", name="Note what is typed").click()
    page.locator(".hint", has_text="21.5 %").wait_for()
    terrace.open("readings")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    brought = tmp_path / "phone.jsonl"
    download.value.save_as(brought)
    noted = {(line.what, line.mark, line.value) for line in files.read_log(brought).lines}
    assert noted == {("bow", plan.layout.pieces[0].mark, -9.0), ("moisture", mark, 21.5)}
    assert run(["bring", str(job), str(brought)]) == FINE
    asked = setting.ask_bows(setting.Asked(job=job), setting.BowsTyped())
    assert asked.record["boards"][0]["bow_mm"] == -9.0


def test_the_saved_file_is_the_jobs_own_log_and_comes_back_by_bring(terrace, slab, tmp_path, capsys):
    page = terrace.page
    terrace.open("square")
    page.get_by_label("1-2").fill("3577")
    page.get_by_role("button", name="Note what is typed").click()
    terrace.open("readings")
    terrace.says("Not handed over yet: 1.")
    page.get_by_label("Who reads").fill("Aki")
    page.get_by_label("Who reads").press("Tab")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    brought = tmp_path / "phone.jsonl"
    download.value.save_as(brought)
    terrace.says("Nothing waits to be handed over.")
    (line,) = files.read_log(brought).lines
    kept = page.evaluate(
        "() => Object.keys(localStorage).filter((k) => k.includes(':line:')).map((k) => JSON.parse(localStorage[k]).line.id)"
    )
    assert kept == [line.id], "the phone and the engine give a line the same id"
    job = tmp_path / "job.toml"
    shutil.copy(slab / "library-terrace" / "job.toml", job)
    assert run(["bring", str(job), str(brought)]) == FINE
    assert capsys.readouterr().out.startswith("New lines in the log: 1")
    assert run(["bring", str(job), str(brought), "--json"]) == FINE
    assert json.loads(capsys.readouterr().out)["brought"][0]["new"] == 0


def test_a_reading_is_taken_back_and_differing_ones_are_shown(terrace):
    page = terrace.page
    for value in ("3577", "3580"):
        terrace.open("square")
        page.get_by_label("1-2").fill(value)
        page.get_by_role("button", name="Note what is typed").click()
    terrace.open("readings")
    differs = page.locator(".differs")
    assert "3580 mm" in differs.inner_text()
    assert "3577 mm" in differs.inner_text()
    page.get_by_role("button", name="Take back: distance between corners 1-2").first.click()
    assert page.locator(".differs").count() == 0
    assert page.locator(".lines .undone").count() == 1
    page.reload()
    assert page.locator(".lines .undone").count() == 1


def test_two_open_pages_of_one_job_see_each_others_readings(phone, slab):
    first, second = (Slab(phone, slab / "library-terrace" / "pack.html") for _ in range(2))
    first.open("square")
    second.open("square")
    first.page.get_by_label("1-2").fill("3577")
    first.page.get_by_role("button", name="Note what is typed").click()
    second.page.locator(".hint", has_text="3577 mm").wait_for()
    second.page.get_by_label("2-3").fill("2698")
    second.page.get_by_role("button", name="Note what is typed").click()
    first.page.locator(".hint", has_text="2698 mm").wait_for()
    assert first.wrong == second.wrong == []


def test_what_is_typed_stays_while_the_page_is_drawn_anew(terrace):
    page = terrace.page
    terrace.open("square")
    page.get_by_label("1-2").fill("35")
    page.evaluate("() => window.dispatchEvent(new Event('storage'))")
    assert page.get_by_label("1-2").input_value() == "35"


def test_a_browser_that_keeps_nothing_says_so(browser, slab):
    context = browser.new_context(viewport={"width": 412, "height": 915})
    context.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new Error('no'); }})")
    opened = Slab(context, slab / "side-door-landing" / "pack.html")
    assert "keeps nothing when the page is closed" in opened.page.inner_text("main")
    opened.open("readings")
    context.close()


def test_readings_are_sent_to_the_program_that_the_pack_came_from(browser, slab):
    plan = reckon(Request(job=slab / "side-door-landing" / "job.toml"))
    html = pack_html(plan, Language.ENGLISH, log_url="/jobs/1/log")
    context = browser.new_context(viewport={"width": 412, "height": 915})
    page, got = context.new_page(), []

    def serve(route):
        if route.request.method == "POST":
            got.append(json.loads(route.request.post_data))
            route.fulfill(status=503 if len(got) == 1 else 200, body="{}")
        else:
            route.fulfill(body=html, content_type="text/html")

    page.route("http://desk.invalid/**", serve)
    page.goto("http://desk.invalid/pack#square")
    page.get_by_label("1-2").fill("9'")
    page.get_by_role("button", name="Note what is typed").click()
    if page.get_by_role("button", name="It is as typed: note it").count():
        page.get_by_role("button", name="It is as typed: note it").click()
    page.goto("http://desk.invalid/pack#readings")
    page.get_by_role("button", name="Send to the job").click()
    page.get_by_role("status").filter(has_text="Everything is still here").wait_for()
    assert page.locator(".answer .first").inner_text().startswith("Not handed over yet: 1.")
    page.get_by_role("button", name="Send to the job").click()
    page.locator(".answer .first", has_text="Nothing waits").wait_for()
    assert [line["what"] for line in got[1]["lines"]] == ["distance"]
    assert got[1]["lines"][0]["value_mm"] == pytest.approx(2743.2)
    context.close()


@pytest.mark.parametrize("name", ["library-terrace", "side-door-landing"])
@pytest.mark.parametrize("language", ["en", "ja"])
def test_every_station_is_within_reach_of_a_glove(phone, slab, name, language):
    opened = Slab(phone, slab / name / "pack.html")
    page = opened.page
    if language == "ja":
        page.get_by_role("button", name="日本語").click()
        assert page.get_attribute("html", "lang") == "ja"
    timber = f"timbers/{reckon(Request(job=slab / name / 'job.toml')).frame.members[0].mark}"
    for station in ("", *STATIONS, timber, "posts/B1" if name == "side-door-landing" else "posts/A1"):
        opened.open(station)
        if language == "ja" and page.get_attribute("html", "lang") != "ja":
            page.get_by_role("button", name="日本語").click()
        small = page.evaluate(SMALL)
        assert small == [], station
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth + 1"), f"{station} is cut off"
        nameless = page.evaluate(NAMELESS)
        assert nameless == [], station
        assert "{" not in page.inner_text("main")
        assert "undefined" not in page.inner_text("main")
        assert "[object" not in page.inner_text("main")
        assert page.locator("h1").count() == 1
    assert opened.wrong == []


SMALL = """() => {
  const out = [];
  for (const one of document.querySelectorAll("a, button, input, summary, select")) {
    const box = one.getBoundingClientRect();
    if (box.width && (box.height < 48 || box.width < 48)) out.push(`${one.outerHTML.slice(0, 90)} ${box.width} x ${box.height}`);
  }
  for (const one of document.querySelectorAll("main p, main span, main li, main label, main td, main th, main button, main a")) {
    const size = parseFloat(getComputedStyle(one).fontSize);
    if (one.textContent.trim() && size < 18) out.push(`${size} px: ${one.textContent.slice(0, 40)}`);
  }
  return out.slice(0, 10);
}"""

NAMELESS = """() => {
  const named = (one) => one.getAttribute("aria-label") || one.textContent.trim() || (one.labels && one.labels.length);
  const all = [...document.querySelectorAll("a, button, input, [role=img], nav, [role=group], [role=region]")];
  return all.filter((one) => !named(one)).map((one) => one.outerHTML.slice(0, 100));
}"""
