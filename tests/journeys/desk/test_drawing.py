"""Drawings at hand in a real browser: come closer, choose by mouse, finger and keys, drag an edge with its measure."""

import json
from dataclasses import asdict
from html import escape
from pathlib import Path

import pytest

from evenfoot.office.desk.captions import drawing_words
from evenfoot.office.desk.grips import grips_of, names_of
from evenfoot.press import svg_of
from evenfoot.sheets import on_screen

pytestmark = pytest.mark.slow

AXE = Path(__file__).parents[1] / "vendor" / "axe.min.js"
SCRIPT = """
import { watchDrawing } from "/assets/desk/drawing.js";
window.picks = [];
window.drags = [];
const told = await (await fetch("/told.json")).json();
window.drawing = watchDrawing(document.querySelector("#picture"), {
  onPick: (mark) => window.picks.push(mark),
  onDrag: (move) => window.drags.push(move),
});
window.drawing.renew(told);
document.body.dataset.ready = "yes";
"""


@pytest.fixture
def shown(server, open_page, plan_of, speaks):
    """Show the drawings of an example and return the page."""

    def show(name="library-terrace", sheet="frame", **options):
        plan = plan_of(name)
        speaker = speaks(plan)
        data = " ".join(f'data-{key}="{escape(text)}"' for key, text in drawing_words(speaker).items())
        svgs = "".join(svg_of(one.page) for one in on_screen(plan, speaker, sheet))
        server.files["/told.json"] = json.dumps(
            {"names": dict(names_of(plan, speaker)), "grips": [asdict(grip) for grip in grips_of(plan, speaker)]}
        ).encode()
        server.files["/try.js"] = SCRIPT.encode()
        server.files["/favicon.png"] = b""
        server.files["/page.css"] = b"svg { width: 100%; height: auto; display: block }"
        server.files["/"] = (
            "<!doctype html><html lang=en><meta charset=utf-8><title>Drawing</title>"
            "<meta name=viewport content='width=device-width'><link rel=icon href=/favicon.png>"
            "<link rel=stylesheet href=/assets/desk/drawing.css><link rel=stylesheet href=/page.css>"
            f"<main><h1>Drawing</h1><div id=picture {data}>{svgs}</div></main>"
            "<script type=module src=/try.js></script></html>"
        ).encode()
        page = open_page(**options)
        page.wait_for_selector("body[data-ready]")
        return page

    return show


def seen(page):
    return [float(v) for v in page.locator("svg").first.get_attribute("viewBox").split()]


def middle_of(page, mark, layer):
    box = page.locator(f'g[data-member="{mark}"][data-layer="{layer}"]').first.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def on_screen_at(page, x, y):
    """Where a place on the floor [mm] lies on the screen, by the figures that the drawing carries alone."""
    return page.evaluate(
        """([x, y]) => {
          const svg = document.querySelector("svg");
          const { scale, x0, y0 } = svg.dataset;
          const at = new DOMPoint(Number(x0) + x / scale, Number(y0) - y / scale).matrixTransform(svg.getScreenCTM());
          return [at.x, at.y];
        }""",
        [x, y],
    )


def test_a_click_chooses_and_the_choice_is_vermilion(shown):
    page = shown()
    page.mouse.click(*middle_of(page, "E2", "post"))
    assert page.evaluate("picks") == ["E2"]
    chosen = page.locator(".is-chosen polygon").first
    assert chosen.evaluate("(e) => getComputedStyle(e).stroke") == "rgb(179, 50, 28)"
    page.evaluate("drawing.select(['1A-I', 'A1-4'])")
    marks = page.locator(".is-chosen").evaluate_all("(all) => [...new Set(all.map((g) => g.dataset.member))]")
    assert set(marks) == {"1A-I", "A1-4"}
    assert page.evaluate("picks") == ["E2"], "what is chosen from outside is not told back"


def test_a_tap_beside_a_thin_thing_chooses_it(shown, plan_of):
    """Half a finger away from a joist, in the open bay between two beams."""
    joist = plan_of("library-terrace").frame.member("C1-4")
    page = shown(has_touch=True, viewport={"width": 420, "height": 800})
    x, y = on_screen_at(page, joist.start[0] - joist.width / 2, 1400.0)
    box = page.locator('g[data-member="C1-4"][data-layer="joist"]').first.bounding_box()
    assert box["width"] < 24, "a thin thing was wanted for this"
    page.touchscreen.tap(x - 9, y)
    corner = page.locator("svg").bounding_box()
    page.touchscreen.tap(corner["x"] + 3, corner["y"] + 3)
    assert page.evaluate("picks") == ["C1-4", ""]


def test_keys_go_from_timber_to_timber_with_names(shown):
    page = shown()
    page.locator("svg").focus()
    page.keyboard.press("PageDown")
    first = page.evaluate("document.activeElement.getAttribute('aria-label')")
    page.keyboard.press("PageDown")
    page.keyboard.press("PageUp")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == first
    page.keyboard.press("Enter")
    (mark,) = page.evaluate("picks")
    assert first.endswith(mark)
    assert page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"
    page.keyboard.press("Escape")
    assert page.evaluate("picks")[-1] == ""


def test_keys_and_wheel_come_closer_and_move_within_the_paper(shown):
    page = shown()
    whole = seen(page)
    page.locator("svg").focus()
    page.keyboard.press("+")
    closer = seen(page)
    assert closer[2] == pytest.approx(whole[2] / 1.25)
    page.keyboard.press("ArrowRight")
    assert seen(page)[0] > closer[0]
    for _ in range(30):
        page.keyboard.press("ArrowRight")
    assert seen(page)[0] == pytest.approx(whole[0] + whole[2] - closer[2], abs=1e-3)
    page.keyboard.press("Home")
    assert seen(page) == pytest.approx(whole, abs=1e-3)
    box = page.locator("svg").bounding_box()
    at = (box["x"] + box["width"] * 0.25, box["y"] + 200)
    page.mouse.move(*at)
    page.mouse.wheel(0, -200)
    page.wait_for_timeout(50)
    assert seen(page)[2] < whole[2]
    assert seen(page)[0] + 0.25 * seen(page)[2] == pytest.approx(whole[0] + 0.25 * whole[2], rel=0.01)


def test_the_wheel_rolls_the_page_while_the_drawing_is_not_at_hand(shown):
    page = shown()
    whole = seen(page)
    box = page.locator("svg").bounding_box()
    page.mouse.move(box["x"] + 200, box["y"] + 200)
    page.mouse.wheel(0, 120)
    page.wait_for_timeout(100)
    assert seen(page) == pytest.approx(whole, abs=1e-3)


def test_a_drag_moves_a_close_drawing_and_chooses_nothing(shown):
    page = shown()
    page.locator("svg").focus()
    for _ in range(4):
        page.keyboard.press("+")
    before = seen(page)
    box = page.locator("svg").bounding_box()
    page.mouse.move(box["x"] + 300, box["y"] + 250)
    page.mouse.down()
    page.mouse.move(box["x"] + 260, box["y"] + 230, steps=4)
    page.mouse.up()
    dot = before[2] / box["width"]
    assert seen(page)[0] - before[0] == pytest.approx(40 * dot, rel=0.02)
    assert page.evaluate("picks") == []


def test_another_drawing_of_that_name_is_seen_from_the_same_place(shown):
    page = shown()
    page.locator("svg").focus()
    page.keyboard.press("+")
    page.keyboard.press("+")
    page.keyboard.press("ArrowLeft")
    before = seen(page)
    page.evaluate("drawing.select(['E2'])")
    page.evaluate(
        """() => {
          const place = document.querySelector("#picture");
          const fresh = document.createElement("template");
          fresh.innerHTML = window.untouched ?? place.innerHTML;
          const svg = fresh.content.querySelector("svg");
          const whole = [svg.querySelector("rect")].map((r) => ["x", "y", "width", "height"].map((k) => r.getAttribute(k)));
          svg.setAttribute("viewBox", whole[0].join(" "));
          place.replaceChildren(fresh.content);
          drawing.renew();
        }"""
    )
    assert seen(page) == pytest.approx(before, abs=1e-3)
    assert page.locator('.is-chosen[data-member="E2"]').count() > 0
    assert page.locator(".grips").count() == 1


def test_a_dragged_edge_tells_its_measure_and_where_it_was_left(shown, plan_of):
    plan = plan_of("library-terrace")
    xs, ys = zip(*plan.job.floor.outline, strict=True)
    x0, x1, middle = min(xs), max(xs), (min(ys) + max(ys)) / 2
    page = shown()
    page.mouse.move(*on_screen_at(page, x1, middle))
    page.mouse.down()
    page.mouse.move(*on_screen_at(page, x1 - 203.0, middle), steps=5)
    told = page.locator(".grip.is-moved .grip-text").inner_html()
    page.mouse.up()
    (move,) = page.evaluate("drags")
    assert (move["kind"], move["id"], move["axis"]) == ("edge", "right", "x")
    assert move["from_mm"] == pytest.approx(x1)
    assert move["to_mm"] % 10 == pytest.approx(0.0, abs=1e-6) or move["to_mm"] in {p.x for p in plan.frame.posts}
    assert move["to_mm"] == pytest.approx(x1 - 203.0, abs=60.0)
    assert told == f"{round((move['to_mm'] - x0) * 2) / 2:g} mm"
    assert page.evaluate("picks") == []


def test_a_job_in_feet_is_measured_in_feet(shown):
    page = shown("side-door-landing")
    grip = page.get_by_role("slider", name="right edge")
    before = grip.get_attribute("aria-valuetext")
    grip.focus()
    page.keyboard.press("Shift+ArrowRight")
    after = grip.get_attribute("aria-valuetext")
    assert (before, after) == ("8' 2\"", "8' 7\"")


def test_a_dragged_edge_is_caught_by_whole_boards(shown, plan_of, speaks):
    plan = plan_of("library-terrace")
    outer = next(g for g in grips_of(plan, speaks(plan)) if g.id == "outer")
    stop = max(s for s in outer.stops_mm if s < outer.at_mm - 150.0)
    middle = sum(outer.across_mm) / 2
    page = shown()
    page.mouse.move(*on_screen_at(page, middle, outer.at_mm))
    page.mouse.down()
    page.mouse.move(*on_screen_at(page, middle, stop + 9.0), steps=5)
    page.mouse.up()
    assert page.evaluate("drags")[0]["to_mm"] == pytest.approx(stop)


def test_a_click_on_an_edge_without_a_drag_chooses_what_lies_there(shown):
    page = shown(sheet="boards")
    box = page.locator('.grip[data-id="outer"] .grip-hit').bounding_box()
    page.mouse.click(box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2 + 6)
    assert page.evaluate("picks") == ["b1.1"]
    assert page.evaluate("drags") == []


def test_a_line_of_posts_under_laps_goes_from_joist_to_joist(shown, plan_of):
    plan = plan_of("library-terrace")
    joists = plan.layout.joist_lines
    third = sorted({p.x for p in plan.frame.posts})[2]
    wanted = max(j for j in joists if j < third)
    page = shown()
    ring = page.locator('.grip[data-kind="posts"][data-id="3"] .grip-ring').bounding_box()
    x, y = ring["x"] + ring["width"] / 2, ring["y"] + ring["height"] / 2
    assert x == pytest.approx(on_screen_at(page, third, 0.0)[0], abs=0.6)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(on_screen_at(page, wanted + 120.0, 0.0)[0], y, steps=5)
    page.mouse.up()
    (move,) = page.evaluate("drags")
    assert (move["kind"], move["id"], move["axis"]) == ("posts", "3", "x")
    assert move["to_mm"] == pytest.approx(wanted)
    page.get_by_role("slider", name="line of posts 2").focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    assert page.evaluate("drags")[1]["to_mm"] == pytest.approx(joists[1])


def test_an_edge_is_moved_by_keys_alone(shown, plan_of):
    plan = plan_of("library-terrace")
    x1 = max(x for x, _ in plan.job.floor.outline)
    page = shown()
    grip = page.get_by_role("slider", name="right edge")
    grip.focus()
    before = grip.get_attribute("aria-valuetext")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    assert grip.get_attribute("aria-valuetext") != before
    page.keyboard.press("Escape")
    assert grip.get_attribute("aria-valuetext") == before
    assert page.evaluate("drags") == []
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    (move,) = page.evaluate("drags")
    assert move["to_mm"] == pytest.approx(round(x1 / 10 - 1) * 10)


def test_a_drawing_that_is_no_plan_has_no_grips(shown):
    page = shown(sheet="sides")
    assert page.locator(".grip").count() == 0


def test_it_lets_go(shown):
    page = shown()
    page.evaluate("drawing.dispose()")
    page.mouse.click(*middle_of(page, "E2", "post"))
    assert page.evaluate("picks") == []
    assert page.locator(".grip").count() == 0


@pytest.mark.parametrize("sheet", ["frame", "boards", "ground"])
def test_screen_readers_find_names_and_no_serious_fault(shown, sheet):
    page = shown(sheet=sheet, bypass_csp=True)
    page.add_script_tag(path=AXE)
    found = page.evaluate("axe.run()")
    bad = [
        (v["id"], v["nodes"][0]["html"][:200]) for v in found["violations"] if v["impact"] in {"serious", "critical"}
    ]
    assert bad == []
