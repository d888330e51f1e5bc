"""What pages load beside themselves: styles, modules, the typeface; all of it ships with us."""

from __future__ import annotations

from importlib.resources import as_file, files
from typing import Annotated

from fastapi import APIRouter, FastAPI, Form, Path, Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.staticfiles import StaticFiles

from evenfoot.office import desk
from evenfoot.web.pages.shown import show
from evenfoot.web.paper import CHOSEN, language_of, speaker_of
from evenfoot.words import Language

router = APIRouter()
_A_YEAR = 31_536_000
"""A year [s]."""


def mount(app: FastAPI) -> None:
    """Let the app hand out the files under ``assets``."""
    with as_file(files("evenfoot.web") / "assets") as folder:
        app.mount("/assets", StaticFiles(directory=folder), name="assets")


@router.get("/assets/typeface-{weight}.ttf")
def typeface(weight: Annotated[str, Path(pattern="^(regular|bold)$")]) -> Response:
    """Return the typeface of the drawings."""
    held = {"Cache-Control": "public, max-age=86400"}
    return Response(desk.typeface(is_bold=weight == "bold"), media_type="font/ttf", headers=held)


@router.get("/service-worker.js")
def service_worker() -> Response:
    """Return the script that keeps site packs on a device; it stands at the root, for it looks after all pages."""
    script = (files("evenfoot.web") / "assets" / "service-worker.js").read_bytes()
    return Response(script, media_type="text/javascript", headers={"Cache-Control": "no-cache"})


@router.get("/manifest.webmanifest")
def manifest(request: Request) -> Response:
    """Return how the page calls itself when it is put on a device's home screen."""
    say = speaker_of(request).say
    told = {
        "name": say("page.name"),
        "short_name": say("page.name"),
        "description": say("page.manifest"),
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": "#f7f2e6",
        "theme_color": "#f7f2e6",
        "lang": language_of(request).value,
        "icons": [{"src": "/assets/mark.svg", "sizes": "any", "type": "image/svg+xml", "purpose": "any"}],
    }
    return JSONResponse(told, media_type="application/manifest+json")


@router.get("/kept")
def kept(request: Request) -> Response:
    """Show which site packs this device keeps, when nothing else can be reached."""
    return show(request, "desk/kept.html")


@router.post("/language")
def choose_language(
    language: Annotated[Language, Form()], back: Annotated[str, Form(max_length=300)] = "/"
) -> Response:
    """Remember the language that was chosen by hand, and go back to where it was chosen."""
    is_own = back.startswith("/") and not back.startswith(("//", "/\\"))
    found = RedirectResponse(back if is_own else "/", status_code=303)
    found.set_cookie(CHOSEN, language.value, max_age=_A_YEAR, httponly=True, samesite="lax")
    return found
