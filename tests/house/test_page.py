"""The page says everything through the catalogue, loads only what is there, and is told of in the docs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from evenfoot.web import Settings, make_app
from evenfoot.words import catalogue

ROOT = Path(__file__).parents[2]
WEB = ROOT / "src" / "evenfoot" / "web"
TEMPLATES = sorted((WEB / "templates").rglob("*.html"))
ASSETS = WEB / "assets"
OWN_NAMES = {"English", "日本語", "evenfoot", "serve", "host"}
"""Languages are called by their own names whatever the page speaks, and so is the command."""


def bare_words(text: str) -> set[str]:
    """Words that stand in a template itself, between tags or in an attribute that is read aloud."""
    plain = re.sub(r"\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", "", text, flags=re.DOTALL)
    shown = re.sub(r"<(script|style)\b.*?</\1>", "", plain, flags=re.DOTALL)
    read = re.findall(r'\b(?:aria-label|title|alt|placeholder)="([^"]*)"', shown)
    between = re.sub(r"<code>.*?</code>|<[^>]*>|[\w-]+=\"[^\"]*\"", " ", shown, flags=re.DOTALL)
    return {word for part in (between, *read) for word in re.findall(r"[^\W\d_]{2,}", re.sub(r"&\w+;", " ", part))}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: str(p.relative_to(WEB / "templates")))
def test_templates_hold_no_words_of_their_own(path):
    assert bare_words(path.read_text(encoding="utf-8")) - OWN_NAMES == set()


def test_a_bare_word_would_be_found():
    assert bare_words('<p title="Boards">{{ say("page.x") }} saw</p>') == {"Boards", "saw"}


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda p: str(p.relative_to(WEB / "templates")))
def test_every_code_that_a_template_says_is_in_the_catalogue(path):
    text = path.read_text(encoding="utf-8")
    codes = re.findall(r"""say\(\s*["']([\w.-]+)["']\s*[,)]""", text)
    assert [code for code in codes if code not in catalogue()] == []


def referenced() -> str:
    sources = [*TEMPLATES, *WEB.rglob("*.py"), *ASSETS.rglob("*.js"), *ASSETS.rglob("*.css")]
    sources += list((ROOT / "src" / "evenfoot" / "office").rglob("*.py"))
    return "\n".join(p.read_text(encoding="utf-8") for p in sources if p.parent.name != "vendor")


def test_every_asset_is_used_and_every_asset_used_is_there():
    text = referenced()
    own = [p for p in ASSETS.rglob("*") if p.is_file() and not p.name.endswith((".txt", ".md"))]
    assert [str(p.relative_to(ASSETS)) for p in own if p.name not in text] == []
    for target in re.findall(r"""["'(]/assets/([\w./-]+\.(?:js|css|svg|png|webmanifest))""", text):
        assert (ASSETS / target).is_file(), target


def routes(tmp_path):
    app = make_app(Settings(store_url=f"sqlite:///{tmp_path / 'jobs.db'}", hands=1))
    found: set[str] = set()
    waiting = list(app.routes)
    while waiting:
        route = waiting.pop()
        waiting += getattr(route, "routes", None) or getattr(getattr(route, "original_router", None), "routes", ())
        found |= {route.path} if getattr(route, "path", "") else set()
    return found


def test_every_route_is_told_of_in_the_docs(tmp_path):
    told = (ROOT / "docs" / "page.md").read_text(encoding="utf-8")
    schema = make_app(Settings(store_url=f"sqlite:///{tmp_path / 'other.db'}", hands=1)).openapi()["paths"]
    paths = {path for path in routes(tmp_path) | set(schema) if path not in {"/assets", ""}}
    plain = re.sub(r"\{\w+(:\w+)?\}", "…", told)
    missing = {path for path in paths if re.sub(r"\{\w+(:\w+)?\}", "…", path).removeprefix("/api") not in plain}
    assert missing == set()
