"""The hands beside the page: each job has its own, a newer look overtakes, a broken one begins anew, all go at the end."""

from __future__ import annotations

import asyncio
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from evenfoot.errors import Fault, OutOfRangeError, RefusedError, StoreError
from evenfoot.web.hands import Errands, ErrandState, Hands, SupersededError

pytestmark = pytest.mark.slow


def pid_of(*_facts):
    return os.getpid()


def wait_for(path, told):
    while not Path(path).exists():
        time.sleep(0.02)
    return told


def refuse():
    raise OutOfRangeError(Fault(where="x", code="not-a-choice", found="y", nearest="z"))


@pytest.fixture
def hands():
    made = Hands(2)
    yield made
    made.close()


def test_a_job_keeps_its_hand_and_others_have_another(hands, run):
    async def ask():
        return [await hands.ask(job, pid_of) for job in (1, 2, 1, 3)]

    first, second, again, third = run(ask())
    assert first == again == third != second
    assert os.getpid() not in {first, second}


def test_only_the_newest_look_of_a_seat_is_answered_and_others_are_left_alone(hands, tmp_path, run):
    async def ask():
        gate = str(tmp_path / "gate")
        at_work = asyncio.create_task(hands.ask(1, wait_for, gate, "first", seat="a"))
        await asyncio.sleep(0.1)
        asked = [hands.ask(1, wait_for, gate, n, seat=seat) for n, seat in ((2, "a"), (3, "b"), (4, "a"), (5, ""))]
        waiting = asyncio.gather(*asked, return_exceptions=True)
        await asyncio.sleep(0.1)
        await asyncio.to_thread((tmp_path / "gate").touch)
        return await at_work, await waiting

    first, (second, third, fourth, fifth) = run(ask())
    assert isinstance(second, SupersededError)
    assert (first, third, fourth, fifth) == ("first", 3, 4, 5)


@pytest.mark.parametrize(("is_ending", "error"), [(True, SupersededError), (False, asyncio.CancelledError)])
def test_a_look_that_is_cut_off_when_the_program_ends_is_no_fault(hands, tmp_path, run, is_ending, error):
    async def ask():
        gate = str(tmp_path / "gate")
        waiting = [asyncio.create_task(hands.ask(1, wait_for, gate, n)) for n in range(2)]
        await asyncio.sleep(0.1)
        if is_ending:
            hands.let_go()
        for task in waiting:
            task.cancel()
        found = await asyncio.gather(*waiting, return_exceptions=True)
        await asyncio.to_thread((tmp_path / "gate").touch)
        return found

    assert [type(one) for one in run(ask())] == [error, error]


def test_an_error_of_ours_comes_back_with_all_its_facts(hands, run):
    with pytest.raises(OutOfRangeError) as told:
        run(hands.ask(1, refuse))
    assert told.value.fault == Fault(where="x", code="not-a-choice", found="y", nearest="z")


def test_a_hand_that_was_killed_begins_anew(hands, run):
    async def ask():
        before = await hands.ask(1, pid_of)
        os.kill(before, signal.SIGKILL)
        return before, await hands.ask(1, pid_of)

    before, after = run(ask())
    assert before != after


PARENT = """
import asyncio, os, time
from evenfoot.web.hands import Hands
if __name__ == "__main__":
    print(asyncio.run(Hands(1).ask(0, os.getpid)), flush=True)
    time.sleep(600)
"""


def test_no_hand_outlives_the_page_that_was_killed(tmp_path):
    script = tmp_path / "page.py"
    script.write_text(PARENT)
    page = subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True)
    hand = int(page.stdout.readline())
    page.kill()
    page.wait(30)
    until = time.monotonic() + 60
    while time.monotonic() < until and is_there(hand):
        time.sleep(0.05)
    assert not is_there(hand)


def is_there(pid):
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return Path(f"/proc/{pid}/stat").read_text().split()[2] != "Z"


def tell_and_wait(gate, *, on_stage):
    on_stage("sheets")
    return wait_for(gate, {"a.txt": b"done"})


def refuse_late(*, on_stage):
    on_stage("site")
    refuse()


def fall_over(*, on_stage):
    os._exit(3)


@pytest.fixture
def errands():
    made = Errands()
    yield made
    made.close()


def until(errand, claim):
    end = time.monotonic() + 90
    while time.monotonic() < end and not claim(errand):
        time.sleep(0.02)
    assert claim(errand), errand


def test_an_errand_tells_its_stage_and_brings_its_result(errands, tmp_path):
    errand = errands.send(1, "x", tell_and_wait, str(tmp_path / "gate"))
    until(errand, lambda e: e.stage == "sheets")
    assert errand.state is ErrandState.AT_WORK
    (tmp_path / "gate").touch()
    until(errand, lambda e: e.is_over)
    assert (errand.state, errand.result) == (ErrandState.DONE, {"a.txt": b"done"})


def test_a_stopped_errand_ends_its_process_and_the_next_one_goes_on(errands, tmp_path):
    stuck = errands.send(1, "x", tell_and_wait, str(tmp_path / "never"))
    after = errands.send(1, "x", tell_and_wait, str(tmp_path / "gate"))
    (tmp_path / "gate").touch()
    until(stuck, lambda e: e.stage == "sheets")
    assert after.state is ErrandState.WAITING
    assert errands.stop(stuck.token).state is ErrandState.STOPPED
    until(after, lambda e: e.is_over)
    assert after.state is ErrandState.DONE
    assert not stuck.process.is_alive()


@pytest.mark.parametrize(("work", "code"), [(refuse_late, "not-a-choice"), (fall_over, "errand-broke-off")])
def test_an_errand_that_goes_wrong_says_why(errands, work, code):
    errand = errands.send(1, "x", work)
    until(errand, lambda e: e.is_over)
    assert (errand.state, [f.code for f in errand.faults]) == (ErrandState.WRONG, [code])


def test_errands_that_are_over_are_not_kept_for_ever(errands):
    sent = [errands.send(1, "x", fall_over) for _ in range(2)]
    for errand in sent:
        errands.stop(errand.token)
    for _ in range(13):
        errands.stop(errands.send(1, "x", fall_over).token)
    with pytest.raises(StoreError) as told:
        errands.find(sent[0].token)
    assert told.value.fault.code == "errand-unknown"


def test_no_more_errands_wait_than_can_be_seen_through(errands, tmp_path):
    gate = str(tmp_path / "gate")
    sent = [errands.send(1, "x", tell_and_wait, gate) for _ in range(8)]
    with pytest.raises(RefusedError) as refused:
        errands.send(1, "x", tell_and_wait, gate)
    assert refused.value.fault.code == "errands-too-many"
    errands.stop(sent[-1].token)
    assert errands.send(1, "x", tell_and_wait, gate).token
