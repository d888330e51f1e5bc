"""The page of people: who is in the list, what they are, and one's own passphrase."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Path, Request
from starlette.responses import RedirectResponse, Response

from evenfoot.errors import EvenfootError
from evenfoot.office import people
from evenfoot.web.guard.coming import Name, Passphrase, again
from evenfoot.web.guard.door import address_of, show, visitor_of
from evenfoot.web.guard.keeper import keeper_of

router = APIRouter(prefix="/people")

Number = Annotated[int, Path(ge=1, le=2**31 - 1)]


@router.get("")
def people_page(request: Request) -> Response:
    """Show the list of people to owners, one's own name to others."""
    return show(request, "guard/people.html", _shown(request))


@router.post("")
def add(request: Request, name: Name, passphrase: Passphrase, role: Annotated[str, Form()] = "crew") -> Response:
    """Enter a person."""
    store, visitor = keeper_of(request).store, visitor_of(request)
    try:
        people.add_person(store, visitor, name=name, role=role, passphrase=passphrase)
    except EvenfootError as error:
        return _again(request, error)
    return _done()


@router.post("/passphrase")
def change_own(request: Request, old_passphrase: Passphrase, new_passphrase: Passphrase) -> Response:
    """Change one's own passphrase."""
    store, visitor, address = keeper_of(request).store, visitor_of(request), address_of(request)
    try:
        people.change_passphrase(store, visitor, old=old_passphrase, new=new_passphrase, address=address)
    except EvenfootError as error:
        return _again(request, error)
    return _done()


@router.post("/{person}")
def change(request: Request, person: Number, name: Name, role: Annotated[str, Form()]) -> Response:
    """Change a person's name and role."""
    store, visitor = keeper_of(request).store, visitor_of(request)
    try:
        people.change_role(store, visitor, person, role=role)
        people.rename_person(store, visitor, person, name=name)
    except EvenfootError as error:
        return _again(request, error)
    return _done()


@router.post("/{person}/passphrase")
def give(request: Request, person: Number, passphrase: Passphrase) -> Response:
    """Give somebody another passphrase."""
    try:
        people.give_passphrase(keeper_of(request).store, visitor_of(request), person, new=passphrase)
    except EvenfootError as error:
        return _again(request, error)
    return _done()


@router.post("/{person}/remove")
def remove(request: Request, person: Number) -> Response:
    """Take a person out of the list."""
    try:
        people.remove_person(keeper_of(request).store, visitor_of(request), person)
    except EvenfootError as error:
        return _again(request, error)
    return _done()


def _shown(request: Request) -> dict[str, object]:
    visitor = visitor_of(request)
    keeps_list = visitor.may("people")
    found = people.everyone(keeper_of(request).store, visitor) if keeps_list else ()
    return {"said": (), "everyone": found, "roles": tuple(people.Role), "keeps_list": keeps_list}


def _again(request: Request, error: EvenfootError) -> Response:
    return again(request, error, "guard/people.html", _shown(request))


def _done() -> Response:
    return RedirectResponse("/people", status_code=303)
