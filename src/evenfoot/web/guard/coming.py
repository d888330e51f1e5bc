"""Pages of coming in and going out: sign in, sign out, the first owner."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Form, Request
from starlette.responses import RedirectResponse, Response

from evenfoot.errors import EvenfootError, Fault, RefusedError
from evenfoot.office import people
from evenfoot.web import faults
from evenfoot.web.guard.door import FIRST, address_of, hand_over, is_at_the_machine, show, take_back, visitor_of
from evenfoot.web.guard.keeper import keeper_of
from evenfoot.web.paper import speaker_of, wants_page

router = APIRouter()

Name = Annotated[str, Form(max_length=200)]
Passphrase = Annotated[str, Form(max_length=1000)]


def again(request: Request, error: EvenfootError, name: str, facts: Mapping[str, object]) -> Response:
    """Return the page from which something was asked, with what was wrong; a program gets the usual answer."""
    if not wants_page(request):
        return faults.answer(request, error)
    # The field is on the page: its name in the API is left out.
    said = [speaker_of(request).fault(replace(fault, where="")) for fault in error.faults]
    return show(request, name, {**facts, "said": said}, status=faults.status_of(error))


def own_path(text: str) -> str:
    """Return a path of our own to go back to, the first page for anything else."""
    is_own = text.startswith("/") and not text.startswith(("//", "/\\")) and text.isprintable()
    return text if is_own else "/"


@router.get("/sign-in")
def sign_in_page(request: Request) -> Response:
    """Show where to sign in."""
    return show(request, "guard/sign-in.html", {"said": (), "back": "/"})


@router.post("/sign-in")
def sign_in(request: Request, name: Name, passphrase: Passphrase, back: Annotated[str, Form()] = "/") -> Response:
    """Sign in; a session that this browser had before ends."""
    keeper = keeper_of(request)
    try:
        entry = people.sign_in(keeper.store, name=name, passphrase=passphrase, address=address_of(request))
    except EvenfootError as error:
        return again(request, error, "guard/sign-in.html", {"back": own_path(back)})
    _leave(request)
    return hand_over(RedirectResponse(own_path(back), status_code=303), entry, keeper.settings)


@router.post("/sign-out")
def sign_out(request: Request) -> Response:
    """End the session of this browser."""
    people.sign_out(keeper_of(request).store, visitor_of(request))
    return take_back(RedirectResponse("/sign-in", status_code=303), keeper_of(request).settings)


@router.post(FIRST)
def open_first(request: Request, name: Name, passphrase: Passphrase) -> Response:
    """Make the first owner; only somebody at the machine itself may."""
    keeper = keeper_of(request)
    try:
        if not is_at_the_machine(request):
            raise RefusedError(Fault(where="", code="at-the-machine", found=address_of(request)))
        entry = people.open_first(keeper.store, name=name, passphrase=passphrase)
    except EvenfootError as error:
        return again(request, error, "guard/sign-in.html", {"back": "/people"})
    return hand_over(RedirectResponse("/people", status_code=303), entry, keeper.settings)


def _leave(request: Request) -> None:
    before = request.state.visitor
    if before is not None and before.session is not None:
        people.sign_out(keeper_of(request).store, before)
