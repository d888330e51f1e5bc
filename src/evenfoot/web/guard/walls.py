"""The walls around every page: headers, the name it is called by, where a change comes from, how much it brings."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import HTTPConnection
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from evenfoot.errors import Fault, RefusedError
from evenfoot.web import faults
from evenfoot.web.guard.settings import LOOPBACK_NAMES, Settings, name_of

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS", "TRACE"})
"""Methods that change nothing (RFC 9110, 9.2.1)."""

SOURCES = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "form-action": "'self'",
    "frame-ancestors": "'none'",
    "base-uri": "'none'",
}
"""What a page may load: its own files, nothing else, and nothing written into the page itself."""

HEADERS = {
    "Content-Security-Policy": "; ".join(f"{kind} {places}" for kind, places in SOURCES.items()),
    "X-Content-Type-Options": "nosniff",
    # Not no-referrer: a browser then sends "Origin: null" with a form, and on plain http that is all it sends.
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
"""What every answer says to the browser. An answer that brings its own value of one keeps it."""

YEAR = 31_536_000
"""A year [s]."""
_DIGITS = 15
"""A length of more digits is too large whatever it is."""


def secure(asked: HTTPConnection, headers: MutableHeaders, settings: Settings) -> None:
    """Add the guard's headers to those of an answer.

    On plain http away from loopback a browser has no use for an opener policy and complains of one. ``localhost`` is
    never told to stay https: that would hold for every other program that this machine serves there.
    """
    for name, value in HEADERS.items():
        headers.setdefault(name, value)
    is_own_name = name_of(asked.headers.get("host", "")) in LOOPBACK_NAMES
    if settings.is_https or is_own_name:
        headers.setdefault("Cross-Origin-Opener-Policy", "same-origin")
    if settings.is_https and not is_own_name:
        headers.setdefault("Strict-Transport-Security", f"max-age={YEAR}")


class Walls:
    """Let a request in when it calls this machine by its name, changes from its own pages and brings not too much."""

    def __init__(self, app: ASGIApp, *, settings: Settings) -> None:
        """Stand around an app."""
        self.app = app
        self.settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it; every answer gets the guard's headers."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            # The page has no use for other kinds of link; none is let in unchecked.
            await send({"type": "websocket.close", "code": 1008})
            return

        asked = HTTPConnection(scope)

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                secure(asked, MutableHeaders(scope=message), self.settings)
            await send(message)

        wrong = _host(asked, self.settings) or _origin(asked) or _declared(asked.headers, self.settings.body_limit)
        if wrong is None:
            body = await _body(receive, self.settings.body_limit) if _has_body(asked.headers) else receive
            if body is not None:
                await self.app(scope, body, guarded)
                return
            wrong = _too_large(self.settings.body_limit)
        await faults.answer(asked, RefusedError(wrong))(scope, receive, guarded)


def _host(asked: HTTPConnection, settings: Settings) -> Fault | None:
    """Refuse to be called by a stranger's name: that is how a page elsewhere would reach into this machine."""
    host = asked.headers.get("host", "")
    reached = str((asked.scope.get("server") or ("",))[0])
    if len(asked.headers.getlist("host")) == 1 and settings.knows_host(host, reached):
        return None
    return Fault(where="", code="host-unknown", found=host[:80])


def _origin(asked: HTTPConnection) -> Fault | None:
    """Refuse a change that does not come from one of our own pages.

    Source: Fetch Metadata Request Headers (W3C), 2.4 ``Sec-Fetch-Site``; the Fetch standard, ``Origin`` header.
    On plain http away from loopback a browser sends no ``Sec-Fetch-Site``; then ``Origin`` must be our own.
    """
    if asked.scope["method"] in SAFE_METHODS:
        return None
    site = asked.headers.get("sec-fetch-site")
    origin = asked.headers.get("origin", "")
    own = f"{asked.scope.get('scheme', 'http')}://{asked.headers.get('host', '')}"
    is_own = site in {"same-origin", "none"} if site is not None else origin.lower() == own.lower()
    return None if is_own else Fault(where="", code="other-origin", found=(site or origin)[:80])


def _has_body(headers: Headers) -> bool:
    return "transfer-encoding" in headers or headers.get("content-length", "0") != "0"


def _declared(headers: Headers, limit: int) -> Fault | None:
    """Refuse at once what says itself that it is too large."""
    length = headers.get("content-length", "0")
    if not (length.isascii() and length.isdigit()):
        return Fault(where="", code="request-unreadable")
    is_huge = len(length) > _DIGITS or int(length) > limit
    return _too_large(limit) if is_huge else None


def _too_large(limit: int) -> Fault:
    return Fault(where="", code="body-too-large", allowed=f"{limit // 1000} kB")


async def _body(receive: Receive, limit: int) -> Receive | None:
    """Return what hands out the whole body again, or None when more than ``limit`` bytes came.

    It is counted before anything reads it, so that a body without a declared length is limited too.
    """
    parts: list[Message] = []
    size, has_more = 0, True
    while has_more:
        message = await receive()
        parts.append(message)
        size += len(message.get("body", b""))
        has_more = message["type"] == "http.request" and message.get("more_body", False)
        if size > limit:
            return None
    queue = iter(parts)

    async def again() -> Message:
        return next(queue, None) or await receive()

    return again
