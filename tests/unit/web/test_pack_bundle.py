"""The one file: made of plain modules, sealed by its own policy, with nothing from outside."""

from __future__ import annotations

import base64
import json
import re
from hashlib import sha256
from pathlib import Path

import pytest

from evenfoot.office import Request, reckon
from evenfoot.web import pack_html
from evenfoot.web.pack import bundle
from evenfoot.words import Language

ROOT = Path(__file__).parents[3]
ASSETS = ROOT / "src" / "evenfoot" / "web" / "assets" / "pack"
JOB = ROOT / "examples" / "side-door-landing" / "job.toml"


@pytest.fixture(scope="module")
def plan():
    return reckon(Request(job=JOB))


@pytest.fixture(scope="module")
def html(plan):
    return pack_html(plan, Language.ENGLISH).decode()


@pytest.mark.parametrize("path", sorted(ASSETS.glob("*.js")), ids=lambda p: p.name)
def test_modules_are_short_and_say_what_they_are_for(path):
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= 300
    assert lines[0].startswith("// ")


def test_every_module_is_in_the_file_after_those_that_it_needs():
    order = list(bundle.modules())
    assert set(order) == {p.name for p in ASSETS.glob("*.js")}
    assert order[-1] == "main.js"
    assert order.index("linear.js") < order.index("contact.js") < order.index("footing.js")


def test_a_ring_of_modules_is_refused(monkeypatch):
    texts = {"a.js": 'import { b } from "./b.js";\n', "b.js": 'import { a } from "./a.js";\n'}
    monkeypatch.setattr(bundle, "asset", texts.__getitem__)
    with pytest.raises(AssertionError, match="ring"):
        bundle.modules("a.js")


def test_another_manner_of_export_is_refused(monkeypatch):
    monkeypatch.setattr(bundle, "asset", {"a.js": "export default 1;\n"}.__getitem__)
    with pytest.raises(AssertionError, match="another manner"):
        bundle.script("a.js")


def test_the_policy_names_exactly_this_script_and_style(html):
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', html)[1]
    script = re.search(r"<script>(.*?)</script>", html, re.DOTALL)[1]
    style = re.search(r"<style>(.*?)</style>", html, re.DOTALL)[1]
    for kind, text in (("script-src", script), ("style-src", style)):
        digest = base64.b64encode(sha256(text.encode()).digest()).decode()
        assert f"{kind} 'sha256-{digest}';" in policy
    assert "default-src 'none'" in policy
    assert "connect-src 'none'" in policy
    assert "unsafe" not in policy


def test_nothing_is_fetched_from_outside_and_no_handler_is_inline(html):
    outside = set(re.findall(r"(?:https?:)?//[\w.-]+\.\w+[^\s\"'<\\]*", re.sub(r"sha256-[^']+", "", html)))
    assert outside <= {"http://www.w3.org/2000/svg"}
    bare = re.sub(r"<script.*?</script>", "", html, flags=re.DOTALL)
    for text in (bare, *(svg for d in data_of(html)["drawings"] for svg in d["svg"].values())):
        assert not re.search(r"<[^>]+\son\w+\s*=", text)
        assert not re.search(r"<(?:link|img|iframe|image|script|object|embed|use|foreignObject)\b", text)
        assert not re.search(r"<[^>]+\s(?:style|href)\s*=", text)


def test_readings_are_sent_to_one_place_only(plan):
    policies = {}
    for url in ("/jobs/7/log", "http://192.168.1.20:8700/jobs/7/log?key=abc"):
        text = pack_html(plan, Language.ENGLISH, log_url=url).decode()
        policies[url] = re.search(r"connect-src ([^;]+);", text)[1]
        assert data_of(text)["log_url"] == url
    assert list(policies.values()) == ["'self'", "http://192.168.1.20:8700"]


def data_of(html):
    return json.loads(re.search(r'<script type="application/json" id="pack">(.*?)</script>', html, re.DOTALL)[1])


def test_what_is_inside_cannot_end_its_element(plan, monkeypatch):
    monkeypatch.setattr("evenfoot.office.pack.whole.drawings_record", lambda plan, speakers: [{"svg": "</script><b>"}])
    text = pack_html(plan, Language.JAPANESE).decode()
    assert data_of(text)["drawings"] == [{"svg": "</script><b>"}]
    assert 'lang="ja"' in text


def test_the_same_plan_gives_the_same_bytes(plan, html):
    assert pack_html(plan, Language.ENGLISH).decode() == html
