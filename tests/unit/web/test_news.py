"""Whoever listens to a job is told how it stands, what moves it, whoever moved it, and nothing of other jobs."""

from __future__ import annotations

import asyncio
from contextlib import aclosing

import pytest

from evenfoot.errors import Fault, StoreError
from evenfoot.office.desk import Head
from evenfoot.web.news import Item, Kind, News


class Shop:
    """A store as far as news look at it."""

    def __init__(self):
        self.heads = {1: Head(digest="a", lines=0), 2: Head(digest="x", lines=0)}
        self.looks = 0
        self.is_away = False

    def look(self, jobs):
        self.looks += 1
        if self.is_away:
            raise StoreError(Fault(where="store", code="store-busy"))
        return {job: head for job, head in self.heads.items() if job in jobs}


async def told(heard):
    """The next piece of news that is no breath."""
    while True:
        item = await asyncio.wait_for(anext(heard), 20)
        if item.kind is not Kind.BREATH:
            return item


def test_the_first_news_is_how_the_job_stands(run):
    async def listen():
        async with aclosing(News(Shop().look).listen(1)) as heard:
            return await told(heard)

    assert run(listen()) == Item(kind=Kind.STATE, head=Head(digest="a", lines=0))


@pytest.mark.slow
@pytest.mark.parametrize("is_nudged", [True, False], ids=["by this program", "by another program"])
def test_what_moves_a_job_is_told_and_other_jobs_are_not(run, is_nudged):
    async def listen():
        shop = Shop()
        news, found = News(shop.look), []
        async with aclosing(news.listen(1)) as heard:
            await told(heard)
            for head in (Head(digest="b", lines=0), Head(digest="b", lines=2), Head(digest="c", lines=3)):
                shop.heads |= {1: head, 2: Head(digest=f"x{head.digest}", lines=head.lines)}
                if is_nudged:
                    news.look_again()
                found += [await told(heard) for _ in range(1 + (head.digest == "c"))]
        return [(item.kind.value, item.head.digest, item.head.lines) for item in found]

    assert run(listen()) == [("state", "b", 0), ("log", "b", 2), ("state", "c", 3), ("log", "c", 3)]


@pytest.mark.slow
def test_a_store_that_is_away_for_a_moment_ends_no_line(run):
    async def listen():
        shop = Shop()
        news = News(shop.look)
        async with aclosing(news.listen(1)) as heard:
            await told(heard)
            shop.is_away = True
            news.look_again()
            await asyncio.sleep(0.2)
            shop.is_away, shop.heads = False, {1: Head(digest="b", lines=0)}
            return await told(heard)

    assert run(listen()).head.digest == "b"


def test_nothing_is_looked_at_once_nobody_listens_and_a_closed_line_ends(run):
    async def listen():
        shop = Shop()
        news = News(shop.look)
        async with aclosing(news.listen(1)) as heard:
            await told(heard)
        await asyncio.sleep(1.2)
        looks = shop.looks
        await asyncio.sleep(1.2)
        assert shop.looks == looks
        heard = news.listen(1)
        await told(heard)
        news.close()
        return [item async for item in heard]

    assert [item for item in run(listen()) if item.kind is not Kind.BREATH] == []
