"""The door: who asks, whether they may come in, and whether they may do what they ask for."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import partial
from typing import cast

from starlette.concurrency import run_in_threadpool
from starlette.requests import HTTPConnection
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

from evenfoot.errors import EvenfootError, Fault, RefusedError, StoreError
from evenfoot.office import people
from evenfoot.web import faults
from evenfoot.web.guard.keeper import Keeper, keeper_of
from evenfoot.web.guard.settings import LOOPBACK_NAMES, Settings, is_loopback, name_of
from evenfoot.web.guard.walls import SAFE_METHODS
from evenfoot.web.paper import page, speaker_of, wants_page

FIRST = "/people/first"
"""Where the first owner is made."""

OPEN_TO_ALL = re.compile(r"/assets/.+|/language|/service-worker\.js|/manifest\.webmanifest|/kept|/sign-in|/pair/[^/]+")
"""Paths that hold nothing of any job, or that are the way in."""

CHANGES = (
    (re.compile(r"/api/jobs/[^/]+/(log|asks)"), people.Action.LOG),
    (re.compile(r"/api/jobs/[^/]+/(errands|remedies|variants)|/api/errands/[^/]+"), people.Action.READ),
    (re.compile(r"/language|/sign-in|/sign-out|/people/passphrase|/pair/[^/]+"), people.Action.READ),
    (re.compile(r"/pair|/sessions/[^/]+/end"), people.Action.PAIR),
    (re.compile(r"/people(/.*)?"), people.Action.PEOPLE),
)
"""What a change by POST, PUT, PATCH or DELETE needs, by its path; any other needs ``edit``."""

PROXY_HEADERS = ("forwarded", "x-forwarded-for", "x-real-ip", "via")
"""Headers of whoever passes a request on. They never give a right; they take away that of sitting at the machine."""


def needed(method: str, path: str) -> people.Action:
    """Return what somebody must be allowed to do to ask this."""
    if method in SAFE_METHODS:
        return people.Action.READ
    return next((action for pattern, action in CHANGES if pattern.fullmatch(path)), people.Action.EDIT)


def needs(action: str) -> Callable[[HTTPConnection], None]:
    """Return what a route depends on that needs more than its method tells: ``Depends(needs("people"))``."""
    wanted = people.Action(action)

    def asked_by(request: HTTPConnection) -> None:
        people.check(visitor_of(request).role, wanted)

    asked_by.__annotations__ = {"request": HTTPConnection, "return": None}
    return asked_by


def visitor_of(asked: HTTPConnection) -> people.Visitor:
    """Return who asks; raises RefusedError ``sign-in-needed`` for nobody who is known."""
    found = cast("people.Visitor | None", getattr(asked.state, "visitor", None))
    if found is None:
        raise RefusedError(Fault(where="", code="sign-in-needed"))
    return found


def is_at_the_machine(asked: HTTPConnection) -> bool:
    """Return whether whoever asks sits at this machine itself: by their address, by the name, and through nobody."""
    is_own = asked.client is not None and is_loopback(asked.client.host)
    is_named_so = name_of(asked.headers.get("host", "")) in LOOPBACK_NAMES
    return is_own and is_named_so and not any(name in asked.headers for name in PROXY_HEADERS)


def address_of(asked: HTTPConnection) -> str:
    """Return the address that asks."""
    return asked.client.host if asked.client else ""


def cookie_name(settings: Settings) -> str:
    """Return the name of the session's cookie; over https one that no other name or path can set."""
    return "__Host-evenfoot" if settings.is_https else "evenfoot-session"


_COOKIE_AGE = 400 * 86_400
"""How long a browser keeps the cookie [s]; how long it opens anything is settled in the store."""


def hand_over(found: Response, entry: people.Entry, settings: Settings) -> Response:
    """Give the token of a session to its browser, where no script can read it."""
    found.set_cookie(
        cookie_name(settings),
        entry.token,
        max_age=_COOKIE_AGE,
        path="/",
        secure=settings.is_https,
        httponly=True,
        samesite="lax",
    )
    return found


def take_back(found: Response, settings: Settings) -> Response:
    """Let the browser forget its token."""
    found.delete_cookie(cookie_name(settings), path="/", secure=settings.is_https, httponly=True, samesite="lax")
    return found


class Door:
    """Let in whoever has a session, and whoever sits at the machine while nobody needs a name."""

    def __init__(self, app: ASGIApp, *, keeper: Keeper) -> None:
        """Stand in front of an app."""
        self.app = app
        self.keeper = keeper

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Find out who asks, and pass the request on or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        asked = HTTPConnection(scope)
        state = scope.setdefault("state", {})
        state["visitor"], state["who"] = None, ""
        try:
            visitor = await who_asks(asked, self.keeper)
            if visitor is not None:
                state["visitor"], state["who"] = visitor, visitor.name
                people.check(visitor.role, needed(asked.scope["method"], asked.scope["path"]))
        except EvenfootError as error:
            found = await run_in_threadpool(refusal, asked, error)
            await found(scope, receive, send)
            return
        await self.app(scope, receive, send)


async def who_asks(asked: HTTPConnection, keeper: Keeper, *, is_seen: bool = True) -> people.Visitor | None:
    """Return who asks, None for a stranger before what is open to all; ``is_seen`` lets their session live on.

    Raises: RefusedError ``loopback-only``, ``sign-in-needed``, ``pairing-needed``.
    """
    at_machine = is_at_the_machine(asked)
    if keeper.settings.is_loopback_only and not at_machine:
        raise RefusedError(Fault(where="", code="loopback-only", found=address_of(asked)))
    token = asked.cookies.get(cookie_name(keeper.settings), "")
    known = partial(people.visitor_of, keeper.store, token, is_seen=is_seen)
    found = await run_in_threadpool(known) if token else None
    if found is not None:
        return found
    is_firm = await run_in_threadpool(keeper.is_firm)
    if at_machine and not is_firm:
        return people.AT_THE_MACHINE
    path = asked.scope["path"]
    if OPEN_TO_ALL.fullmatch(path) or (path == FIRST and at_machine):
        return None
    raise RefusedError(Fault(where="", code="sign-in-needed" if is_firm else "pairing-needed"))


async def is_still_in(asked: HTTPConnection) -> bool:
    """Return whether somebody who was let in a while ago would be let in now; asking does not count as being seen.

    A store that is away for a moment shuts nobody out: nothing can be read from it meanwhile either.
    """
    try:
        found = await who_asks(asked, keeper_of(asked), is_seen=False)
    except RefusedError:
        return False
    except StoreError:
        return True
    return found is not None


def refusal(asked: HTTPConnection, error: EvenfootError) -> Response:
    """Return the answer to whoever may not come in; a person gets the way in."""
    code, way = error.fault.code, ""
    if wants_page(asked) and asked.scope["method"] == "GET":
        way = {"sign-in-needed": "guard/sign-in.html", "pairing-needed": "guard/pairing-needed.html"}.get(code, "")
    facts = {"said": (), "back": asked.scope["path"]}
    found = show(asked, way, facts, status=401) if way else faults.answer(asked, error)
    if found.status_code == 401:
        # RFC 9110, 15.5.2: a 401 names its scheme. Ours is no registered one, so that a browser shows the page.
        found.headers["WWW-Authenticate"] = 'Session realm="evenfoot"'
    return found


def show(asked: HTTPConnection, name: str, facts: Mapping[str, object], *, status: int = 200) -> Response:
    """Return a page of the guard; none of them is ever kept by a browser."""
    is_first = not people.has_people(keeper_of(asked).store)
    found = page(
        name,
        speaker_of(asked),
        status=status,
        here=asked.scope["path"],
        visitor=getattr(asked.state, "visitor", None),
        is_first=is_first,
        at_machine=is_at_the_machine(asked),
        **facts,
    )
    found.headers["Cache-Control"] = "no-store"
    return found
