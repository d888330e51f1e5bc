"""The site log by the API: its lines, and lines that come from a phone; and the news of a job as they happen."""

from __future__ import annotations

from collections.abc import AsyncIterator

from fastapi import APIRouter, Depends, Request
from fastapi.sse import EventSourceResponse, ServerSentEvent
from starlette.concurrency import run_in_threadpool

from evenfoot.office import desk
from evenfoot.web.api import shapes
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import hands_of, news_of, shelf_of, who_of
from evenfoot.web.guard import is_still_in
from evenfoot.web.hands import work
from evenfoot.web.paper import language_of, speaker_of

router = APIRouter(tags=["log"])


@router.get("/jobs/{job}/log")
def read(request: Request, job: JobNumber) -> shapes.Lines:
    """Return the lines of a job's log in the order in which they came."""
    return shapes.Lines(lines=list(shelf_of(request).state(job).texts.log))


@router.post("/jobs/{job}/log")
def add(request: Request, job: JobNumber, wanted: shapes.Lines) -> shapes.Added:
    """Add lines to the log: a union, so that sending them again adds nothing and none is ever lost."""
    shelf = shelf_of(request)
    before = shelf.state(job).texts.log
    added = shelf.add_lines(job, wanted.lines)
    if added:
        news_of(request).look_again()
    told = desk.differing(before, wanted.lines, speaker_of(request))
    return shapes.Added(added=added, differing=list(told))


@router.post("/jobs/{job}/asks")
async def ask(request: Request, job: JobNumber, wanted: shapes.AskedOnSite) -> shapes.SiteAnswerOut:
    """Answer a question on site; its readings become lines of the log once they are known to be sound."""
    shelf = shelf_of(request)
    texts = (await run_in_threadpool(shelf.state, job)).texts
    typed = {name: tuple(readings.items()) for name, readings in wanted.typed.items()}
    question = desk.Question(what=wanted.what, typed=typed, is_sure=wanted.is_sure, who=who_of(request))
    found = await hands_of(request).ask_in_peace(work.ask, texts, question, language_of(request))
    added = await run_in_threadpool(shelf.add_lines, job, found.new_lines)
    if added:
        news_of(request).look_again()
    return shapes.SiteAnswerOut(
        what=found.what, lines=list(found.lines), detail=list(found.detail), is_fine=found.is_fine, added=added
    )


def _known(request: Request, job: JobNumber) -> None:
    """Refuse a job that is not there before the line is opened."""
    shelf_of(request).state(job)


@router.get("/jobs/{job}/news", response_class=EventSourceResponse, dependencies=[Depends(_known)])
async def news(request: Request, job: JobNumber) -> AsyncIterator[ServerSentEvent]:
    """Tell how a job stands and what happens to it, as it happens; nothing once whoever listens may come in no more."""
    async for item in news_of(request).listen(job):
        if not await is_still_in(request):
            return
        head = {"digest": item.head.digest, "lines": item.head.lines} if item.head else {}
        yield ServerSentEvent(event=item.kind.value, data=head)
