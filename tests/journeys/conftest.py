"""One browser for every journey through the page: Debian's chromium, drawing by software so that pictures repeat."""

from pathlib import Path

import pytest

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


@pytest.fixture(scope="session")
def browser():
    """A browser that talks to nobody but the test's own server; a missing one is a failure, not a pass."""
    from playwright.sync_api import sync_playwright

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
