"""Nothing typed is lost: without a network, across a reload, by two people at once, when the server is killed."""

import sqlite3

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.slow

BROKEN_OFF = (
    "ERR_INTERNET_DISCONNECTED",
    "ERR_CONNECTION_REFUSED",
    "ERR_CONNECTION_RESET",
    "ERR_INCOMPLETE_CHUNKED",
    "ERR_EMPTY",
    "ERR_NETWORK",
)
"""What a browser writes down by itself when the line breaks."""
KEPT = "kept"


def field(page, where):
    return page.locator(f'[name="{where}"]')


def saved(page):
    return page.locator("#saved")


def test_what_is_typed_without_a_network_is_sent_when_it_is_back(visit, serving, width):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/floor", allows=BROKEN_OFF, **width)
    page.context.set_offline(True)
    field(page, "floor.width").fill("3000")
    field(page, "floor.drop").fill("25")
    expect(saved(page)).to_contain_text("not kept yet")
    assert serving.value(job, "floor.width") == "3600"
    page.context.set_offline(False)
    expect(saved(page)).to_have_text(KEPT)
    assert (serving.value(job, "floor.width"), serving.value(job, "floor.drop")) == ("3000", "25")
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.startsWith('evenfoot-left-over'))") == []


def test_what_could_not_be_sent_before_the_page_was_closed_is_sent_by_the_next(visit, serving, width):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/site", allows=BROKEN_OFF, **width)
    page.context.set_offline(True)
    row = page.locator('[data-grid="site.levels"] tr[data-blank]')
    for name in "xyz":
        row.locator(f'[name$=".{name}"]').fill("-77")
    row.locator('[name$=".z"]').press("Enter")
    field(page, "site.levels[0].z").fill("-440")
    expect(saved(page)).to_contain_text("not kept yet")
    context = page.context
    page.close()
    context.set_offline(False)
    assert serving.value(job, "site.levels[0].z") == "-452"
    again = visit(f"/jobs/{job}/at/site", context=context)
    expect(field(again, "site.levels[9].z")).to_have_value("-77")
    expect(field(again, "site.levels[0].z")).to_have_value("-440")
    assert serving.value(job, "site.levels[9]") == "-77, -77, -77"
    assert serving.value(job, "site.levels[10]") == ""


def test_two_people_at_one_job_see_each_other_and_lose_nothing(visit, serving):
    job = serving.begin_job()
    one, other = (visit(f"/jobs/{job}/at/floor") for _ in range(2))
    field(one, "floor.width").fill("3000")
    field(other, "floor.drop").fill("25")
    expect(field(other, "floor.width")).to_have_value("3000")
    expect(field(one, "floor.drop")).to_have_value("25")
    assert (serving.value(job, "floor.width"), serving.value(job, "floor.drop")) == ("3000", "25")


@pytest.mark.parametrize(("button", "stands"), [("Leave theirs", "3000"), ("Put mine", "3300")])
def test_the_same_field_typed_by_two_is_told_and_settled_by_hand(visit, serving, button, stands):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/floor", allows=BROKEN_OFF)
    page.context.set_offline(True)
    field(page, "floor.width").fill("3300")
    expect(saved(page)).to_contain_text("not kept yet")
    digest = serving.api(f"/jobs/{job}")["digest"]
    serving.api(f"/jobs/{job}/changes", "POST", over=digest, changes={"floor.width": "3000"})
    page.context.set_offline(False)
    clash = page.locator("#clashes .clash")
    expect(clash).to_contain_text("3000")
    expect(clash).to_contain_text("3300")
    assert serving.value(job, "floor.width") == "3000"
    clash.get_by_role("button", name=button).click()
    expect(clash).to_have_count(0)
    expect(field(page, "floor.width")).to_have_value(stands)
    expect(saved(page)).to_have_text(KEPT)
    assert serving.value(job, "floor.width") == stands


def test_a_server_killed_while_somebody_types_loses_nothing(visit, serving, width):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/floor", allows=BROKEN_OFF, **width)
    field(page, "floor.width").press_sequentially("7777")
    serving.kill()
    field(page, "floor.drop").fill("33")
    expect(saved(page)).to_contain_text("not kept yet")
    with sqlite3.connect(serving.store) as link:
        assert link.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    serving.begin()
    expect(saved(page)).to_have_text(KEPT)
    assert serving.value(job, "floor.drop") == "33"
    assert serving.value(job, "floor.width") == field(page, "floor.width").input_value()


def test_undo_and_redo_go_on_after_the_server_began_anew(visit, serving):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/floor", allows=BROKEN_OFF)
    for typed in ("3000", "3100"):
        field(page, "floor.width").fill(typed)
        expect(saved(page)).to_have_text(KEPT)
    serving.kill()
    serving.begin()
    page.reload()
    page.locator("#undo").click()
    expect(field(page, "floor.width")).to_have_value("3000")
    page.locator("#undo").click()
    expect(field(page, "floor.width")).to_have_value("3600")
    expect(page.locator("#undo")).to_be_disabled()
    page.locator("#redo").click()
    expect(field(page, "floor.width")).to_have_value("3000")
    assert serving.value(job, "floor.width") == "3000"


def test_rows_are_typed_and_taken_out_faster_than_the_page_is_drawn(visit, serving):
    job = serving.begin_job()
    page = visit(f"/jobs/{job}/at/site")
    page.locator('[data-grid="site.levels"] tr[data-blank] [name$=".x"]').focus()
    for number in range(4):
        for figure in (number, 2 * number, -number):
            page.keyboard.type(str(figure))
            page.keyboard.press("Tab")
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Enter")
    for _ in range(2):
        page.locator('[data-out="site.levels[0]"]').click()
    expect(page.locator('[data-grid="site.levels"] tr[data-row]')).to_have_count(12)
    expect(saved(page)).to_have_text(KEPT)
    assert serving.value(job, "site.levels[0]") == "3600, 120, -468"
    assert [serving.value(job, f"site.levels[{7 + n}]") for n in range(5)] == [
        "0, 0, 0",
        "1, 2, -1",
        "2, 4, -2",
        "3, 6, -3",
        "",
    ]
