"""The site log by the API: its lines, and lines that come from a phone; and the news of a job as they happen."""

from __future__ import annotations

from collections.abc import AsyncIterator

from fastapi import APIRouter, Request
from fastapi.sse import EventSourceResponse, ServerSentEvent

from evenfoot.web.api import shapes
from evenfoot.web.api.shapes import JobNumber
from evenfoot.web.asked import news_of, shelf_of

router = APIRouter(tags=["log"])


@router.get("/jobs/{job}/log")
def read(request: Request, job: JobNumber) -> shapes.Lines:
    """Return the lines of a job's log in the order in which they came."""
    return shapes.Lines(lines=list(shelf_of(request).state(job).texts.log))


@router.post("/jobs/{job}/log")
def add(request: Request, job: JobNumber, wanted: shapes.Lines) -> shapes.Added:
    """Add lines to the log: a union, so that sending them again adds nothing and none is ever lost."""
    shelf = shelf_of(request)
    added = shelf.add_lines(job, wanted.lines)
    if added:
        news_of(request).tell(job, shelf.state(job).digest)
    return shapes.Added(added=added)


@router.get("/jobs/{job}/news", response_class=EventSourceResponse)
async def news(request: Request, job: JobNumber) -> AsyncIterator[ServerSentEvent]:
    """Tell each state that comes to stand, as it happens."""
    async for digest in news_of(request).listen(job):
        yield ServerSentEvent(event="state" if digest else "breath", data={"digest": digest})
