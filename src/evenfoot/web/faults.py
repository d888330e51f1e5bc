"""How an error is answered: one table of statuses, one JSON shape, one page."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.requests import HTTPConnection, Request
from starlette.responses import JSONResponse, Response

from evenfoot.errors import (
    ConflictError,
    EvenfootError,
    Fault,
    JobFileError,
    NoSolutionError,
    OutOfRangeError,
    RefusedError,
    StoreError,
)
from evenfoot.web.paper import page, speaker_of, wants_page
from evenfoot.words import Speaker

STATUS: dict[type[EvenfootError], int] = {
    JobFileError: 422,
    OutOfRangeError: 422,
    NoSolutionError: 422,
    ConflictError: 409,
    RefusedError: 403,
    StoreError: 503,
    EvenfootError: 500,
}
"""The HTTP status of each kind of error; the first row that fits."""

STATUS_OF_CODE = {
    "request-unreadable": 400,
    "sign-in-needed": 401,
    "pairing-needed": 401,
    "sign-in-wrong": 401,
    "job-unknown": 404,
    "revision-unknown": 404,
    "person-unknown": 404,
    "session-unknown": 404,
    "pairing-unknown": 404,
    "page-unknown": 404,
    "station-unknown": 404,
    "drawing-unknown": 404,
    "sheet-unknown": 404,
    "errand-unknown": 404,
    "errand-not-done": 409,
    "errand-other": 404,
    "method-unknown": 405,
    "file-exists": 409,
    "person-exists": 409,
    "text-unkeepable": 422,
    "people-opened": 409,
    "last-owner": 409,
    "pairing-used": 410,
    "pairing-late": 410,
    "body-too-large": 413,
    "request-wrong": 422,
    "passphrase-short": 422,
    "host-unknown": 421,
    "tries-too-many": 429,
    "errands-too-many": 429,
    "loopback-only": 403,
    "unexpected": 500,
}
"""Codes whose status is not that of their kind."""


def status_of(error: EvenfootError) -> int:
    """Return the HTTP status of an error, by the code of its first fault, else by its kind."""
    by_kind = next(status for kind, status in STATUS.items() if isinstance(error, kind))
    return STATUS_OF_CODE.get(error.fault.code, by_kind)


def record_of(error: EvenfootError, speaker: Speaker) -> dict[str, Any]:
    """Return an error in the one JSON shape: ``{"error": {"faults": [...]}}``."""
    return {"error": {"faults": [fault_record(fault, speaker) for fault in error.faults]}}


def answer(asked: HTTPConnection, error: EvenfootError) -> Response:
    """Return what an error is answered with: a page for people, else JSON."""
    speaker, status = speaker_of(asked), status_of(error)
    found: Response
    if wants_page(asked):
        said = [speaker.fault(fault) for fault in error.faults]
        found = page("guard/fault.html", speaker, status=status, here=_here(asked), said=said)
    else:
        found = JSONResponse(record_of(error, speaker), status_code=status)
    found.headers["Cache-Control"] = "no-store"
    return found


def install(app: FastAPI) -> None:
    """Let every error of an app be answered in this shape, those of the framework too."""

    async def own(request: Request, error: Exception) -> Response:
        assert isinstance(error, EvenfootError)
        return answer(request, error)

    async def invalid(request: Request, error: Exception) -> Response:
        assert isinstance(error, RequestValidationError)
        return answer(request, RefusedError(*(_invalid(found) for found in error.errors())))

    async def known(request: Request, error: Exception) -> Response:
        assert isinstance(error, HTTPException)
        found = answer(request, RefusedError(_of_framework(request, error)))
        found.headers.update(error.headers or {})
        return found

    app.add_exception_handler(EvenfootError, own)
    app.add_exception_handler(RequestValidationError, invalid)
    app.add_exception_handler(HTTPException, known)


def _here(asked: HTTPConnection) -> str:
    """Return where to go back to after another language is chosen."""
    return str(asked.scope["path"]) if asked.scope.get("method") == "GET" else "/"


def unexpected(asked: HTTPConnection) -> Response:
    """Return the answer to a slip of ours: nothing of its inside is told."""
    return answer(asked, EvenfootError(Fault(where="", code="unexpected")))


def fault_record(fault: Fault, speaker: Speaker) -> dict[str, str]:
    """Return one fault as plain data, said in words."""
    return {
        "where": fault.where,
        "code": fault.code,
        "found": fault.found,
        "allowed": fault.allowed,
        "nearest": fault.nearest,
        "text": speaker.fault(fault),
    }


def _invalid(found: dict[str, Any]) -> Fault:
    """Return what the framework found wrong in a request; the value is cut short."""
    if found["type"] == "json_invalid":
        return Fault(where="body", code="request-unreadable")
    where = ".".join(str(part) for part in found["loc"])
    shown = "" if "passphrase" in where else str(found.get("input", ""))[:80]
    return Fault(where=where, code="request-wrong", found=shown, allowed=str(found["type"]))


def _of_framework(request: Request, error: HTTPException) -> Fault:
    """Return an error that the framework raised by itself as a fault."""
    if error.status_code == 404:
        return Fault(where="", code="page-unknown", found=request.url.path)
    if error.status_code == 405:
        return Fault(
            where="", code="method-unknown", found=request.method, allowed=(error.headers or {}).get("allow", "")
        )
    if error.status_code == 413:
        return Fault(where="", code="body-too-large")
    return Fault(where="", code="request-unreadable")
