"""From a check that falls short to its cure: sought, stopped, sought again, taken over and undone; a fault leads to its field."""

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.slow

PHONE = {"viewport": {"width": 412, "height": 915}, "has_touch": True, "is_mobile": True}
DESK = {"viewport": {"width": 1440, "height": 900}}


@pytest.mark.parametrize("traits", [DESK, PHONE], ids=["desk", "phone"])
def test_a_shortfall_is_cured_at_a_touch_and_the_cure_undone(visit, serving, traits):
    job = serving.begin_job(example="library-terrace")
    page = visit(f"/jobs/{job}/at/strength", **traits)
    page.get_by_role("link", name="What would cure it").click()
    page.wait_for_url("**/remedies")
    stage = page.locator("#errand .stage")
    page.get_by_role("button", name="Try what would cure it").click()
    page.get_by_role("button", name="Stop").click()
    expect(stage).to_have_text("stopped")
    page.get_by_role("button", name="Try what would cure it").click()
    page.get_by_role("button", name="Take over: beams cut 35 mm deep").click(timeout=120_000)
    expect(stage).to_have_text("done")
    expect(page.locator("#taken")).to_contain_text("Taken over")
    assert serving.value(job, "frame.joints.seat") == "35"
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#taken")).to_contain_text("Undone")
    assert serving.value(job, "frame.joints.seat") == ""
    page.get_by_role("button", name="Take over: beams cut 35 mm deep").click()
    page.get_by_role("link", name="See it").click()
    page.wait_for_url("**/at/frame")
    expect(page.locator('[name="frame.joints.seat"]')).to_have_value("35")
    page.locator("#undo").click()
    expect(page.locator('[name="frame.joints.seat"]')).to_have_value("")


def test_papers_that_cannot_be_drawn_lead_to_the_field_that_is_wrong(visit, serving):
    job = serving.begin_job()
    digest = serving.api(f"/jobs/{job}")["digest"]
    serving.api(f"/jobs/{job}/changes", "POST", over=digest, changes={"floor.depth": "-5"})
    page = visit(f"/jobs/{job}/papers")
    page.locator(".faults a").click()
    expect(page.locator('[name="floor.depth"]')).to_be_focused()
