"""What the tests of the page share."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor

import pytest


@pytest.fixture
def run():
    """Runs a coroutine to its end in a thread of its own: a browser opened by another test may hold this thread's loop."""

    def to_the_end(work):
        with ThreadPoolExecutor(1) as pool:
            return pool.submit(asyncio.run, work).result()

    return to_the_end
