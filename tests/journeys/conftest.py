"""One browser for every journey through the page: Debian's chromium, drawing by software so that pictures repeat."""

import json
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from evenfoot.office.desk.tree import as_typed, typed_at

CHROMIUM = Path("/usr/bin/chromium")
FLAGS = [
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--force-device-scale-factor=1",
    "--font-render-hinting=none",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


PHONE = {"viewport": {"width": 412, "height": 915}, "has_touch": True, "is_mobile": True}
DESK = {"viewport": {"width": 1440, "height": 900}}
SEATS = {
    f"{seat}-{locale[:2]}": {**traits, "locale": locale}
    for seat, traits in (("desk", DESK), ("phone", PHONE))
    for locale in ("en-GB", "ja-JP")
}
"""How somebody sits at a page: at the desk or with a phone, in either language."""


@pytest.fixture
def seats():
    """All of them by name."""
    return SEATS


@pytest.fixture(params=list(SEATS))
def seat(request):
    """Each way to sit at a page, one after the other."""
    return SEATS[request.param]


@pytest.fixture(params=[DESK, PHONE], ids=["desk", "phone"])
def width(request):
    """A desk, and a phone held upright with fingers on it."""
    return request.param


@pytest.fixture(scope="session")
def browser():
    """A browser that talks to nobody but the test's own server; a missing one is a failure, not a pass."""
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=60_000)
    assert CHROMIUM.exists(), f"{CHROMIUM} is missing: apt-get install chromium"
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=str(CHROMIUM), chromium_sandbox=False, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def phone(browser):
    """A phone held upright, without a signal."""
    context = browser.new_context(
        viewport={"width": 412, "height": 915}, has_touch=True, is_mobile=True, locale="en-GB", timezone_id="Asia/Tokyo"
    )
    context.set_offline(True)
    yield context
    context.close()


class Serving:
    """The real command over one store, which can be killed and begun again at the same address."""

    def __init__(self, folder):
        self.store = folder / "jobs.db"
        self.log = folder / "served.log"
        self.port = 0
        self.begin()

    def begin(self):
        options = ["--store", f"sqlite:///{self.store}", "--port", str(self.port), "--hands", "1", "--json"]
        with self.log.open("a") as log:
            self.work = subprocess.Popen(
                [sys.executable, "-m", "evenfoot", "serve", *options], stdout=subprocess.PIPE, stderr=log, text=True
            )
        self.url = json.loads(self.work.stdout.readline())["address"].rstrip("/")
        self.port = int(self.url.rpartition(":")[2])

    def kill(self):
        self.work.kill()
        self.work.wait(30)

    def end(self):
        self.work.terminate()
        self.work.wait(30)

    def api(self, path, method="GET", **body):
        headers = {"Content-Type": "application/json", "Origin": self.url}
        asked = urllib.request.Request(
            f"{self.url}/api{path}", json.dumps(body).encode() if method != "GET" else None, headers, method=method
        )
        with urllib.request.urlopen(asked, timeout=120) as answer:
            return json.loads(answer.read())

    def begin_job(self, **wanted):
        return self.api("/jobs", "POST", **(wanted or {"name": "Yard"}))["job"]["number"]

    def value(self, job, where):
        return as_typed(typed_at(self.api(f"/jobs/{job}")["job_text"], where))


@pytest.fixture(scope="module")
def serving(tmp_path_factory):
    """One server for all journeys of a module; each begins a job of its own."""
    served = Serving(tmp_path_factory.mktemp("served"))
    yield served
    served.end()
    assert "Traceback" not in served.log.read_text()


@pytest.fixture
def visit(browser, serving):
    """Open a page as somebody; at the end none has complained, nor asked for anything from elsewhere."""
    contexts, told = [], []

    def opened(path="/", *, context=None, allows=(), **traits):
        if context is None:
            traits = {"viewport": {"width": 1440, "height": 900}, "locale": "en-GB"} | traits
            context = browser.new_context(**traits)
            context.set_default_timeout(60_000)
            contexts.append(context)
        page = context.new_page()

        def heard(text):
            if not any(word in text for word in allows):
                told.append(text)

        page.on("console", lambda m: heard(f"{m.text} {m.location}") if m.type in {"error", "warning"} else None)
        page.on("pageerror", lambda e: heard(str(e)))
        page.on("request", lambda r: None if r.url.startswith((serving.url, "blob:", "data:")) else heard(r.url))
        page.goto(serving.url + path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert told == []
