"""Logs of one job put together: nothing is lost, order of bringing does not matter, the latest by the clock counts."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from evenfoot.job import Log, files
from evenfoot.office import pack

FACTS = st.builds(
    lambda minute, what, mark, value, who: json.dumps(
        {"time": f"2026-11-18T09:{minute:02d}", "what": what, "mark": mark, "value_mm": value, "who": who}
    ),
    st.integers(0, 59),
    st.sampled_from(("post-gap", "post-length", "foot-gap", "board-edge")),
    st.sampled_from(("A1", "B2")),
    st.integers(200, 204),
    st.sampled_from(("Aki", "Ben")),
)
LOGS = st.lists(FACTS, max_size=8, unique=True).map(lambda rows: files.parse_log("".join(f"{r}\n" for r in rows)))


def ids(lines):
    return {line.id for line in lines}


def joined(old: Log, brought: Log) -> Log:
    return Log(lines=(*old.lines, *pack.join_logs(old, brought).added))


@given(LOGS, LOGS)
def test_nothing_is_lost_and_nothing_is_rewritten(old, brought):
    whole = joined(old, brought)
    assert ids(whole.lines) == ids(old.lines) | ids(brought.lines)
    assert whole.lines[: len(old.lines)] == old.lines


@given(LOGS, LOGS)
def test_bringing_the_same_again_adds_nothing(old, brought):
    assert pack.join_logs(joined(old, brought), brought).added == ()


@given(LOGS, LOGS)
def test_a_reading_brought_never_wins_over_a_later_one(old, brought):
    whole = joined(old, brought)
    for what in ("post-gap", "board-edge"):
        for key, line in whole.latest(what).items():
            mine = old.latest(what).get(key)
            if mine is not None and line.id in ids(old.lines):
                assert line.id == mine.id, "among the log's own lines the same one counts as before"
            elif mine is not None:
                assert line.time >= mine.time


@given(LOGS, LOGS)
def test_a_reading_brought_counts_where_it_is_the_latest(old, brought):
    whole = joined(old, brought)
    last = max((line.time for line in old.lines), default="")
    for key, line in brought.latest("post-gap").items():
        news = [n for n in brought.lines if n.what == "post-gap" and n.key == key and n.id not in ids(old.lines)]
        if news and min(n.time for n in news) > last and line in news:
            assert whole.latest("post-gap")[key].time == max(n.time for n in news)
