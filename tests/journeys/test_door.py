"""The way in, as people go it: a phone pairs over the network, a firm signs in, a lost phone is shut out."""

from __future__ import annotations

import http.client
import json
import subprocess
import sys
import time
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from evenfoot.web.guard.phones import own_address

pytestmark = pytest.mark.slow

SERVE = (sys.executable, *["-m", "evenfoot", "serve", "--host", "0.0.0.0", "--port", "0", "--hands", "1", "--json"])
AXE = (Path(__file__).parent / "vendor" / "axe.min.js").read_text(encoding="utf-8")
WORDS = "plane chalk heron seven"
OTHER = "gimlet tide paper nine"
EXPECTED = ("403 (Forbidden)", "401 (Unauthorized)", "410 (Gone)", "409 (Conflict)")
"""Answers that a browser writes down by itself when a page is refused."""


@pytest.fixture
def served(tmp_path):
    """The real command on a free port, open to the network: its address at the desk, and from elsewhere."""

    @contextmanager
    def run(*options):
        log = (tmp_path / "log").open("w")
        work = subprocess.Popen(
            [*SERVE, "--store", f"sqlite:///{tmp_path / 'jobs.db'}", *options],
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
        )
        try:
            port = json.loads(work.stdout.readline())["address"].rstrip("/").rpartition(":")[2]
            # Without a network another loopback address stands for one: it is not the machine's own name either.
            yield f"http://localhost:{port}", f"http://{own_address() or '127.0.0.2'}:{port}"
        finally:
            work.terminate()
            work.wait(15)
            log.close()
        told = (tmp_path / "log").read_text()
        assert WORDS not in told
        assert "/pair/" not in told

    return run


@pytest.fixture
def someone(browser):
    """Open a browser of somebody; at the end no page may have complained."""
    contexts, told = [], []

    def opened(locale="en-GB", **traits):
        context = browser.new_context(locale=locale, **traits)
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda m: told.append(m.text) if m.type in {"error", "warning"} else None)
        page.on("pageerror", lambda e: told.append(str(e)))
        return page

    yield opened
    for context in contexts:
        context.close()
    assert [text for text in told if not any(known in text for known in EXPECTED)] == []


PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True, "device_scale_factor": 2}


def is_fit(page):
    """Nothing runs out at the side, and the automated check of accessibility finds nothing (WCAG 2.2 AA)."""
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    page.evaluate(AXE)
    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = page.evaluate("tags => axe.run({runOnly: tags})", tags)
    assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found["violations"]] == []


def test_a_phone_pairs_over_the_network_and_is_shut_out_again(served, someone):
    with served() as (home, lan):
        desk, phone, other = someone(), someone(**PHONE), someone(**PHONE)
        phone.goto(f"{lan}/")
        assert phone.get_by_role("heading", name="This phone is not paired yet").is_visible()
        is_fit(phone)
        desk.goto(f"{home}/")
        desk.get_by_role("link", name="Phones").click()
        desk.get_by_role("radio", name="look, and add readings").check()
        desk.get_by_role("button", name="Show a code").click()
        assert desk.get_by_role("img", name="Code with the address below").bounding_box()["width"] >= 200
        is_fit(desk)
        address = desk.locator(".address").inner_text()
        assert address.startswith(lan)
        for one in (phone, other):
            one.goto(address)
        is_fit(phone)
        phone.get_by_label("What to call this phone").fill("Site phone")
        button = phone.get_by_role("button", name="Pair this phone")
        assert button.bounding_box()["height"] >= 44
        button.click()
        phone.wait_for_url(f"{lan}/")
        other.get_by_label("What to call this phone").fill("Somebody's")
        other.get_by_role("button", name="Pair this phone").click()
        assert "has paired a phone already" in other.get_by_role("main").inner_text()
        assert not phone.get_by_role("button", name="Begin").first.is_visible()
        assert desk.goto(f"{home}/").ok
        assert desk.get_by_role("button", name="Begin").first.is_visible()
        # Crew may look and add readings, not change a job.
        status = "async way => (await fetch(way[1], {method: way[0]})).status"
        assert phone.evaluate(status, ["GET", "/api/jobs"]) == 200
        assert phone.evaluate(status, ["POST", "/api/jobs"]) == 403
        desk.goto(f"{home}/pair")
        desk.get_by_role("button", name="End: Site phone").click()
        assert desk.get_by_text("Nobody yet.").is_visible()
        assert phone.goto(f"{lan}/").status == 401


def test_a_firm_opens_its_list_by_keyboard_and_signs_in_elsewhere(served, someone):
    with served("--people") as (home, lan):
        desk, phone = someone(), someone("ja-JP", **PHONE)
        desk.goto(f"{home}/")
        desk.get_by_label("Name").focus()
        desk.keyboard.type("Aya Mori")
        desk.keyboard.press("Tab")
        desk.keyboard.type(WORDS)
        desk.keyboard.press("Enter")
        desk.wait_for_url(f"{home}/people")
        form = desk.locator("form.slip", has=desk.get_by_role("button", name="Enter"))
        for _ in range(2):
            form.get_by_label("Name").fill("Ben")
            form.get_by_label("First passphrase").fill(OTHER)
            form.get_by_role("button", name="Enter").click()
        assert "is here already" in desk.get_by_role("alert").inner_text()
        is_fit(desk)
        phone.goto(f"{lan}/people")
        is_fit(phone)
        for words, done in ((WORDS, False), (OTHER, True)):
            phone.get_by_label("名前").fill("ben")
            phone.get_by_label("合い言葉").fill(words)
            phone.get_by_role("button", name="入る").click()
            assert phone.get_by_role("alert").is_visible() is not done
        phone.get_by_role("link", name="Ben").click()
        assert "Benさん（職人）" in phone.get_by_role("main").inner_text()
        assert "Aya" not in phone.get_by_role("main").inner_text()
        is_fit(phone)
        desk.get_by_role("button", name="Take out: Ben").click()
        assert phone.goto(f"{lan}/").status == 401


class Line:
    """A line of news as a program holds it open."""

    def __init__(self, home, job, cookie=""):
        self.link = http.client.HTTPConnection(home.removeprefix("http://"), timeout=30)
        self.link.request("GET", f"/api/jobs/{job}/news", headers={"Cookie": cookie} if cookie else {})
        self.answer = self.link.getresponse()
        assert self.answer.status == 200
        while not self.answer.readline().startswith(b"data:"):
            pass

    def rest(self):
        """All that is told until the line is cut; a line that stands for half a minute is an error."""
        end = time.monotonic() + 30
        told = b""
        with closing(self.link):
            while line := self.answer.readline():
                told += line
                assert time.monotonic() < end, "the line was not cut"
        return told.decode()


def send(home, path, cookie="", **form):
    """Post a form or, where it is empty, nothing; returns status, cookie and text."""
    with closing(http.client.HTTPConnection(home.removeprefix("http://"), timeout=60)) as link:
        body = "&".join(f"{name}={value.replace(' ', '+')}" for name, value in form.items())
        headers = {"Origin": home, "Content-Type": "application/x-www-form-urlencoded", "Cookie": cookie}
        link.request("POST", path, body, headers)
        answer = link.getresponse()
        return answer.status, (answer.headers["set-cookie"] or "").partition(";")[0], answer.read().decode()


def test_no_news_reach_whoever_may_come_in_no_more(served):
    with served() as (home, _lan):
        send(home, "/jobs", example="library-terrace")
        at_machine = Line(home, 1)
        _, aya, _ = send(home, "/people/first", name="Aya", passphrase=WORDS)
        assert "state" not in at_machine.rest(), "once there are people, the machine alone opens nothing"
        send(home, "/people", aya, name="Ben", passphrase=OTHER, role="crew")
        _, ben, _ = send(home, "/sign-in", name="Ben", passphrase=OTHER)
        _, again, _ = send(home, "/sign-in", name="Ben", passphrase=OTHER)
        left, ended, stays = Line(home, 1, ben), Line(home, 1, again), Line(home, 1, aya)
        assert send(home, "/sign-out", ben)[0] == 303
        assert send(home, "/api/jobs/1/undo", ben)[0] == 401
        assert "state" not in left.rest()
        assert send(home, "/people/2/remove", aya)[0] == 303
        assert "state" not in ended.rest()
        assert stays.answer.readline() is not None
        stays.link.close()


def test_a_page_tells_when_whoever_looks_was_signed_out(served, someone):
    with served() as (home, _lan):
        send(home, "/jobs", example="side-door-landing")
        desk = someone()
        desk.goto(f"{home}/people")
        desk.get_by_label("Name").fill("Aya")
        desk.get_by_label("Passphrase").fill(WORDS)
        desk.keyboard.press("Enter")
        desk.get_by_role("link", name="Aya").wait_for()
        desk.goto(f"{home}/jobs/1/at/floor")
        other = desk.context.new_page()
        other.goto(f"{home}/people")
        other.get_by_role("button", name="Sign out").click()
        told = desk.locator("#clashes .wrong")
        told.wait_for(timeout=30_000)
        assert "no longer signed in" in told.inner_text()
        desk.get_by_role("link", name="Sign in").click()
        desk.get_by_label("Passphrase").wait_for()
