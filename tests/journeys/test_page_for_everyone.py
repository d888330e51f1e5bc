"""Every page can be read and used by everybody: by key alone, by ear, on a narrow phone, in both languages."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from evenfoot.office.desk import stations

pytestmark = pytest.mark.slow

AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
AT = """() => {
  const at = document.activeElement;
  const lines = [...at.querySelectorAll("line, polygon, polyline, circle")];
  const isSeen = getComputedStyle(at).outlineStyle !== "none"
    || lines.some((line) => getComputedStyle(line).stroke === "rgb(31, 78, 121)");
  return [at.name ?? "", isSeen, at.outerHTML.slice(0, 200)];
}"""
"""Where the focus is, whether it can be seen (within a drawing by its lines), and what it is on."""
PHONE = {"viewport": {"width": 412, "height": 915}, "has_touch": True, "is_mobile": True}
FIT = {"en": "kept", "ja": "保存済み"}
STATIONS_OF_THE_PACK = ("", "square", "level", "posts", "boards", "timbers", "steps", "drawings", "readings")


def faults_of(page, *, skips=()):
    """What the automated check finds serious, and whether the page runs out at the side."""
    page.evaluate(AXE)
    found = page.evaluate("([tags, skips]) => axe.run({exclude: skips}, {runOnly: tags})", [TAGS, list(skips)])
    grave = [v for v in found["violations"] if v["impact"] in {"serious", "critical"}]
    told = [f"{page.url} {v['id']}: {v['nodes'][0]['html'][:160]}" for v in grave]
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return told + ([f"{page.url} is {wide} px too wide"] if wide > 0 else [])


@pytest.fixture
def job(serving):
    """The library terrace with two states, so that its past can be looked at."""
    number = serving.begin_job(example="library-terrace")
    digest = serving.api(f"/jobs/{number}")["digest"]
    serving.api(f"/jobs/{number}/changes", "POST", over=digest, changes={"floor.board.gap": "6"})
    return number


def test_no_page_has_a_serious_fault_nor_runs_out_at_the_side(visit, serving, job, seat, seats):
    places = [f"at/{one.code}" for one in stations()]
    places += ["at/floor?drawing=space", "papers", "past", "past/1", "past/compare?a=1&b=2", "texts", "what-if"]
    # The inside of drawings takes most of the time, and is the same at the desk and on a phone.
    skips = () if seat in (seats["desk-en"], seats["phone-ja"]) else ("#picture svg > *",)
    page = visit("/", bypass_csp=True, **seat)
    told = faults_of(page)
    for place in [f"/jobs/{job}/{place}" for place in places] + ["/kept", "/pair", "/people"]:
        page.goto(serving.url + place)
        told += faults_of(page, skips=skips)
    assert told == []


def test_the_page_of_remedies_has_no_serious_fault_once_it_is_filled(visit, job, seat):
    page = visit(f"/jobs/{job}/remedies", bypass_csp=True, **seat)
    told = faults_of(page)
    page.locator("#seek").click()
    page.locator("[data-changes]").first.click(timeout=120_000)
    expect(page.locator("#taken a")).to_be_visible()
    for one in page.locator("#found summary").all():
        one.click()
    assert told + faults_of(page) == []


def test_no_station_of_the_site_pack_has_a_serious_fault(visit, serving, job, seat):
    # The pack holds no address at all, an icon's neither; a browser looks for one by itself.
    page = visit(f"/jobs/{job}/pack", bypass_csp=True, allows=("favicon.ico",), **seat)
    assert page.get_attribute("html", "lang") == seat["locale"][:2]
    told = []
    for station in (*STATIONS_OF_THE_PACK, "posts/A1", "timbers/A1-4"):
        page.goto(f"{serving.url}/jobs/{job}/pack#{station}")
        page.locator("h1").wait_for()
        told += faults_of(page)
    assert told == []


def test_a_page_that_tells_faults_has_no_serious_fault_itself(visit, serving, job, seat):
    digest = serving.api(f"/jobs/{job}")["digest"]
    changes = {"floor.depth": "-5", "site.station[0].readings[2].rod": "deep"}
    serving.api(f"/jobs/{job}/changes", "POST", over=digest, changes=changes)
    page = visit(f"/jobs/{job}/at/floor", bypass_csp=True, **seat)
    told = []
    for place in ("at/floor", "at/site", "papers", "past/3", "texts"):
        page.goto(f"{serving.url}/jobs/{job}/{place}")
        told += faults_of(page)
    assert told == []


NAMED = """() => [...document.querySelectorAll("a, button, input:not([type=hidden]), select, textarea, summary, [tabindex]")]
  .filter((one) => one.checkVisibility() && one.getAttribute("tabindex") !== "-1")
  .map((one) => [one.outerHTML.slice(0, 120), [
    one.matches("input, select") ? one.closest("fieldset")?.querySelector("legend")?.textContent : "",
    one.getAttribute("aria-label"),
    ...(one.getAttribute("aria-labelledby") ?? "").split(" ").map((id) => document.getElementById(id)?.textContent),
    ...[...(one.labels ?? [])].map((label) => label.textContent),
    one.matches("a, button, summary, [tabindex]") ? one.textContent : "",
  ].filter(Boolean).join(" ").trim()])"""
"""Everything that can be reached with its name, fields with the group that they stand in."""


def test_everything_that_can_be_reached_has_a_name_that_is_told_once(visit, serving, job, seat):
    """Fields and buttons of one page that do different things are called differently."""
    page = visit("/", **seat)
    for place in [f"at/{one.code}" for one in stations()] + ["papers", "past", "texts", "what-if", "remedies"]:
        page.goto(f"{serving.url}/jobs/{job}/{place}")
        named = page.evaluate(NAMED)
        assert len(named) > 4
        assert [html for html, name in named if not name] == [], place
        fields = [name for html, name in named if html.startswith(("<input", "<select", "<textarea"))]
        assert sorted({name for name in fields if fields.count(name) > 1}) == [], place


SMALL = """() => [...document.querySelectorAll("a, button, input:not([type=hidden]), select, summary, textarea")]
  .filter((one) => one.checkVisibility() && !one.matches(".skip"))
  .map((one) => [one, (one.closest("label") ?? one).getBoundingClientRect()])
  .filter(([, { width, height }]) => width && (width < 43.5 || height < 43.5))
  .map(([one, { width, height }]) => `${one.outerHTML.slice(0, 90)} ${width} x ${height}`)"""


@pytest.mark.parametrize("locale", ["en-GB", "ja-JP"])
def test_whatever_can_be_pressed_on_a_phone_is_large_enough_for_a_glove(visit, serving, job, locale):
    page = visit("/", locale=locale, **PHONE)
    places = [f"/jobs/{job}/at/{one.code}" for one in stations()]
    more = ("papers", "past", "past/1", "texts", "what-if", "remedies", "at/floor?drawing=space")
    for place in ["/", *places, *(f"/jobs/{job}/{one}" for one in more), "/kept", "/pair", "/people"]:
        page.goto(serving.url + place)
        assert page.evaluate(SMALL) == [], place


def test_the_page_is_walked_and_filled_by_key_alone(visit, serving, seat):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/site", **seat)
    page.keyboard.press("Tab")
    skip = page.locator(".skip")
    expect(skip).to_be_focused()
    assert skip.bounding_box()["x"] >= 0, "it can be seen once it is reached"
    page.keyboard.press("Enter")
    assert page.url.endswith("#main")
    seen = []
    for _ in range(200):
        page.keyboard.press("Tab")
        at, is_seen, html = page.evaluate(AT)
        assert is_seen, f"the focus cannot be seen on {html}"
        seen.append(at)
        if at == "site.levels[9].x":
            break
    assert seen[-1] == "site.levels[9].x"
    assert seen.index("name") < seen.index("site.levels[0].x") < seen.index("site.levels[0].y")
    for typed in ("700", "800"):
        page.keyboard.type(typed)
        page.keyboard.press("Tab")
    page.keyboard.type("-460")
    page.keyboard.press("Enter")
    expect(page.locator("#saved")).to_have_text(FIT[seat["locale"][:2]])
    assert serving.value(job, "site.levels[9]") == "700, 800, -460"
    expect(page.locator('[name="site.levels[10].x"]')).to_be_focused()


def test_a_remedy_is_taken_over_by_key_alone(visit, serving, job, seat):
    page = visit(f"/jobs/{job}/remedies", **seat)
    page.locator("#seek").focus()
    page.keyboard.press("Enter")
    page.locator("[data-changes]").last.wait_for(timeout=120_000)
    for _ in range(20):
        page.keyboard.press("Tab")
        _, is_seen, html = page.evaluate(AT)
        assert is_seen, f"the focus cannot be seen on {html}"
        if "shallower" in html or "&quot;frame.joints.seat&quot;" in html:
            break
    page.keyboard.press("Enter")
    expect(page.locator("#taken a")).to_be_visible()
    assert serving.value(job, "frame.joints.seat") == "35"
