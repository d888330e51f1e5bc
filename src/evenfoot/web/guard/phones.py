"""Pages of phones: show a code at the desk, take it on the phone, see who is in, end one."""

from __future__ import annotations

import socket
from typing import Annotated

from fastapi import APIRouter, Form, Path, Request
from starlette.responses import RedirectResponse, Response

from evenfoot.errors import EvenfootError, StoreError
from evenfoot.office import people
from evenfoot.web.guard.coming import again
from evenfoot.web.guard.door import hand_over, is_at_the_machine, show, visitor_of
from evenfoot.web.guard.keeper import Keeper, keeper_of
from evenfoot.web.guard.settings import is_loopback, name_of

router = APIRouter()

Token = Annotated[str, Path(max_length=200)]
KINDS = ("iPhone", "iPad", "Android")
"""What a browser on a phone calls it."""


@router.get("/pair")
def phones(request: Request) -> Response:
    """Show who is in, and the way to pair a phone."""
    return show(request, "guard/phones.html", _shown(request))


@router.post("/pair")
def offer(request: Request, role: Annotated[str, Form()] = "crew", base: Annotated[str, Form()] = "") -> Response:
    """Show a new code for one phone."""
    shown = _shown(request)
    bases = bases_of(keeper_of(request), request)
    try:
        made = people.offer_pairing(
            keeper_of(request).store,
            visitor_of(request),
            base=base if base in bases else bases[0],
            role=people.role_of(role),
        )
    except EvenfootError as error:
        return again(request, error, "guard/phones.html", shown)
    return show(request, "guard/phones.html", {**shown, "offer": made})


@router.get("/pair/{token}")
def ask(request: Request, token: Token) -> Response:
    """Ask on the phone whether to pair it; looking at the address uses nothing up."""
    people.look_at_pairing(keeper_of(request).store, token)
    agent = request.headers.get("user-agent", "")
    kind = next((kind for kind in KINDS if kind in agent), "")
    return show(request, "guard/take.html", {"said": (), "kind": kind})


@router.post("/pair/{token}")
def pair(request: Request, token: Token, phone: Annotated[str, Form(max_length=200)] = "") -> Response:
    """Pair the phone that asks."""
    keeper = keeper_of(request)
    try:
        entry = people.pair_phone(keeper.store, token, phone=phone)
    except StoreError as error:
        if error.fault.code == "pairing-used" and request.state.visitor is not None:
            return RedirectResponse("/", status_code=303)  # the button was pressed twice
        raise
    return hand_over(RedirectResponse("/", status_code=303), entry, keeper.settings)


@router.post("/sessions/{number}/end")
def end(request: Request, number: Annotated[int, Path(ge=1, le=2**31 - 1)]) -> Response:
    """End a session."""
    try:
        people.end_session(keeper_of(request).store, visitor_of(request), number)
    except EvenfootError as error:
        return again(request, error, "guard/phones.html", _shown(request))
    return RedirectResponse("/pair", status_code=303)


def bases_of(keeper: Keeper, request: Request) -> tuple[str, ...]:
    """Return the addresses by which a phone may reach this machine, the likeliest first."""
    host = request.headers.get("host", "")
    port = request.url.port
    names = [] if is_at_the_machine(request) else [name_of(host)]
    names += [*keeper.settings.allowed_hosts, *([] if keeper.settings.is_loopback_only else [own_address()])]
    fit = dict.fromkeys(name for name in map(name_of, names) if name and not _is_nowhere(name))
    shown = [f"[{name}]" if ":" in name else name for name in fit] or [host.partition(":")[0]]
    return tuple(f"{request.url.scheme}://{name}{f':{port}' if port else ''}" for name in shown)


def own_address() -> str:
    """Return the address of this machine in its network, empty when it has none; nothing is sent for that."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(("192.0.2.1", 9))  # an address for documents (RFC 5737): it only chooses the way out
        except OSError:
            return ""
        return str(asked.getsockname()[0])


def _is_nowhere(name: str) -> bool:
    return name in {"0.0.0.0", "::", "localhost"} or is_loopback(name)  # noqa: S104 - refused, not bound to


def _shown(request: Request) -> dict[str, object]:
    keeper, visitor = keeper_of(request), visitor_of(request)
    order = list(people.Role)
    return {
        "said": (),
        "offer": None,
        "sessions": people.sessions(keeper.store, visitor),
        "own": visitor.session.number if visitor.session else 0,
        "roles": [role for role in order if order.index(role) >= order.index(visitor.role)],
        "bases": bases_of(keeper, request),
        "is_alone": keeper.settings.is_loopback_only,
        "is_plain": request.url.scheme == "http",
    }
