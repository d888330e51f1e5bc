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
DESK = {"viewport": {"width": 1440, "height": 900}}


def faults_of(page):
    """What the automated check finds serious, and whether the page runs out at the side."""
    page.evaluate(AXE)
    found = page.evaluate("tags => axe.run({runOnly: tags})", TAGS)
    grave = [v for v in found["violations"] if v["impact"] in {"serious", "critical"}]
    told = [f"{page.url} {v['id']}: {v['nodes'][0]['html'][:160]}" for v in grave]
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return told + ([f"{page.url} is {wide} px too wide"] if wide > 0 else [])


@pytest.mark.parametrize(("locale", "traits"), [("en-GB", DESK), ("ja-JP", PHONE)], ids=["desk-en", "phone-ja"])
def test_no_page_has_a_serious_fault_nor_runs_out_at_the_side(visit, serving, locale, traits):
    job = serving.begin_job(example="library-terrace")
    digest = serving.api(f"/jobs/{job}")["digest"]
    serving.api(f"/jobs/{job}/changes", "POST", over=digest, changes={"floor.board.gap": "6"})
    places = [f"at/{one.code}" for one in stations()] + ["papers", "past", "past/1", "texts", "what-if"]
    page = visit("/", locale=locale, bypass_csp=True, **traits)
    told = faults_of(page)
    for place in places:
        page.goto(f"{serving.url}/jobs/{job}/{place}")
        told += faults_of(page)
    assert told == []


def test_the_page_is_walked_and_filled_by_key_alone(visit, serving):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/site")
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
    expect(page.locator("#saved")).to_have_text("kept")
    assert serving.value(job, "site.levels[9]") == "700, 800, -460"
    expect(page.locator('[name="site.levels[10].x"]')).to_be_focused()
