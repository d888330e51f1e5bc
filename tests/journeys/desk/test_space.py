"""The floor in space in a real browser: it is drawn, turned, picked, exchanged, and told of when it cannot be."""

import json
from html import escape
from pathlib import Path

import numpy as np
import pytest

from evenfoot.office.desk.captions import space_words
from evenfoot.press import glb_of
from evenfoot.sheets import bodies

pytestmark = pytest.mark.slow

PAPER, VERMILION, INK = (0xF7, 0xF2, 0xE6), (0xB3, 0x32, 0x1C), (0x1D, 0x1B, 0x18)
AXE = Path(__file__).parents[1] / "vendor" / "axe.min.js"
SCRIPT = """
import { showSpace } from "/assets/desk/space.js";
window.picks = [];
window.space = await showSpace(document.querySelector("#space"), {
  url: "/floor.glb", label: "Floor in space", onPick: (mark) => window.picks.push(mark),
});
document.body.dataset.ready = "yes";
"""


@pytest.fixture
def shown(server, open_page, plan_of, speaks):
    """Show an example in space and return the page when its first picture stands."""

    def show(name="side-door-landing", **options):
        plan = plan_of(name)
        speaker = speaks(plan)
        data = " ".join(f'data-{key}="{escape(text)}"' for key, text in space_words(speaker, "").items())
        server.files["/floor.glb"] = glb_of(bodies(plan, speaker))
        server.files["/try.js"] = SCRIPT.encode()
        server.files["/"] = (
            "<!doctype html><html lang=en><meta charset=utf-8><title>Space</title><link rel=icon href=/favicon.png>"
            "<link rel=stylesheet href=/assets/desk/space.css><main><h1>Space</h1>"
            f"<div id=space {data}></div></main><script type=module src=/try.js></script></html>"
        ).encode()
        server.files["/favicon.png"] = b""
        page = open_page(**options)
        page.wait_for_selector("body[data-ready]")
        return page

    return show


def settled(page):
    """Wait until nothing is to be drawn any more and return how often it was."""
    drawn = -1
    while drawn != (drawn := int(page.locator("canvas").get_attribute("data-drawn") or 0)):
        page.wait_for_timeout(120)
    return drawn


def pixels(page):
    from io import BytesIO

    from PIL import Image

    settled(page)
    return np.asarray(Image.open(BytesIO(page.locator("canvas").screenshot())).convert("RGB"), dtype=int)


def count(picture, colour, within=10):
    return int((np.abs(picture - np.array(colour)).max(axis=2) <= within).sum())


def test_it_is_ink_on_paper_without_gradients(shown):
    picture = pixels(shown())
    assert count(picture, INK, within=60) > 1000
    assert count(picture, VERMILION) == 0
    _, times = np.unique(picture.reshape(-1, 3), axis=0, return_counts=True)
    flat = times[np.argsort(times)][-7:].sum() / times.sum()
    assert flat > 0.93, "a few flat tones make the picture; only the edges of lines lie between them"
    assert tuple(picture[2, 2]) == PAPER


def test_every_mark_of_the_plan_stands_in_it(shown, plan_of):
    plan = plan_of("side-door-landing")
    found = set(shown().evaluate("space.marks"))
    assert found == {
        *(m.mark for m in plan.frame.members),
        *(c.mark for c in plan.posts.cuts),
        *(p.mark for p in plan.layout.pieces),
    }


def test_nothing_is_drawn_while_nothing_moves(shown):
    page = shown()
    before = settled(page)
    page.wait_for_timeout(600)
    assert settled(page) == before < 12


def test_a_click_picks_the_timber_and_outlines_it_in_vermilion(shown, plan_of):
    plan = plan_of("side-door-landing")
    page = shown()
    page.get_by_role("button", name="From above").click()
    settled(page)
    box = page.locator("canvas").bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    (mark,) = page.evaluate("picks")
    assert mark in {p.mark for p in plan.layout.pieces}
    assert count(pixels(page), VERMILION, within=40) > 300
    assert mark in page.locator("output").inner_text()
    page.mouse.click(box["x"] + 4, box["y"] + 4)
    assert page.evaluate("picks") == [mark, ""]
    assert count(pixels(page), VERMILION, within=40) == 0


def test_a_drag_turns_the_floor_and_picks_nothing(shown):
    page = shown()
    before = page.evaluate("space.place")
    box = page.locator("canvas").bounding_box()
    page.mouse.move(box["x"] + 450, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 520, box["y"] + 220, steps=4)
    page.mouse.up()
    assert page.evaluate("space.place")["position"] != before["position"]
    assert page.evaluate("picks") == []


def test_keys_turn_move_bring_closer_and_go_from_timber_to_timber(shown):
    page = shown()
    page.locator("canvas").focus()
    places = [page.evaluate("space.place")]
    for key in ("ArrowLeft", "ArrowUp", "Shift+ArrowRight", "+"):
        page.keyboard.press(key)
        places.append(page.evaluate("space.place"))
    start, left, up, moved, closer = places
    assert left["position"] != start["position"]
    assert left["target"] == start["target"]
    assert up["position"][1] != pytest.approx(left["position"][1])
    assert moved["target"] != up["target"]
    assert closer["zoom"] == pytest.approx(1.25 * moved["zoom"])
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    page.keyboard.press("PageUp")
    picks = page.evaluate("picks")
    assert picks[0] == picks[2] != picks[1]
    page.keyboard.press("Escape")
    assert page.evaluate("picks")[-1] == ""
    page.keyboard.press("Home")
    assert page.evaluate("space.place")["position"] == pytest.approx(start["position"], abs=1e-6)


def test_the_plan_view_has_the_house_below_and_x_to_the_right(shown, plan_of):
    page = shown()
    page.get_by_role("button", name="From above").click()
    settled(page)
    place = page.evaluate("space.place")
    xs = [p[0] for p in plan_of("side-door-landing").layout.outline]
    assert place["target"][0] * 1000 == pytest.approx((min(xs) + max(xs)) / 2, abs=5.0)
    house, canvas = page.locator(".space-house").bounding_box(), page.locator("canvas").bounding_box()
    assert house["y"] > canvas["y"] + canvas["height"] / 2


def test_a_new_floor_comes_in_and_the_eye_stays(shown, server, plan_of, speaks):
    page = shown()
    page.locator("canvas").focus()
    page.keyboard.press("ArrowLeft")
    page.evaluate("space.select('E1')")
    place, marks = page.evaluate("space.place"), page.evaluate("space.marks")
    plan = plan_of("library-terrace")
    server.files["/other.glb"] = glb_of(bodies(plan, speaks(plan)))
    page.evaluate("space.show('/other.glb')")
    assert page.evaluate("space.marks") != marks
    assert page.evaluate("space.place") == place
    assert page.locator("canvas").get_attribute("data-picked") == "E1"


def test_the_last_floor_asked_for_is_the_one_shown(shown, server, plan_of, speaks):
    page = shown()
    plan = plan_of("library-terrace")
    server.files["/other.glb"] = glb_of(bodies(plan, speaks(plan)))
    page.evaluate("Promise.all([space.show('/other.glb'), space.show('/floor.glb')])")
    assert len(page.evaluate("space.marks")) == 28


def test_a_floor_that_cannot_be_fetched_is_told_of_and_the_old_one_stays(shown):
    page = shown(allows=("404", "the floor in space"))
    before = page.evaluate("space.marks")
    page.evaluate("space.show('/nowhere.glb')")
    assert "could not be fetched" in page.locator(".space-message").inner_text()
    assert page.evaluate("space.marks") == before
    page.evaluate("space.show('/floor.glb')")
    assert page.locator(".space-message").is_hidden()


def test_groups_are_hidden_by_their_buttons(shown):
    page = shown()
    page.get_by_role("button", name="From above").click()
    page.get_by_role("button", name="Boards").click()
    assert page.get_by_role("button", name="Boards").get_attribute("aria-pressed") == "false"
    box = page.locator("canvas").bounding_box()
    page.locator("canvas").focus()
    page.keyboard.press("PageUp")
    assert not page.evaluate("picks")[0].startswith("b")
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    assert not page.evaluate("picks")[-1].startswith("b")


def test_a_browser_without_webgl_says_so(shown):
    stub = "HTMLCanvasElement.prototype.getContext = () => null;"
    page = shown(script=stub, allows=("WebGL",))
    assert "WebGL" in page.locator(".space-message").inner_text()
    assert page.evaluate("space.isDrawn") is False
    page.evaluate("space.select('B1'); space.look('above'); space.show('/floor.glb'); space.dispose()")


def test_it_lets_go_of_everything(shown):
    page = shown()
    page.evaluate("space.dispose()")
    assert page.locator("#space").inner_html() == ""


def test_a_finger_picks_and_a_long_boardwalk_is_drawn(shown):
    page = shown("marsh-boardwalk", has_touch=True, is_mobile=True)
    assert len(page.evaluate("space.marks")) == 439
    page.get_by_role("button", name="From above").tap()
    settled(page)
    box = page.locator("canvas").bounding_box()
    page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    (mark,) = page.evaluate("picks")
    assert mark in page.evaluate("space.marks")


def test_screen_readers_find_names_and_no_serious_fault(shown):
    page = shown(bypass_csp=True)
    page.add_script_tag(path=AXE)
    found = page.evaluate("axe.run()")
    assert [
        json.dumps(v["nodes"][0]["html"]) for v in found["violations"] if v["impact"] in {"serious", "critical"}
    ] == []
    assert page.get_by_role("application").get_attribute("aria-label").startswith("Floor in space. Arrow keys")
