"""From a blank job to the sheets in a real browser, as a carpenter goes; at the desk and on a phone."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.slow

PHONE = {"viewport": {"width": 412, "height": 915}, "has_touch": True, "is_mobile": True}


def station(page, code):
    page.locator(f'.rod a[href$="/at/{code}"]').click()
    page.wait_for_url(f"**/at/{code}*")


def field(page, where):
    return page.locator(f'[name="{where}"]')


def kept(page, where, typed):
    """Type into a field as a person does, and wait until it is kept."""
    one = field(page, where)
    if one.evaluate("e => e.localName") == "select":
        one.select_option(typed)
    else:
        one.fill(typed)
    expect(page.locator("#saved")).to_have_text("kept")


def measure(page):
    kept(page, "site.levels[1].z", "-461")
    row = page.locator('[data-grid="site.levels"] tr[data-blank]')
    for name, typed in (("x", "900"), ("y", "1300"), ("z", "-470")):
        row.locator(f'[name$=".{name}"]').fill(typed)
    row.locator('[name$=".z"]').press("Enter")
    expect(field(page, "site.levels[9].z")).to_have_value("-470")
    expect(field(page, "site.levels[10].x")).to_be_focused()


def shape(page):
    """The drawing follows what is typed, and steps back while it cannot be drawn."""
    station(page, "floor")
    before = page.locator("#picture svg").first.inner_html()
    kept(page, "floor.width", "4.2 m")
    page.wait_for_function("old => document.querySelector('#picture svg').innerHTML !== old", arg=before)
    field(page, "floor.depth").fill("-5")
    expect(page.locator('[id="w-floor.depth"]')).to_be_visible()
    expect(field(page, "floor.depth")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#stale")).to_be_visible()
    kept(page, "floor.depth", "2.4 m")
    expect(page.locator("#stale")).to_be_hidden()


def take_nearest(page):
    station(page, "frame")
    field(page, "frame.joist.spacing_max").fill("50")
    take = page.locator('[data-take="frame.joist.spacing_max"]')
    nearest = take.get_attribute("value")
    take.click()
    expect(take).to_be_hidden()
    expect(field(page, "frame.joist.spacing_max")).to_have_value(nearest)
    kept(page, "frame.joist.spacing_max", "450")


def take_papers(page):
    page.locator('.doors a[href$="/papers"]').click()
    page.locator("#wanted button").click()
    expect(page.locator("#fetch")).to_be_visible(timeout=400_000)
    with page.expect_download() as told:
        page.locator("#fetch").click()
    return told.value


@pytest.mark.parametrize("traits", [{}, PHONE], ids=["desk", "phone"])
def test_from_a_blank_to_the_sheets(visit, serving, traits):
    page = visit("/", **traits)
    page.locator("#name").fill("Bakery yard")
    page.locator("form", has=page.locator("#name")).get_by_role("button").click()
    page.wait_for_url("**/at/site")
    job = int(page.url.split("/")[-3])
    measure(page)
    shape(page)
    take_nearest(page)
    for code, where, typed in (
        ("strength", "frame.held.along", "building"),
        ("timber", "frame.beam.species", "hinoki"),
        ("shop", "cutting.together", "beam, joist"),
        ("boards", "floor.board.gap", "6"),
        ("price", "crew.people", "3"),
    ):
        station(page, code)
        kept(page, where, typed)
        assert serving.value(job, where) == typed
    station(page, "setting")
    station(page, "handover")
    assert serving.value(job, "floor.width") == "4.2 m"
    assert serving.value(job, "frame.joist.spacing_max") == "450"
    assert serving.value(job, "site.levels[9]") == "900, 1300, -470"
    papers = take_papers(page)
    assert papers.path().read_bytes()[:5] == b"%PDF-"
    assert papers.suggested_filename.endswith(".pdf")


def test_the_same_in_japanese_and_the_choice_is_remembered(visit, serving):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/floor", locale="ja-JP")
    expect(page.locator("html")).to_have_attribute("lang", "ja")
    field(page, "floor.width").fill("２間")
    expect(page.locator("#saved")).to_have_text("保存済み")
    assert serving.value(job, "floor.width") == "2間"
    page.get_by_role("button", name="English").click()
    expect(page.locator("html")).to_have_attribute("lang", "en")
    page.goto(serving.url)
    expect(page.locator("html")).to_have_attribute("lang", "en")


def test_what_passes_is_told_when_it_is_opened_and_stays_open(visit, serving):
    job = serving.begin_job(example="side-door-landing")
    page = visit(f"/jobs/{job}/at/floor")
    fine = page.locator('#findings details[data-kind="fine"]')
    told = fine.locator("li").count()
    assert told > 20
    assert fine.locator(".count").text_content() == str(told)
    kept(page, "floor.width", "95 in")
    expect(fine.locator("li")).to_have_count(0)
    fine.locator("summary").click()
    expect(fine.locator("li").first).to_be_visible()
    assert str(fine.locator("li").count()) == fine.locator(".count").text_content()
    kept(page, "floor.width", "96 in")
    expect(fine.locator("li").first).to_be_visible()


def test_times_are_told_by_the_clock_of_whoever_looks(visit, serving):
    kept_at = datetime.fromisoformat(serving.api(f"/jobs/{serving.begin_job()}")["job"]["changed_at"])
    for zone in ("Asia/Tokyo", "America/St_Johns"):
        page = visit("/", timezone_id=zone)
        local = kept_at.astimezone(ZoneInfo(zone)).strftime("%Y-%m-%d %H:%M")
        expect(page.locator("time").first).to_have_text(local)


def test_a_server_that_is_told_to_end_leaves_nothing_behind_and_says_nothing(serving, tmp_path):
    served = type(serving)(tmp_path)
    served.begin_job()
    served.end()
    assert served.work.returncode == 0
    assert served.log.read_text() == ""
