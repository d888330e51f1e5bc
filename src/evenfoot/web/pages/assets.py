"""What pages load beside themselves: styles, modules, the typeface; all of it ships with us."""

from __future__ import annotations

from importlib.resources import as_file, files
from typing import Annotated

from fastapi import APIRouter, FastAPI, Form, Path
from starlette.responses import RedirectResponse, Response
from starlette.staticfiles import StaticFiles

from evenfoot.office import desk
from evenfoot.web.paper import CHOSEN
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


@router.post("/language")
def choose_language(
    language: Annotated[Language, Form()], back: Annotated[str, Form(max_length=300)] = "/"
) -> Response:
    """Remember the language that was chosen by hand, and go back to where it was chosen."""
    is_own = back.startswith("/") and not back.startswith(("//", "/\\"))
    found = RedirectResponse(back if is_own else "/", status_code=303)
    found.set_cookie(CHOSEN, language.value, max_age=_A_YEAR, httponly=True, samesite="lax")
    return found
