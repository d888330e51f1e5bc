"""The list of jobs: search, begin, copy, put away, take in, give out."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, UploadFile
from starlette.responses import RedirectResponse, Response

from evenfoot.errors import Fault, JobFileError
from evenfoot.office import desk
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import shelf_of, who_of
from evenfoot.web.pages.shown import show
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter()


@router.get("/")
def jobs(request: Request, search: Annotated[str, Query(max_length=80)] = "", *, archived: bool = False) -> Response:
    """Show the jobs."""
    shelf = shelf_of(request)
    return show(
        request,
        "desk/jobs.html",
        cards=shelf.cards(search=search, has_archived=archived),
        search=search,
        archived=archived,
        stages=shelf.stages(),
        examples=desk.example_names(),
    )


@router.post("/jobs")
def begin(
    request: Request,
    name: Annotated[str, Form(max_length=80)] = "",
    standard: Annotated[str, Form(max_length=20)] = "japan",
    example: Annotated[str, Form(max_length=80)] = "",
) -> Response:
    """Begin a job from a blank or from an example, and go to it."""
    shelf, who = shelf_of(request), who_of(request)
    if example:
        return _to(shelf.begin_example(example, who=who))
    return _to(shelf.begin_blank(name, standard, language_of(request), who=who))


@router.post("/jobs/take-in")
async def take_in(request: Request, file: UploadFile) -> Response:
    """Take in a job file as it stands."""
    raw = await file.read()
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        fault = Fault(
            where=file.filename or "file",
            code="not-utf8",
            found=raw[error.start : error.start + 4].hex(" "),
            allowed="UTF-8",
        )
        raise JobFileError(fault) from error
    name = (file.filename or "").rpartition("/")[2].removesuffix(".toml")[:80]
    return _to(shelf_of(request).take_in(text, name=name, who=who_of(request)))


@router.post("/jobs/{job}/copy")
def copy(request: Request, job: JobNumber) -> Response:
    """Put a copy of a job beside it."""
    shelf = shelf_of(request)
    name = speaker_of(request).say("page.copy-of", name=shelf.state(job).card.name)
    return _to(shelf.copy(job, name[:80], who=who_of(request)))


@router.post("/jobs/{job}/archive")
def archive(request: Request, job: JobNumber, *, away: Annotated[bool, Form()]) -> Response:
    """Put a job away, or take it out again."""
    shelf_of(request).archive(job, is_archived=away)
    return RedirectResponse("/", status_code=303)


@router.post("/jobs/{job}/stage")
def stage(request: Request, job: JobNumber, stage: Annotated[str, Form(max_length=20)]) -> Response:
    """Say where a job stands."""
    shelf_of(request).set_stage(job, stage)
    return RedirectResponse("/", status_code=303)


@router.get("/jobs/{job}/job.toml")
def give_out(request: Request, job: JobNumber) -> Response:
    """Give a job's file out, byte for byte as it is kept."""
    state = shelf_of(request).state(job)
    name = quote(state.card.name, safe="")
    held = {"Content-Disposition": f"attachment; filename=\"job.toml\"; filename*=UTF-8''{name}.toml"}
    return Response(state.texts.job.encode(), media_type="application/toml", headers=held)


@router.get("/jobs/{job}/log.jsonl")
def give_out_log(request: Request, job: JobNumber) -> Response:
    """Give a job's log out."""
    lines = shelf_of(request).state(job).texts.log
    return Response("".join(f"{line}\n" for line in lines).encode(), media_type="application/jsonl")


def _to(job: int) -> Response:
    return RedirectResponse(f"/jobs/{job}/at/site", status_code=303)
