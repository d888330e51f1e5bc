"""A little page of our own around one script of the desk, under the same strict policy as the real one."""

import mimetypes
import threading
from functools import cache
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from evenfoot.office import Request, reckon, speaker_for
from evenfoot.words import Language

ROOT = Path(__file__).parents[3]
ASSETS = ROOT / "src" / "evenfoot" / "web" / "assets"
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; font-src 'self'"


@pytest.fixture(scope="session")
def plan_of():
    """The plan of one of the examples by name."""
    return cache(lambda name: reckon(Request(job=ROOT / "examples" / name / "job.toml")))


@pytest.fixture(scope="session")
def speaks():
    """The speaker of a plan in English."""
    return lambda plan: speaker_for(plan, Language.ENGLISH)


@pytest.fixture
def server():
    """A server of the shipped assets and of what a test puts on it: ``server.files[path] = bytes``."""
    files: dict[str, bytes] = {}

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self):
            path = self.path.split("?", 1)[0]
            data = files.get(path)
            if data is None and path.startswith("/assets/"):
                shipped = (ASSETS / path.removeprefix("/assets/")).resolve()
                data = shipped.read_bytes() if shipped.is_relative_to(ASSETS) and shipped.is_file() else None
            self.send_response(404 if data is None else 200)
            kind = mimetypes.guess_type(path)[0] or "text/html; charset=utf-8"
            self.send_header("Content-Type", "text/javascript" if path.endswith(".js") else kind)
            self.send_header("Content-Security-Policy", POLICY)
            self.end_headers()
            self.wfile.write(data or b"")

        def log_message(self, *_):
            pass

    served = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    served.files = files
    served.url = f"http://127.0.0.1:{served.server_port}"
    threading.Thread(target=served.serve_forever, daemon=True).start()
    yield served
    served.shutdown()
    served.server_close()


@pytest.fixture
def open_page(browser, server):
    """Open a page of the server; at the end nothing may have been complained of, nor fetched from elsewhere."""
    contexts, told = [], []

    def opened(path="/", *, script="", allows=(), **options):
        context = browser.new_context(**{"viewport": {"width": 900, "height": 760}, **options})
        contexts.append(context)
        page = context.new_page()
        if script:
            page.add_init_script(script)
        page.on("console", lambda m: told.append(m.text) if m.type in {"error", "warning"} else None)
        page.on("pageerror", lambda e: told.append(str(e)))
        page.on("request", lambda r: None if r.url.startswith((server.url, "blob:", "data:")) else told.append(r.url))
        page.told, page.allows = told, allows
        page.goto(server.url + path)
        return page

    yield opened
    allowed = tuple(word for context in contexts for page in context.pages for word in page.allows)
    for context in contexts:
        context.close()
    assert [line for line in told if not any(word in line for word in allowed)] == []
