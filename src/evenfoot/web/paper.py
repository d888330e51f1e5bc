"""How a page is written: templates that escape whatever they are given, in the language of whoever asks."""

from __future__ import annotations

from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import HTTPConnection
from starlette.responses import HTMLResponse

from evenfoot.words import ON_PAGE, Language, Speaker

CHOSEN = "evenfoot-language"
"""The cookie that holds a language chosen by hand."""


@cache
def templates() -> Environment:
    """Return the templates of the page; a name that is not given is a fault of ours, never an empty place."""
    return Environment(
        loader=PackageLoader("evenfoot.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def language_of(asked: HTTPConnection) -> Language:
    """Return the language chosen by hand, else the one that the browser likes better, else English."""
    chosen = asked.cookies.get(CHOSEN, "")
    if chosen in set(Language):
        return Language(chosen)
    liked: dict[str, float] = {}
    for part in asked.headers.get("accept-language", "").split(","):
        name, _, weight = part.partition(";q=")
        tongue = name.strip().lower().partition("-")[0]
        liked[tongue] = max(liked.get(tongue, 0.0), _weight(weight))
    is_japanese = liked.get("ja", 0.0) > liked.get("en", 0.0)
    return Language.JAPANESE if is_japanese else Language.ENGLISH


def speaker_of(asked: HTTPConnection) -> Speaker:
    """Return who speaks to whoever asks."""
    return Speaker(language_of(asked), instead=(ON_PAGE,))


def wants_page(asked: HTTPConnection) -> bool:
    """Return whether a person looks at the answer (else a program reads it)."""
    return "text/html" in asked.headers.get("accept", "")


def page(name: str, speaker: Speaker, *, status: int = 200, **facts: object) -> HTMLResponse:
    """Return the page of a template; every template has ``say`` and ``language``."""
    text = templates().get_template(name).render(say=speaker.say, language=speaker.language.value, **facts)
    return HTMLResponse(text, status_code=status)


def _weight(text: str) -> float:
    try:
        return float(text) if text.strip() else 1.0
    except ValueError:
        return 0.0
